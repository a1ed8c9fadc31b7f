package districts

import (
	"slices"

	"gapwise/netlist/circuit"
)

// Undeclared is a block as wired that no block as meant covers.
type Undeclared struct {
	Zone   int32
	Length float64    // metres of track, track work included
	On     []Interval // its lengths of plain track, by track
	Beside []int32    // the blocks as meant beyond its gaps, rising
}

// Undeclared lists the track that insulated gaps close in and that no block is meant to
// cover by more than a stub, where it is itself longer than that.
func (t *Trace) Undeclared() []Undeclared {
	var out []Undeclared
	for i := range t.Zones.List {
		z := &t.Zones.List[i]
		gapped := slices.ContainsFunc(z.Bounds, func(k int32) bool { return t.C.Ways[k].Kind == circuit.WayCut })
		if !gapped || z.Length <= stub+1e-6 || z.claimed() > stub {
			continue
		}
		u := Undeclared{Zone: int32(i), Length: z.Length}
		for _, k := range z.Ways {
			if w := &t.C.Ways[k]; w.Kind == circuit.WayTrack {
				u.On = append(u.On, t.interval(w))
			}
		}
		u.On = joinIntervals(u.On)
		for _, k := range z.Bounds {
			w := &t.C.Ways[k]
			for _, s := range [2]int32{w.A, w.B} {
				for _, m := range t.Zones.List[t.Zones.Of[s]].Meant {
					if m.Length > stub && !slices.Contains(u.Beside, m.Block) {
						u.Beside = append(u.Beside, m.Block)
					}
				}
			}
		}
		slices.Sort(u.Beside)
		out = append(out, u)
	}
	return out
}

// DeclaredShare is how much of a layout's track lies in blocks as wired that some block as
// meant covers: 0 none, 1 all.
func (t *Trace) DeclaredShare() float64 {
	declared, all := 0.0, 0.0
	for i := range t.Zones.List {
		z := &t.Zones.List[i]
		all += z.Length
		if z.claimed() > stub {
			declared += z.Length
		}
	}
	if all == 0 {
		return 0
	}
	return declared / all
}

// claimed is how much of a zone blocks as meant cover, in metres.
func (z *Zone) claimed() float64 {
	m := 0.0
	for _, s := range z.Meant {
		m += s.Length
	}
	return m
}
