package districts

import (
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// common reports whether a one-rail gap is meant: the other rail is a declared common
// there. Beside a reverser, or between districts one of which hangs from a breaker or
// changeover that opens both legs, it is not.
func (t *Trace) common(way int32) bool {
	w := &t.C.Ways[way]
	if !isHalfGap(w) || !declaredCommon(t.C, w, wholeRail(w)) {
		return false
	}
	near, far := t.sourcesBeside(w.A), t.sourcesBeside(w.B)
	if slices.Equal(near, far) {
		return true
	}
	return !slices.ContainsFunc(append(near, far...), func(s int32) bool {
		return t.C.Sources[s].Free || t.opens(&t.C.Sources[s], way)
	})
}

// opens reports whether a breaker says that it opens both legs, or just that of the rail that goes
// on at a one-rail gap; of a changeover, whether it does not say that it leaves that leg alone.
func (t *Trace) opens(s *circuit.Source, way int32) bool {
	w := &t.C.Ways[way]
	common := layout.OpensUnsaid // the leg that the rail carries, where metal tells
	for n, l := range t.Legs(t.C.Spots[w.A].Node[wholeRail(w)]) {
		leg := [2]layout.Opens{layout.OpensA, layout.OpensB}[l.Leg]
		if n > 0 && leg != common {
			common = layout.OpensUnsaid
			break
		}
		common = leg
	}
	switch s.Kind {
	case circuit.BreakerSource:
		opens := t.C.Layout.Breakers[s.Ref].Opens
		return opens == layout.OpensBoth || (opens == common && common != layout.OpensUnsaid)
	case circuit.ChangeoverSource:
		opens := t.C.Layout.Changeovers[s.Ref].Opens
		return (opens != layout.OpensA && opens != layout.OpensB) || opens == common
	default:
		return false
	}
}

// CommonDeclared reports whether the rail that goes on at a one-rail gap is declared
// common, whether or not it may be there.
func (t *Trace) CommonDeclared(way int32) bool {
	w := &t.C.Ways[way]
	return isHalfGap(w) && declaredCommon(t.C, w, wholeRail(w))
}

func wholeRail(w *circuit.Way) layout.Rail {
	if w.Metal[layout.Left] == circuit.Open {
		return layout.Right
	}
	return layout.Left
}

// sourcesBeside lists the sources that feed the track round a spot up to the next gap in
// either rail, rising.
func (t *Trace) sourcesBeside(spot int32) []int32 {
	seen := map[int32]bool{spot: true}
	queue := []int32{spot}
	for len(queue) > 0 {
		s := queue[0]
		queue = queue[1:]
		for _, k := range t.Ways.Of(s) {
			w := &t.C.Ways[k]
			if isGap(w) || isHalfGap(w) || w.Kind == circuit.WayPit {
				continue
			}
			if o := w.A + w.B - s; !seen[o] {
				seen[o] = true
				queue = append(queue, o)
			}
		}
	}
	var out []int32
	for i := range t.Feeds {
		if f := &t.Feeds[i]; f.Spot >= 0 && seen[f.Spot] && f.Source() >= 0 && !slices.Contains(out, f.Source()) {
			out = append(out, f.Source())
		}
	}
	slices.Sort(out)
	return out
}

// declaredCommon reports whether `common-rail` names a rail at a way's place.
func declaredCommon(c *circuit.Circuit, w *circuit.Way, whole layout.Rail) bool {
	return commonAt(c, w.A, whole)
}

// commonAt reports whether `common-rail` names a rail at a spot.
func commonAt(c *circuit.Circuit, spot int32, rail layout.Rail) bool {
	s := &c.Spots[spot]
	for i := range c.Layout.CommonRails {
		cr := &c.Layout.CommonRails[i]
		if cr.Rail != rail {
			continue
		}
		for _, st := range cr.Of {
			if st.Piece == s.Piece && (st.Whole || (st.From.Mid() <= s.At && s.At <= st.To.Mid())) {
				return true
			}
		}
	}
	return false
}
