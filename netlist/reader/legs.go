package reader

import "gapwise/netlist/layout"

var bothLegs = []layout.Leg{layout.A, layout.B}

// needs is which legs a bus or device needs of what it hangs from. A plug passes on what
// comes; what hangs behind it is checked itself.
func (r *reader) needs(h hanger) []layout.Leg {
	l := r.lay
	switch h.kind {
	case layout.FromTap:
		return legsOf(l.Buses[h.index].Legs)
	case layout.FromBreaker:
		return opened(l.Breakers[h.index].Opens)
	case layout.FromInLine:
		return opened(l.InLines[h.index].Legs)
	case layout.FromDetector:
		return []layout.Leg{l.Detectors[h.index].Leg}
	case layout.FromPlug:
		return nil
	default:
		return bothLegs
	}
}

func legsOf(ls layout.Legs) []layout.Leg {
	switch ls {
	case layout.LegsA:
		return bothLegs[:1]
	case layout.LegsB:
		return bothLegs[1:]
	default:
		return bothLegs
	}
}

// opened is the leg that a device works in; both where it says both or nothing.
func opened(o layout.Opens) []layout.Leg {
	switch o {
	case layout.OpensA:
		return bothLegs[:1]
	case layout.OpensB:
		return bothLegs[1:]
	default:
		return bothLegs
	}
}

// carrier is the bus at which the legs of a source end, nil when both are there. A
// device passes on what it hangs from.
func (r *reader) carrier(s layout.Source) *layout.Bus {
	for {
		h, ok := behind(&s)
		if !ok {
			return nil
		}
		if h.kind == layout.FromTap {
			return &r.lay.Buses[h.index]
		}
		ss := r.sourcesOf(h)
		if len(ss) == 0 {
			return nil
		}
		s = *ss[0]
	}
}

// needSource reports a source that does not carry the legs something needs.
func (r *reader) needSource(s layout.Source, legs []layout.Leg, at text) {
	bus := r.carrier(s)
	if bus == nil {
		return
	}
	for _, leg := range legs {
		if !bus.Legs.Carries(leg) {
			r.blamef(at, "%s carries no leg %s here", bus.Name, leg)
			return
		}
	}
}
