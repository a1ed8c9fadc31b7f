package districts

import (
	"slices"

	"gapwise/netlist/circuit"
)

// legWhen is the leg by which a node is fed when a device, and what is thrown with it, is
// set so, without passing the metal of a way; ok is false when none reaches it.
func (t *Trace) legWhen(node int32, settings []Setting, way int32) (Label, bool) {
	t.lookup()
	own := t.C.Ways[way].Rails
	goal := func(n int32) bool { _, found := t.terminals[n]; return found }
	path := shortestWalk(t.C, t.conductorsAt(), []int32{node}, goal, func(i int32) bool {
		k := &t.C.Conductors[i]
		if i == own[0] || i == own[1] || k.Parts() {
			return false
		}
		return k.Device < 0 || slices.Contains(settings, Setting{k.Device, k.Position})
	})
	if len(path) == 0 {
		return Label{}, false
	}
	return t.terminals[path[len(path)-1].Node], true
}

// LegGap is the first insulated gap on a leg of track work: its way, its spot towards the
// track work, and how far it lies from the leg's end, in metres.
type LegGap struct {
	Way    int32
	Near   int32
	Metres float64
}

// GapOnLeg walks away from an end of a piece along plain track to the first insulated gap
// in a rail; ok is false when track work or the end of the track comes first.
func (t *Trace) GapOnLeg(spot int32) (g LegGap, ok bool) {
	at, from := spot, int32(-1)
	for range t.C.Ways {
		next := int32(-1)
		for _, k := range t.Ways.Of(at) {
			if w := &t.C.Ways[k]; k != from && w.Kind != circuit.WayThrough {
				next = k
			}
		}
		if next < 0 {
			return LegGap{}, false
		}
		w := &t.C.Ways[next]
		if w.Kind == circuit.WayPit {
			return LegGap{}, false
		}
		if insulatedRails(t.C, w) > 0 && (w.Metal[0] == circuit.Open || w.Metal[1] == circuit.Open) {
			return LegGap{Way: next, Near: at, Metres: g.Metres}, true
		}
		g.Metres += w.Length
		at, from = w.A+w.B-at, next
		if t.C.Spots[at].End >= 0 {
			return LegGap{}, false
		}
	}
	return LegGap{}, false
}

// OppositeOver reports whether wheels that bridge a gap join opposite legs when a device, with
// what is thrown along, is set so, and which legs: the one on the side of near first.
func (t *Trace) OppositeOver(g LegGap, s Setting) (near, far Label, opposite bool) {
	w := &t.C.Ways[g.Way]
	settings := thrown(t.C, s)
	if excluded(exclusions(t.C), settings) {
		return near, far, false
	}
	for r := range w.Metal {
		if w.Metal[r] != circuit.Open {
			continue
		}
		across := r
		if w.Turned {
			across = 1 - r
		}
		x, y := t.C.Spots[w.A].Node[r], t.C.Spots[w.B].Node[across]
		if g.Near == w.B {
			x, y = y, x
		}
		from, ok := t.legWhen(x, settings, g.Way)
		if !ok {
			continue
		}
		to, ok := t.legWhen(y, settings, g.Way)
		if !ok {
			continue
		}
		if _, _, found := clash(t.C, []Label{from, to}); found {
			return from, to, true
		}
	}
	return near, far, false
}
