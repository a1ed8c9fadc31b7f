package split

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gapwise/netlist/layout"

	"gapwise/districts/partition"
)

// findTrains lists the trains that may move; kinds gives each one's Layout.Trains.
func (x *instance) findTrains(ask *Ask) (kinds []int32, err error) {
	l := x.atoms.g.l
	var unknown, assumed []string
	for i := range l.Trains {
		t := &l.Trains[i]
		amps := ask.TrainAmps
		switch {
		case t.Current.Known():
			amps = t.Current.Hi
		case amps > 0:
			assumed = append(assumed, t.Name)
		default:
			unknown = append(unknown, t.Name)
		}
		for range max(1, t.AtOnce) {
			x.trains = append(x.trains, partition.Train{MilliAmps: milli(amps)})
			kinds = append(kinds, int32(i))
		}
	}
	switch {
	case len(l.Trains) == 0:
		return nil, refuse("the layout lists no trains, so what districts have to carry is not known; list them: `trains: {freight: {length: 8 ft, current: 1 A, at-once: 2}}`")
	case len(unknown) > 0:
		return nil, refuse("nothing can be proved without the current of train %s; measure it and add `current`, or take a value for all that lack it: --train-amps 1A", strings.Join(unknown, ", "))
	case len(assumed) > 0:
		x.notes = append(x.notes, fmt.Sprintf("train %s is taken to draw what --train-amps says", strings.Join(assumed, ", ")))
	}
	return kinds, nil
}

// milli rounds a current up to milliamperes.
func milli(amps float64) int64 { return int64(math.Ceil(amps*1000 - 1e-6)) }

// berths is how many trains can draw from an atom at once: one in each block as meant, or one on each track of yards and staging
// that holds the shortest train. Where no block is meant as many as fit by their length, and one more at each end over which a train
// leads out, whose engine may stand inside.
func (a *atoms) berths(n int32, ends int) int {
	x := &a.list[n]
	shortest := a.g.shortest()
	count := len(x.blocks)
	stored := map[int32]float64{} // by track
	for _, i := range x.spans {
		s := &a.g.spans[i]
		for _, b := range a.g.claims.of(s.track, s.from, s.to) {
			if use := a.g.l.Blocks[b].Use; use == layout.UseYard || use == layout.UseStaging {
				stored[s.track] += s.to - s.from
				break
			}
		}
	}
	tracks := 0
	for _, metres := range stored {
		if metres >= shortest {
			tracks++
		}
	}
	count = max(count, tracks)
	if x.open || len(x.blocks) == 0 {
		const grain = 1e-9
		count = max(count, a.g.fit(x.metres+grain)+ends, 1)
	}
	return count
}

// fit is how many of the trains stand in so many metres, the shortest of them: where a train's length is not known, it takes
// none.
func (g *ground) fit(metres float64) int {
	var lengths []float64
	for i := range g.l.Trains {
		t := &g.l.Trains[i]
		own := 0.0
		if t.Length.Known() {
			if own = t.Length.Lo; own == 0 {
				own = t.Length.Mid()
			}
		}
		for range max(1, t.AtOnce) {
			lengths = append(lengths, own)
		}
	}
	slices.Sort(lengths)
	n := 0
	for n < len(lengths) && lengths[n] <= metres {
		metres -= lengths[n]
		n++
	}
	return n
}

// shortest is the length of the shortest train, in metres: the low end of a range, or its middle where that is nothing.
func (g *ground) shortest() float64 {
	least := 0.0
	for i := range g.l.Trains {
		t := g.l.Trains[i].Length
		if !t.Known() {
			continue
		}
		metres := t.Lo
		if metres == 0 {
			metres = t.Mid()
		}
		if least == 0 || metres < least {
			least = metres
		}
	}
	return least
}

// admits lists the trains that may come into an atom, nil for all.
func (a *atoms) admits(n int32, kinds []int32) []int {
	x := &a.list[n]
	if x.open || len(x.blocks) == 0 {
		return nil
	}
	var only []int32
	for _, b := range x.blocks {
		if len(a.g.l.Blocks[b].Trains) == 0 {
			return nil
		}
		only = append(only, a.g.l.Blocks[b].Trains...)
	}
	out := []int{}
	for i, k := range kinds {
		if slices.Contains(only, k) {
			out = append(out, i)
		}
	}
	return out
}
