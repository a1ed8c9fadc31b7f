package reader

import "gapwise/netlist/layout"

// traceSources resolves what every device, bus and bridge hangs from, and reports rings
// and missing legs.
func (r *reader) traceSources() {
	r.resolveSources()
	r.breakRings()
	for _, h := range r.hangers() {
		rec, needs := r.recordOf(h), r.needs(h)
		for i, s := range r.sourcesOf(h) {
			at := rec.at("from")
			if h.kind == layout.FromChangeover {
				at = value[[]pair[rawPosition]](rec, "positions")[i].value.source.text
			}
			r.needSource(*s, needs, at)
		}
	}
	r.hangPieces()
}

// hanger is a device or, as FromTap, a bus.
type hanger struct {
	kind  layout.SourceKind
	index int32
}

// hangers are all buses and devices that hang from something, buses first.
func (r *reader) hangers() []hanger {
	var hs []hanger
	add := func(kind layout.SourceKind, n int) {
		for i := range n {
			hs = append(hs, hanger{kind, int32(i)})
		}
	}
	l := r.lay
	add(layout.FromTap, len(l.Buses))
	add(layout.FromBreaker, len(l.Breakers))
	add(layout.FromReverser, len(l.Reversers))
	add(layout.FromDetector, len(l.Detectors))
	add(layout.FromInLine, len(l.InLines))
	add(layout.FromChangeover, len(l.Changeovers))
	add(layout.FromPlug, len(l.Plugs))
	return hs
}

// thingOf is the kind of entry behind a kind of source.
func thingOf(kind layout.SourceKind) thing {
	if kind == layout.FromTap {
		return busThing
	}
	for _, st := range sourceThings {
		if st.kind == kind {
			return st.thing
		}
	}
	return noThing
}

func (r *reader) recordOf(h hanger) *record { return r.byThing[thingOf(h.kind)][h.index] }

// sourcesOf are what h hangs from: one source, or one for each position of a changeover.
func (r *reader) sourcesOf(h hanger) []*layout.Source {
	l := r.lay
	switch h.kind {
	case layout.FromTap:
		return []*layout.Source{&l.Buses[h.index].From}
	case layout.FromBreaker:
		return []*layout.Source{&l.Breakers[h.index].From}
	case layout.FromReverser:
		return []*layout.Source{&l.Reversers[h.index].From}
	case layout.FromDetector:
		return []*layout.Source{&l.Detectors[h.index].From}
	case layout.FromInLine:
		return []*layout.Source{&l.InLines[h.index].From}
	case layout.FromPlug:
		return []*layout.Source{&l.Plugs[h.index].From}
	case layout.FromChangeover:
		var ss []*layout.Source
		for i := range l.Changeovers[h.index].Positions {
			ss = append(ss, &l.Changeovers[h.index].Positions[i].From)
		}
		return ss
	default:
		return nil
	}
}

// behind is the bus or device that a source is, if it hangs from something itself.
func behind(s *layout.Source) (hanger, bool) {
	switch s.Kind {
	case layout.FromTap:
		return hanger{layout.FromTap, s.Tap.Bus}, true
	case layout.FromBreaker, layout.FromReverser, layout.FromDetector, layout.FromInLine, layout.FromChangeover, layout.FromPlug:
		return hanger{s.Kind, s.Index}, true
	default:
		return hanger{}, false
	}
}

// resolveSources fills in what every device and bus hangs from.
func (r *reader) resolveSources() {
	for _, h := range r.hangers() {
		rec := r.recordOf(h)
		raw, ok := get[rawSource](rec, "from")
		positions := value[[]pair[rawPosition]](rec, "positions")
		for i, s := range r.sourcesOf(h) {
			*s = layout.Source{Index: -1, Tap: noTap()}
			if h.kind == layout.FromChangeover {
				raw, ok = positions[i].value.source, true
			}
			if h.kind == layout.FromChangeover && raw.text.s == "nothing" {
				s.Kind, s.Text, s.Pos = layout.FromNothing, raw.text.s, raw.text.pos
				continue
			}
			if ok {
				*s, _ = r.source(rec, raw)
			}
		}
	}
}
