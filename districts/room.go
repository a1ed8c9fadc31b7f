package districts

import (
	"math"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// Room is the track behind some sources, as far as it decides which trains can be there.
type Room struct {
	// Metres is all its track, and Longest the longest walk on it that turns back nowhere, at
	// most Metres; both infinite where a length is unknown.
	Metres, Longest float64
	// Entrances is how many trains can stand with one end on it and the other beyond.
	Entrances int
	// Blocks are the blocks as meant that have more of it than a stub, rising; Open says that
	// more than a stub of it is in none.
	Blocks []int32
	Open   bool
}

// rooms measures the track behind each source.
type rooms struct {
	t      *Trace
	source []int32   // by spot: what feeds it, -1 for nothing
	ways   [][]int32 // by source: ways with an end on its track
	behind [][]int32
}

func (t *Trace) newRooms() *rooms {
	sides := t.Sides()
	r := &rooms{t: t, source: make([]int32, len(t.C.Spots)), ways: make([][]int32, len(t.C.Sources)), behind: t.behind()}
	for i := range r.source {
		r.source[i] = sides.Source[sides.Of[i]]
	}
	for i := range t.C.Ways {
		a, b := r.source[t.C.Ways[i].A], r.source[t.C.Ways[i].B]
		if a >= 0 {
			r.ways[a] = append(r.ways[a], int32(i))
		}
		if b >= 0 && b != a {
			r.ways[b] = append(r.ways[b], int32(i))
		}
	}
	return r
}

// all lists some sources and all that hangs from them, rising.
func (r *rooms) all(sources []int32) []int32 {
	var list []int32
	for _, s := range sources {
		list = append(list, r.behind[s]...)
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// of measures the track of some sources, rising.
func (r *rooms) of(list []int32) Room {
	inside := func(spot int32) bool {
		_, found := slices.BinarySearch(list, r.source[spot])
		return found
	}
	var room Room
	var ways []int32
	var near, far []int32 // spots of the ways that lead out
	for _, s := range list {
		for _, k := range r.ways[s] {
			w := &r.t.C.Ways[k]
			switch a, b := inside(w.A), inside(w.B); {
			case a && b:
				ways = append(ways, k)
			case a:
				near, far = append(near, w.A), append(far, w.B)
			default:
				near, far = append(near, w.B), append(far, w.A)
			}
		}
	}
	slices.Sort(ways)
	ways = slices.Compact(ways)
	room.Entrances = min(distinct(near), distinct(far))
	r.measure(&room, ways)
	return room
}

func distinct(spots []int32) int {
	slices.Sort(spots)
	return len(slices.Compact(spots))
}

// measure fills in lengths and blocks.
func (r *rooms) measure(room *Room, ways []int32) {
	c := r.t.C
	route := map[layout.PieceID]float64{} // the longest through each piece of track work
	claimed := map[int32]float64{}        // by block, -1 for none
	for _, k := range ways {
		w := &c.Ways[k]
		switch w.Kind {
		case circuit.WayTrack:
			room.Metres += w.Length
			if !c.Layout.Tracks[c.Layout.Pieces[w.Piece].Index].Length.Known() {
				room.Metres = math.Inf(1)
			}
		case circuit.WayThrough:
			if longest := max(route[w.Piece], w.Length); longest > route[w.Piece] {
				room.Metres += longest - route[w.Piece]
				route[w.Piece] = longest
			}
		default:
			continue
		}
		if b := r.t.Meant.wayBlock(c, w); b >= 0 || w.Kind == circuit.WayTrack {
			claimed[b] += w.Length // track work in no block goes with its neighbours
		}
	}
	for b := range claimed {
		if claimed[b] <= stub {
			continue
		}
		if b < 0 {
			room.Open = true
		} else {
			room.Blocks = append(room.Blocks, b)
		}
	}
	slices.Sort(room.Blocks)
	room.Longest = min(room.Metres, r.longestWalk(ways))
}

// longestWalk is the longest walk along some ways that turns back nowhere, infinite when one can go
// round and round. On a loop that leads back to where it left the way there counts twice: a train's
// length is never held against too little.
func (r *rooms) longestWalk(ways []int32) float64 {
	w := walkLengths{c: r.t.C, adj: r.t.Ways.adj, ways: ways, state: map[step]float64{}}
	longest := 0.0
	for _, k := range ways {
		for _, to := range [2]int32{r.t.C.Ways[k].A, r.t.C.Ways[k].B} {
			longest = max(longest, w.from(step{k, to}))
		}
	}
	return longest
}

// step is a way walked towards one of its spots.
type step struct{ way, to int32 }

// walkLengths finds how far one can walk on.
type walkLengths struct {
	c     *circuit.Circuit
	adj   *adjacency
	ways  []int32
	state map[step]float64 // NaN while under way
}

// from is the length of the longest walk that begins with a step. It keeps its own stack: a
// layout may be a hundred thousand ways long.
func (w *walkLengths) from(first step) float64 {
	type frame struct {
		at   step
		next []int32
		best float64
	}
	if v, found := w.state[first]; found {
		return v
	}
	w.state[first] = math.NaN()
	stack := []frame{{at: first, next: w.adj.of(first.to)}}
	for {
		top := &stack[len(stack)-1]
		if len(top.next) == 0 {
			total := top.best + w.c.Ways[top.at.way].Length
			w.state[top.at] = total
			stack = stack[:len(stack)-1]
			if len(stack) == 0 {
				return total
			}
			above := &stack[len(stack)-1]
			above.best = max(above.best, total)
			continue
		}
		k := top.next[0]
		top.next = top.next[1:]
		if k == top.at.way || !w.onward(top.at, k) {
			continue
		}
		way := &w.c.Ways[k]
		s := step{k, way.A + way.B - top.at.to}
		switch v, found := w.state[s]; {
		case !found:
			w.state[s] = math.NaN()
			stack = append(stack, frame{at: s, next: w.adj.of(s.to)})
		case math.IsNaN(v):
			top.best = math.Inf(1)
		default:
			top.best = max(top.best, v)
		}
	}
}

// onward reports whether a walk may go on by another way: within the track, not from leg to leg of one
// turnout, and over a pit's edge only to come from it on the bridge, not back where it came from.
func (w *walkLengths) onward(from step, next int32) bool {
	if _, found := slices.BinarySearch(w.ways, next); !found {
		return false
	}
	a, b := &w.c.Ways[from.way], &w.c.Ways[next]
	switch {
	case a.Kind == circuit.WayThrough && b.Kind == circuit.WayThrough:
		return a.Piece != b.Piece
	case a.Kind == circuit.WayPit && b.Kind == circuit.WayPit:
		return w.c.Spots[from.to].End < 0 && a.A+a.B != b.A+b.B
	default:
		return true
	}
}
