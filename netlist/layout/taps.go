package layout

import "slices"

// TapsOf lists where something hangs from a bus, in metres from its start, rising and each once.
func (l *Layout) TapsOf(bus int32) []float64 {
	var out []float64
	tap := func(t Tap) {
		if t.Bus == bus && t.At.Known() {
			out = append(out, t.At.Mid())
		}
	}
	from := func(s Source) {
		if s.Kind == FromTap {
			tap(s.Tap)
		}
	}
	for i := range l.Feeders {
		tap(l.Feeders[i].From[A])
		tap(l.Feeders[i].From[B])
	}
	for i := range l.Buses {
		from(l.Buses[i].From)
	}
	for i := range l.Breakers {
		from(l.Breakers[i].From)
	}
	for i := range l.Reversers {
		from(l.Reversers[i].From)
	}
	for i := range l.Detectors {
		from(l.Detectors[i].From)
	}
	for i := range l.InLines {
		from(l.InLines[i].From)
	}
	for i := range l.Plugs {
		from(l.Plugs[i].From)
	}
	for i := range l.Changeovers {
		for j := range l.Changeovers[i].Positions {
			from(l.Changeovers[i].Positions[j].From)
		}
	}
	for i := range l.Terminators {
		tap(l.Terminators[i].Tap)
	}
	for i := range l.Loads {
		tap(l.Loads[i].Tap)
	}
	slices.Sort(out)
	return slices.Compact(out)
}
