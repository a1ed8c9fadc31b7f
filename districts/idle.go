package districts

import (
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// IdleSources lists the sources that nothing hangs from: no feeder, bridge, frog, load or bus of
// accessories, directly or through other devices, rising.
func (t *Trace) IdleSources() []int32 {
	used := make([]bool, len(t.C.Sources))
	for i := range t.Feeds {
		for leg := range layout.Leg(2) {
			t.use(used, t.Feeds[i].Legs[leg].Source)
		}
	}
	l := t.C.Layout
	from := func(s layout.Source) {
		source, _ := t.C.SourceAbove(s)
		t.use(used, source)
	}
	tap := func(at layout.Tap) { from(layout.Source{Kind: layout.FromTap, Tap: at}) }
	for i := range l.Feeders { // a broken one too: what it hangs from has a use
		tap(l.Feeders[i].From[layout.A])
		tap(l.Feeders[i].From[layout.B])
	}
	for i := range l.Turntables {
		from(l.Turntables[i].From)
	}
	for i := range l.TransferTables {
		from(l.TransferTables[i].From)
	}
	for i := range l.Turnouts {
		tap(l.Turnouts[i].FrogTap)
	}
	for i := range l.Loads {
		tap(l.Loads[i].Tap)
	}
	for i := range l.Buses {
		if l.Buses[i].Use != layout.BusTrack {
			from(l.Buses[i].From)
		}
	}
	var out []int32
	for s := range used {
		if !used[s] {
			out = append(out, int32(s))
		}
	}
	return out
}

// use marks a source and all that it hangs from, in every position of a changeover.
func (t *Trace) use(used []bool, source int32) {
	if source < 0 || used[source] {
		return
	}
	used[source] = true
	t.use(used, t.C.Sources[source].Parent)
	if t.C.Sources[source].Kind == circuit.ChangeoverSource {
		for _, p := range t.C.Layout.Changeovers[t.C.Sources[source].Ref].Positions {
			above, _ := t.C.SourceAbove(p.From)
			t.use(used, above)
		}
	}
}
