package reader

import (
	"strings"

	"gapwise/netlist/layout"
)

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
			if ok {
				*s, _ = r.source(rec.unit, raw)
			}
		}
	}
}

// breakRings reports each ring of things that hang from one another, once, and cuts it
// so that nothing later goes round it for ever.
func (r *reader) breakRings() {
	state := map[hanger]int{} // 1 on the way, 2 done
	var way []hanger
	var visit func(h hanger)
	visit = func(h hanger) {
		state[h] = 1
		way = append(way, h)
		for _, s := range r.sourcesOf(h) {
			next, ok := behind(s)
			switch {
			case !ok:
			case state[next] == 1:
				r.tellRing(way, next)
				*s = layout.Source{Index: -1, Tap: noTap()}
			case state[next] == 0:
				visit(next)
			}
		}
		way = way[:len(way)-1]
		state[h] = 2
	}
	for _, h := range r.hangers() {
		if state[h] == 0 {
			visit(h)
		}
	}
}

// tellRing reports the ring from first along the way and back to first.
func (r *reader) tellRing(way []hanger, first hanger) {
	from := len(way) - 1
	for way[from] != first {
		from--
	}
	var names []string
	for _, h := range append(way[from:len(way):len(way)], first) {
		names = append(names, thingWords[thingOf(h.kind)]+" "+r.recordOf(h).full)
	}
	at := r.recordOf(first).at("from")
	if first.kind == layout.FromChangeover {
		at = r.recordOf(first).place()
	}
	r.blame(at, problem{message: strings.Join(names, " > ")})
}

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

// hangPieces resolves the feed of turntables and transfer tables, and the taps of frogs.
func (r *reader) hangPieces() {
	l := r.lay
	for i := range l.Pieces {
		p := &l.Pieces[i]
		rec := r.pieceRecord(layout.PieceID(i))
		switch p.Kind {
		case layout.TurntablePiece:
			l.Turntables[p.Index].From = r.bridgeFeed(rec)
		case layout.TransferTablePiece:
			l.TransferTables[p.Index].From = r.bridgeFeed(rec)
		case layout.TurnoutPiece:
			r.frogTap(rec, &l.Turnouts[p.Index])
		}
	}
}

// bridgeFeed is what feeds the rails of a bridge, which needs both legs.
func (r *reader) bridgeFeed(rec *record) layout.Source {
	raw, ok := get[rawSource](rec, "from")
	if !ok {
		return layout.Source{Index: -1, Tap: noTap()}
	}
	s, _ := r.source(rec.unit, raw)
	r.needSource(s, bothLegs, raw.text)
	return s
}

// frogTap is where a frog's contacts take the legs of a bus.
func (r *reader) frogTap(rec *record, t *layout.Turnout) {
	raw, ok := get[rawPlace](rec, "frog-from")
	if !ok {
		return
	}
	t.FrogTap, _ = r.tap(rec.unit, raw)
	for _, g := range t.FrogGets {
		switch g.Gets {
		case layout.GetsLegA:
			ok = ok && r.needLeg(t.FrogTap, layout.A, raw.text)
		case layout.GetsLegB:
			ok = ok && r.needLeg(t.FrogTap, layout.B, raw.text)
		}
	}
}
