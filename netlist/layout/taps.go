package layout

import "slices"

// EachSource visits what every bus, device and bridge hangs from.
func (l *Layout) EachSource(visit func(*Source)) {
	for i := range l.Buses {
		visit(&l.Buses[i].From)
	}
	for i := range l.Breakers {
		visit(&l.Breakers[i].From)
	}
	for i := range l.Reversers {
		visit(&l.Reversers[i].From)
	}
	for i := range l.Detectors {
		visit(&l.Detectors[i].From)
	}
	for i := range l.InLines {
		visit(&l.InLines[i].From)
	}
	for i := range l.Plugs {
		visit(&l.Plugs[i].From)
	}
	for i := range l.Changeovers {
		for j := range l.Changeovers[i].Positions {
			visit(&l.Changeovers[i].Positions[j].From)
		}
	}
	for i := range l.Turntables {
		visit(&l.Turntables[i].From)
	}
	for i := range l.TransferTables {
		visit(&l.TransferTables[i].From)
	}
}

// EachTap visits every tap: of feeders, of what hangs from a bus, of frogs, networks and loads.
func (l *Layout) EachTap(visit func(*Tap)) {
	for i := range l.Feeders {
		visit(&l.Feeders[i].From[A])
		visit(&l.Feeders[i].From[B])
	}
	l.EachSource(func(s *Source) {
		if s.Kind == FromTap {
			visit(&s.Tap)
		}
	})
	for i := range l.Turnouts {
		visit(&l.Turnouts[i].FrogTap)
	}
	for i := range l.Terminators {
		visit(&l.Terminators[i].Tap)
	}
	for i := range l.Loads {
		visit(&l.Loads[i].Tap)
	}
}

// OwnTaps is a copy of a layout whose taps may be changed: all that EachTap visits is its own.
func (l *Layout) OwnTaps() *Layout {
	out := *l
	out.Feeders, out.Buses, out.Breakers, out.Reversers = slices.Clone(l.Feeders), slices.Clone(l.Buses), slices.Clone(l.Breakers), slices.Clone(l.Reversers)
	out.Detectors, out.InLines, out.Plugs, out.Changeovers = slices.Clone(l.Detectors), slices.Clone(l.InLines), slices.Clone(l.Plugs), slices.Clone(l.Changeovers)
	for i := range out.Changeovers {
		out.Changeovers[i].Positions = slices.Clone(out.Changeovers[i].Positions)
	}
	out.Turntables, out.TransferTables, out.Turnouts = slices.Clone(l.Turntables), slices.Clone(l.TransferTables), slices.Clone(l.Turnouts)
	out.Terminators, out.Loads = slices.Clone(l.Terminators), slices.Clone(l.Loads)
	return &out
}

// TapsOf lists where something hangs from a bus, in metres from its start, rising and each once.
func (l *Layout) TapsOf(bus int32) []float64 {
	var out []float64
	l.EachTap(func(t *Tap) {
		if t.Bus == bus && t.At.Known() {
			out = append(out, t.At.Mid())
		}
	})
	slices.Sort(out)
	return slices.Compact(out)
}
