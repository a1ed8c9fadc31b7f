package districts

import (
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// Guard is something on the way up from a place that may cut off what hangs below: a source,
// or an in-line part; the other is -1.
type Guard struct {
	Source int32 // Circuit.Sources
	InLine int32 // Layout.InLines
}

// GuardsAbove lists the sources and in-line parts on the ways up from what something hangs
// from, nearest first, each once: by every position of the changeovers on the way.
func (t *Trace) GuardsAbove(from layout.Source) []Guard {
	l := t.C.Layout
	var out []Guard
	seen := map[Guard]bool{}
	wires := len(l.Buses) + len(l.Detectors) + len(l.Plugs) + 1 // between two guards at the most
	left := wires * (len(t.C.Sources) + len(l.InLines) + 1)
	var up func(layout.Source)
	guard := func(g Guard, above layout.Source) {
		if !seen[g] {
			seen[g] = true
			out = append(out, g)
			up(above)
		}
	}
	source := func(kind circuit.SourceKind, ref int32, above layout.Source) {
		guard(Guard{t.sourceOf(kind, ref), -1}, above)
	}
	up = func(s layout.Source) {
		if left--; left < 0 {
			return
		}
		switch s.Kind {
		case layout.FromTap:
			if s.Tap.Bus >= 0 {
				up(l.Buses[s.Tap.Bus].From)
			}
		case layout.FromDetector:
			up(l.Detectors[s.Index].From)
		case layout.FromPlug:
			up(l.Plugs[s.Index].From)
		case layout.FromInLine:
			guard(Guard{-1, s.Index}, l.InLines[s.Index].From)
		case layout.FromBreaker:
			source(circuit.BreakerSource, s.Index, l.Breakers[s.Index].From)
		case layout.FromReverser:
			source(circuit.ReverserSource, s.Index, l.Reversers[s.Index].From)
		case layout.FromBooster:
			source(circuit.BoosterSource, s.Index, layout.Source{})
		case layout.FromSupply:
			source(circuit.SupplySource, s.Index, layout.Source{})
		case layout.FromCab:
			source(circuit.CabSource, s.Index, layout.Source{})
		case layout.FromChangeover:
			g := Guard{t.sourceOf(circuit.ChangeoverSource, s.Index), -1}
			if seen[g] {
				return
			}
			seen[g] = true
			for _, p := range l.Changeovers[s.Index].Positions {
				up(p.From)
			}
		}
	}
	up(from)
	return out
}

// sourceOf is the source of the circuit that a device is, -1 for none.
func (t *Trace) sourceOf(kind circuit.SourceKind, ref int32) int32 {
	for i := range t.C.Sources {
		if s := &t.C.Sources[i]; s.Kind == kind && s.Ref == ref {
			return int32(i)
		}
	}
	return -1
}
