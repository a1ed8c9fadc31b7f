package districts

import (
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// Sections are the parts of the track joined by metal in at least one rail. Inside a
// section the sense of each spot against the section's first spot follows from topology.
type Sections struct {
	Of     []int32 // by spot: the section, named by its least spot
	Turned []bool  // by spot: left and right are swapped against the section's own sense
	Odd    []int32 // ways that close a ring in which left becomes right
	cut    []bool  // by way: treated as parted (a missing gap already explained)
}

// hasMetal reports whether a way is metal in at least one rail, an uncertain joint included.
func hasMetal(w *circuit.Way) bool {
	switch w.Kind {
	case circuit.WayPit:
		return false
	case circuit.WayThrough:
		return true
	default:
		return w.Metal[0] != circuit.Open || w.Metal[1] != circuit.Open
	}
}

// isHalfGap reports whether exactly one rail is cut by a gap while the other goes on.
func isHalfGap(w *circuit.Way) bool {
	return w.Kind == circuit.WayCut && (w.Metal[0] == circuit.Open) != (w.Metal[1] == circuit.Open)
}

// isGap reports whether both rails are cut: wheels bridge it, metal does not.
func isGap(w *circuit.Way) bool {
	return w.Kind == circuit.WayCut && w.Metal[0] == circuit.Open && w.Metal[1] == circuit.Open
}

// newSections joins whole track first and half gaps last, so that in a ring that turns
// its rails over a half gap is blamed before whole rail is. cut marks ways taken as parted; it
// may be nil.
func newSections(c *circuit.Circuit, cut []bool) *Sections {
	if cut == nil {
		cut = make([]bool, len(c.Ways))
	}
	p := newParityFind(len(c.Spots))
	s := &Sections{cut: cut}
	for _, half := range [2]bool{false, true} {
		for i := range c.Ways {
			w := &c.Ways[i]
			if cut[i] || !hasMetal(w) || isHalfGap(w) != half {
				continue
			}
			if !p.union(w.A, w.B, w.Turned) {
				s.Odd = append(s.Odd, int32(i))
			}
		}
	}
	s.Of, s.Turned = make([]int32, len(c.Spots)), make([]bool, len(c.Spots))
	for i := range s.Of {
		s.Of[i], s.Turned[i] = p.find(int32(i))
	}
	return s
}

// sense of a rail at a spot: the same for every rail of a section that is one line.
func (s *Sections) sense(spot int32, r layout.Rail) layout.Rail {
	if s.Turned[spot] {
		return r.Other()
	}
	return r
}

// HalfGap reports whether exactly one rail of a way is cut by a gap while the other goes on.
func HalfGap(w *circuit.Way) bool { return isHalfGap(w) }
