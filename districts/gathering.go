package districts

import (
	"cmp"
	"slices"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// Draws says what trains and standing loads take, of one kind of current. With Moving only
// trains that move count: no more than the layout lets move at once, and one in each block
// as meant; without, all that the layout has at once.
type Draws struct {
	Train  func(*layout.Train) quantity.Current
	Load   func(*layout.Load) quantity.Current
	Moving bool
}

// Gathering is the most that trains and standing loads can take behind some sources, by the higher
// ends of ranges, in amperes: no placing takes more. A train draws in full wherever its engine is.
type Gathering struct {
	Amps     float64
	Standing float64 // what loads take of it
	Trains   []int32 // that take the rest, one entry a train, heaviest first
	Heaviest int32   // the train that takes most of all that may come, -1 for none
	Come     []int32 // the trains that may come, one entry a kind
	// Unknown are those of them whose current the layout does not say, and Loads such loads:
	// they count as nothing.
	Unknown, Loads []int32
	Room           Room
}

// Gatherings finds what can gather behind sources.
type Gatherings struct {
	rooms *rooms
	draws Draws
	loads [][]int32 // by source
	kinds []kindOfTrain
}

// kindOfTrain is how many trains of a kind there are, the current of each in amperes, and how
// much track it takes at the least, in metres.
type kindOfTrain struct {
	train        int32
	count        int
	amps, metres float64
}

// Gatherings prepares to find what can gather, of one kind of current.
func (t *Trace) Gatherings(d Draws) *Gatherings {
	g := &Gatherings{rooms: t.newRooms(), draws: d, loads: make([][]int32, len(t.C.Sources))}
	l := t.C.Layout
	for i := range l.Loads {
		if s := g.rooms.feeds(&l.Loads[i]); s >= 0 {
			g.loads[s] = append(g.loads[s], int32(i))
		}
	}
	for i := range l.Trains {
		x := &l.Trains[i]
		k := kindOfTrain{train: int32(i), count: max(1, x.AtOnce)}
		if v := d.Train(x); v.Known() {
			k.amps = v.Hi
		}
		if x.Length.Known() {
			k.metres = x.Length.Lo
		}
		g.kinds = append(g.kinds, k)
	}
	slices.SortStableFunc(g.kinds, func(x, y kindOfTrain) int { return -cmp.Compare(x.amps, y.amps) })
	return g
}

// feeds is the source that a load hangs from, -1 for none.
func (r *rooms) feeds(x *layout.Load) int32 {
	if !x.OnRail {
		s, _ := r.t.C.SourceAbove(layout.Source{Kind: layout.FromTap, Tap: x.Tap})
		return s
	}
	if x.Place.Piece < 0 {
		return -1
	}
	if spot, _ := r.t.spotFor(x.Place); spot >= 0 {
		return r.source[spot]
	}
	return -1
}

// Of is what can gather behind some sources and all that hangs from them.
func (g *Gatherings) Of(sources ...int32) Gathering {
	behind := g.rooms.all(sources)
	out := Gathering{Heaviest: -1, Room: g.rooms.of(behind)}
	l := g.rooms.t.C.Layout
	for _, s := range behind {
		for _, i := range g.loads[s] {
			if v := g.draws.Load(&l.Loads[i]); v.Known() {
				out.Standing += v.Hi
			} else {
				out.Loads = append(out.Loads, i)
			}
		}
	}
	if out.Room.Metres > 0 {
		g.place(&out)
	}
	out.Amps = out.Standing
	for _, t := range out.Trains {
		out.Amps += g.draws.Train(&l.Trains[t]).Hi
	}
	return out
}

// place chooses the trains.
func (g *Gatherings) place(out *Gathering) {
	l := g.rooms.t.C.Layout
	p := placing{room: out.Room, work: placingWork}
	all := 0
	for _, k := range g.kinds {
		blocks := out.Room.taking(l, k.train)
		known := g.draws.Train(&l.Trains[k.train]).Known()
		switch {
		case blocks == 0 && !out.Room.Open:
			continue
		case g.draws.Moving && !out.Room.Open:
			k.count = min(k.count, blocks)
		}
		all += k.count
		out.Come = append(out.Come, k.train)
		switch {
		case !known:
			out.Unknown = append(out.Unknown, k.train)
		case k.amps > 0:
			p.kinds = append(p.kinds, k)
		}
	}
	if len(p.kinds) > 0 {
		out.Heaviest = p.kinds[0].train
	}
	if g.draws.Moving {
		if n := l.Operations.AtOnce; n > 0 {
			all = min(all, n)
		}
		if !out.Room.Open {
			all = min(all, len(out.Room.Blocks))
		}
	}
	for i, n := range p.most(all) {
		for range n {
			out.Trains = append(out.Trains, p.kinds[i].train)
		}
	}
}

// taking counts the blocks that a train may come to.
func (r *Room) taking(l *layout.Layout, train int32) int {
	n := 0
	for _, b := range r.Blocks {
		if only := l.Blocks[b].Trains; len(only) == 0 || slices.Contains(only, train) {
			n++
		}
	}
	return n
}
