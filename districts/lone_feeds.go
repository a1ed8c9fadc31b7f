package districts

import (
	"slices"

	"gapwise/netlist/circuit"
)

// LoneFeed is rail that hangs on one thing: a feeder, or one tap of a bus that several
// feeders share. Dies lists the stretches of track that lose a rail or both when it breaks,
// Blocks those as meant that lie there.
type LoneFeed struct {
	Feeders []int32 // rising; several hang from one tap
	Dies    []Interval
	Length  float64 // of Dies, in metres
	Blocks  []int32
}

// LoneFeeds lists the feeders and taps that joined rail hangs on alone, in the order of
// their first feeders. Of a tap, one leg is enough; a feeder that may be broken is no second.
func (t *Trace) LoneFeeds() []LoneFeed {
	rails := joinNets(t.C, func(_ int32, k *circuit.Conductor) bool {
		switch k.Kind {
		case circuit.RailLength, circuit.JointMetal, circuit.BondWire, circuit.PiecePart:
			return k.Device < 0 && k.Sure
		default:
			return false
		}
	})
	feeders, taps := map[int32][]int32{}, map[int32][]int32{}
	var nets []int32
	for i := range t.C.Conductors {
		k := &t.C.Conductors[i]
		if k.Kind != circuit.FeederWire || !k.Sure {
			continue
		}
		net := rails.Of[k.B]
		if _, found := feeders[net]; !found {
			nets = append(nets, net)
		}
		feeders[net] = addOnce(feeders[net], k.Ref)
		taps[net] = addOnce(taps[net], k.A)
	}
	var lone [][]int32
	for _, net := range nets {
		if len(taps[net]) > 1 && len(feeders[net]) > 1 {
			continue
		}
		slices.Sort(feeders[net])
		if !slices.ContainsFunc(lone, func(o []int32) bool { return slices.Equal(o, feeders[net]) }) {
			lone = append(lone, feeders[net])
		}
	}
	slices.SortFunc(lone, slices.Compare)
	var out []LoneFeed
	before := t.alive(Removal{})
	for _, fs := range lone {
		x := LoneFeed{Feeders: fs}
		t.losses(&x, before)
		if len(x.Dies) > 0 {
			out = append(out, x)
		}
	}
	return out
}

// losses finds what dies without some feeders.
func (t *Trace) losses(x *LoneFeed, before []bool) {
	after := t.alive(Removal{takes: func(k *circuit.Conductor) bool {
		return k.Kind == circuit.FeederWire && slices.Contains(x.Feeders, k.Ref)
	}})
	for i := range t.C.Ways {
		w := &t.C.Ways[i]
		if w.Kind != circuit.WayTrack || !t.bothAlive(before, w) || t.bothAlive(after, w) {
			continue
		}
		x.Dies = append(x.Dies, t.interval(w))
		x.Length += w.Length
		if b := t.Meant.wayBlock(t.C, w); b >= 0 {
			x.Blocks = addOnce(x.Blocks, b)
		}
	}
	x.Dies = joinIntervals(x.Dies)
}

func addOnce(list []int32, x int32) []int32 {
	if slices.Contains(list, x) {
		return list
	}
	return append(list, x)
}
