package districts

import (
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// BondTie is a bond wire that joins what should be apart: two districts, or what a
// detector sees and what it does not.
type BondTie struct {
	Bond    int32
	Classes [2]int32 // sources, or detectors with -1 for none
	Spots   [2]int32
}

// bondWire is one wire of a bond, by where it meets the rails.
type bondWire struct {
	bond  int32
	spots [2]int32
	rails [2]layout.Rail
}

// bondWires lists the wires of all bonds.
func bondWires(c *circuit.Circuit) []bondWire {
	if len(c.Layout.Bonds) == 0 {
		return nil
	}
	at := map[int32]int32{} // spot by node, for the nodes that bonds touch
	var wires []*circuit.Conductor
	for i := range c.Conductors {
		if k := &c.Conductors[i]; k.Kind == circuit.BondWire {
			at[k.A], at[k.B] = -1, -1
			wires = append(wires, k)
		}
	}
	for s := range c.Spots {
		for _, n := range c.Spots[s].Node {
			if _, found := at[n]; found {
				at[n] = int32(s)
			}
		}
	}
	var out []bondWire
	for _, k := range wires {
		w := bondWire{bond: k.Ref, spots: [2]int32{at[k.A], at[k.B]}}
		for side, n := range [2]int32{k.A, k.B} {
			if c.Spots[w.spots[side]].Node[layout.Right] == n {
				w.rails[side] = layout.Right
			}
		}
		out = append(out, w)
	}
	return out
}

// bondClasses finds the bonds that join two classes of feeding: joins says which ways
// hold track together, class a feeder's class, carries which bond wires count. A bond to
// track without a class passes its class on.
func bondClasses(c *circuit.Circuit, wires []bondWire, feeds []Feed, joins func(way int32) bool, class func(f *Feed) (int32, bool), carries func(w *bondWire) bool) []BondTie {
	if len(wires) == 0 {
		return nil
	}
	u := newUnionFind(len(c.Spots))
	for i := range c.Ways {
		if joins(int32(i)) {
			u.union(c.Ways[i].A, c.Ways[i].B)
		}
	}
	of := map[int32]int32{}
	for i := range feeds {
		if f := &feeds[i]; f.Spot >= 0 {
			if x, ok := class(f); ok {
				if _, known := of[u.find(f.Spot)]; !known {
					of[u.find(f.Spot)] = x
				}
			}
		}
	}
	var out []BondTie
	for i := range wires {
		w := &wires[i]
		if !carries(w) {
			continue
		}
		a, b := u.find(w.spots[0]), u.find(w.spots[1])
		x, fedA := of[a]
		y, fedB := of[b]
		switch {
		case a == b:
		case fedA && fedB && x != y:
			if !slices.ContainsFunc(out, func(t BondTie) bool { return t.Bond == w.bond }) {
				out = append(out, BondTie{Bond: w.bond, Classes: [2]int32{x, y}, Spots: w.spots})
			}
		default:
			u.union(a, b)
			if fedB {
				x = y
			}
			if fedA || fedB {
				of[u.find(a)] = x
			}
		}
	}
	return out
}

// districtBonds finds the bonds that tie two districts.
func (t *Trace) districtBonds(stray map[int32]bool) []BondTie {
	return bondClasses(t.C, t.bonds, t.Feeds,
		func(w int32) bool { return hasMetal(&t.C.Ways[w]) && !t.Cut[w] && !t.common(w) },
		func(f *Feed) (int32, bool) { return f.Source(), f.Source() >= 0 && !stray[f.Feeder] },
		func(w *bondWire) bool {
			return !commonAt(t.C, w.spots[0], w.rails[0]) || !commonAt(t.C, w.spots[1], w.rails[1])
		})
}

// detectorBonds finds the bonds that lead a leg past the detector that watches it.
func (t *Trace) detectorBonds(leg layout.Leg) []BondTie {
	named := map[int32]bool{}
	for i := range t.BondTies {
		named[t.BondTies[i].Bond] = true
	}
	cut := map[int32]bool{}
	for i := range t.DetectorTies {
		if t.DetectorTies[i].Cut >= 0 {
			cut[t.DetectorTies[i].Cut] = true
		}
	}
	rail := func(spot int32) (layout.Rail, bool) {
		a, ok := t.Polarity.ARail(spot)
		if leg == layout.B {
			a = a.Other()
		}
		return a, ok
	}
	return bondClasses(t.C, t.bonds, t.Feeds,
		func(k int32) bool {
			w := &t.C.Ways[k]
			r, ok := rail(w.A)
			return ok && hasMetal(w) && !t.Cut[k] && !cut[k] && (w.Kind == circuit.WayThrough || w.Metal[r] != circuit.Open)
		},
		func(f *Feed) (int32, bool) { return f.Detector[leg], f.Wired[leg] && f.Legs[leg].Source >= 0 },
		func(w *bondWire) bool {
			r, ok := rail(w.spots[0])
			return ok && r == w.rails[0] && !named[w.bond]
		})
}

// feedingBonds are the bond wires that tie nothing that should be apart.
func (t *Trace) feedingBonds() []bondWire {
	return slices.DeleteFunc(slices.Clone(t.bonds), func(w bondWire) bool {
		return slices.ContainsFunc(t.BondTies, func(b BondTie) bool { return b.Bond == w.bond })
	})
}

// bond joins to a section what bonds feed and no feeder does, so that its rails have
// the sense of what feeds them. Returns s.
func (s *Sections) bond(wires []bondWire, feeds []Feed) *Sections {
	if len(wires) == 0 {
		return s
	}
	fed := map[int32]bool{}
	for i := range feeds {
		if feeds[i].Spot >= 0 {
			fed[s.Of[feeds[i].Spot]] = true
		}
	}
	p := newParityFind(len(s.Of))
	for spot := range s.Of {
		p.union(int32(spot), s.Of[spot], s.Turned[spot] != s.Turned[s.Of[spot]])
	}
	for _, w := range wires {
		a, _ := p.find(w.spots[0])
		b, _ := p.find(w.spots[1])
		if a == b || (fed[a] && fed[b]) {
			continue
		}
		p.union(w.spots[0], w.spots[1], w.rails[0] != w.rails[1])
		if root, _ := p.find(a); fed[a] || fed[b] {
			fed[root] = true
		}
	}
	for spot := range s.Of {
		s.Of[spot], s.Turned[spot] = p.find(int32(spot))
	}
	return s
}
