package difference

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/layout"
)

// matchLooks makes chains one that no track work tells apart, by their length and by what stands on them where; those
// that look alike in all that are taken in the order of the files.
func (d *Difference) matchLooks() {
	index := func(s *side) (keys []string, at map[string][]chain) {
		at = map[string][]chain{}
		for _, c := range s.chains {
			if !s.looseChain(c.links) {
				continue
			}
			metres, _ := s.length(c.links)
			key := fmt.Sprintf("%t %.3f %d %s", c.ring, metres, len(c.links), strings.Join(s.contents(c), ";"))
			if at[key] == nil {
				keys = append(keys, key)
			}
			at[key] = append(at[key], c)
		}
		return keys, at
	}
	keys, old := index(d.old)
	_, now := index(d.new)
	for _, key := range keys {
		for i := range min(len(old[key]), len(now[key])) {
			d.lay(d.old.ruler(old[key][i].links), d.new.ruler(now[key][i].links))
		}
	}
}

// fits counts what two chains have alike when the one is laid on the other.
func (d *Difference) fits(old, now chain) int {
	n := 0
	there := map[string]int{}
	for _, x := range d.old.contents(old) {
		there[x]++
	}
	for _, x := range d.new.contents(now) {
		if there[x] > 0 {
			there[x]--
			n++
		}
	}
	for i := range min(len(old.links), len(now.links)) {
		if d.old.l.Tracks[old.links[i].track].Name == d.new.l.Tracks[now.links[i].track].Name {
			n++
		}
	}
	return n
}

// contents lists, in words, what stands where on a chain as it is walked, and how its ends are; sorted.
func (s *side) contents(c chain) []string {
	var out []string
	if !c.ring {
		for e := range c.ends {
			if c.ends[e].at.Piece < 0 {
				out = append(out, fmt.Sprintf("end %d %d", e, c.ends[e].dead))
			}
		}
	}
	for _, x := range s.standing(s.ruler(c.links)) {
		out = append(out, fmt.Sprintf("%s %.3f", x.what, x.at))
	}
	slices.Sort(out)
	return out
}

// item is something at a place of a ruler. The heavier it is the surer is what is alike in it the same.
type item struct {
	what   string
	at     float64
	weight int
}

// items are what stands on a row of tracks, and where they begin and end.
func (s *side) items(ps []placed) []item {
	out := s.standing(ps)
	for _, k := range ps {
		t := &s.l.Tracks[k.track]
		ends := [2]float64{k.at, k.at + k.length}
		out = append(out, item{"joint", k.at, 1})
		for _, x := range t.Stands {
			at := x.At.Mid() + x.Length.Mid()/2
			if k.backwards {
				at = k.length - at
			}
			out = append(out, item{"stands " + s.token(KindPiece, int32(x.Piece)), k.at + at, 8})
		}
		if k.backwards {
			ends[0], ends[1] = ends[1], ends[0]
		}
		out = append(out, item{fmt.Sprintf("start of %s %t", t.Name, k.backwards), ends[0], 3}, item{fmt.Sprintf("end of %s %t", t.Name, k.backwards), ends[1], 2})
	}
	return out
}

// standing are the gaps and feeders on a row of tracks, as seen along it.
func (s *side) standing(ps []placed) (out []item) {
	on := map[layout.PieceID]placed{}
	for _, k := range ps {
		on[s.l.Tracks[k.track].Piece] = k
	}
	add := func(p layout.Place, rail layout.Rail, what string) {
		if p.Piece < 0 || p.End >= 0 || !s.isTrack(p.Piece) {
			return
		}
		k, found := on[p.Piece]
		if !found {
			return
		}
		at := p.At.Mid()
		if k.backwards {
			at, rail = k.length-at, rail.Other()
		}
		out = append(out, item{fmt.Sprintf("%s %d", what, rail), k.at + at, 4})
	}
	for i := range s.l.Gaps {
		g := &s.l.Gaps[i]
		switch g.Rails {
		case layout.LeftRail:
			add(g.Place, layout.Left, fmt.Sprint("gap in one rail ", g.Kind))
		case layout.RightRail:
			add(g.Place, layout.Right, fmt.Sprint("gap in one rail ", g.Kind))
		default: // seen alike from both ends
			add(g.Place, layout.Left, fmt.Sprint("gap in both ", g.Kind))
			add(g.Place, layout.Right, fmt.Sprint("gap in both ", g.Kind))
		}
	}
	for i := range s.l.Feeders {
		f := &s.l.Feeders[i]
		add(f.Place, f.ARail, fmt.Sprintf("feeder %.3f %.3f", f.From[0].At.Mid(), f.From[1].At.Mid()))
	}
	return out
}
