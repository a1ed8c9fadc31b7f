package split

import (
	"slices"

	"gapwise/netlist/quantity"
)

// nameTrack says which blocks, and which track in no block, each district has.
func (x *instance) nameTrack(out *Answer) {
	g := x.atoms.g
	for d := range out.Districts {
		var in []int32
		for _, n := range out.Districts[d].atoms {
			in = append(in, x.atoms.list[n].blocks...)
		}
		slices.Sort(in)
		for _, b := range slices.Compact(in) {
			out.Districts[d].Blocks = append(out.Districts[d].Blocks, g.l.Blocks[b].Name)
		}
	}
	for d := range out.Districts {
		x.nameBare(&out.Districts[d])
	}
}

// nameBare lists the track of a district that is in no block.
func (x *instance) nameBare(d *District) {
	g := x.atoms.g
	type part struct{ from, to float64 }
	for t := range g.l.Tracks {
		var parts []part
		for _, i := range g.spanAt[t] {
			s := &g.spans[i]
			if n := x.atoms.of[s.point]; n < 0 || !d.has(n) || len(g.claims.of(s.track, s.from, s.to)) > 0 {
				continue
			}
			if k := len(parts); k > 0 && s.from-parts[k-1].to < stub {
				parts[k-1].to = s.to
			} else {
				parts = append(parts, part{s.from, s.to})
			}
		}
		tr := &g.l.Tracks[t]
		for _, p := range parts {
			switch {
			case p.to-p.from <= stub:
			case p.from <= stub && p.to >= tr.Length.Mid()-stub:
				d.Tracks = append(d.Tracks, tr.Name)
			default:
				d.Tracks = append(d.Tracks, tr.Name+" @ "+quantity.FormatPlace(p.from)+" .. "+quantity.FormatPlace(p.to))
			}
		}
	}
}

func (d *District) has(atom int32) bool { return slices.Contains(d.atoms, atom) }
