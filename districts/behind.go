package districts

import (
	"slices"

	"gapwise/netlist/circuit"
)

// sourcesAbove lists what a source hangs from, nearest first and without itself: every source on
// the ways up, by every position of the changeovers there.
func (t *Trace) sourcesAbove(source int32) []int32 {
	var out []int32
	add := func(s int32) {
		if s >= 0 && s != source && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	at := source
	for n := 0; ; n++ {
		src := &t.C.Sources[at]
		if src.Kind == circuit.ChangeoverSource {
			for _, p := range t.C.Layout.Changeovers[src.Ref].Positions {
				above, _ := t.C.SourceAbove(p.From)
				add(above)
			}
		} else {
			add(src.Parent)
		}
		if n >= len(out) {
			return out
		}
		at = out[n]
	}
}

// behind is everything that hangs from each source, itself included: by source, rising.
func (t *Trace) behind() [][]int32 {
	out := make([][]int32, len(t.C.Sources))
	for s := range t.C.Sources {
		out[s] = append(out[s], int32(s))
	}
	for s := range t.C.Sources {
		for _, up := range t.sourcesAbove(int32(s)) {
			out[up] = append(out[up], int32(s))
		}
	}
	for s := range out {
		slices.Sort(out[s])
	}
	return out
}
