package districts

import (
	"cmp"
	"context"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// StraddleKind tells faults of trains that stand over several gaps apart, by what lies between
// the two legs that the train joins.
type StraddleKind uint8

const (
	// StraddleGap is a single gap.
	StraddleGap StraddleKind = iota
	// StraddleSection is the length of one reversing section.
	StraddleSection
	// StraddleChain is several reversing sections, one after the other: two or more lie between, or the
	// legs are those of a free source that feeds both a section before and one beyond.
	StraddleChain
	// StraddleDead is rail that no leg reaches.
	StraddleDead
	// StraddleOther is rail of a phase that is not tied to the one of the two legs.
	StraddleOther
)

// Straddle is a place where one train joins opposite legs of one phase, whatever the free sources do:
// its wheels bridge every place between the first and the last of Places. No part of it does so
// by itself.
type Straddle struct {
	Kind StraddleKind
	// Paces is the walk from the first place to the last, both included, in the sense in which it was
	// found; a train runs either way.
	Paces []Pace
	// Places are the ways of that walk that wheels bridge: gaps, edges of a pit, and routes with a
	// rail cut inside.
	Places []int32
	// Span is how far the first place lies from the last, in metres. A train joins both when it is
	// longer than that, from its first wheel to its last: one that is just as long does not. What
	// is bridged inside track work is taken to lie in the middle of the route.
	Span float64
	// Settings are those of the walk, of the track work that its ends lie at, and of what feeds
	// the rails beyond.
	Settings []Setting
	// Legs are joined: opposite legs of one phase, in the order of the walk.
	Legs [2]Label
	// Between are the free sources that feed rail between the two, in the order of the walk.
	Between []int32
	// Train is the longest that may stand there, -1 when no train of known length is long enough;
	// Reach is that length. A train that rolls on plastic wheels counts with its pick-up base.
	Train int32
	Reach float64
	// Unsure says that some length on the walk is unknown: Span is the least it can be.
	Unsure bool
}

// Straddled is what trains join.
type Straddled struct {
	// List holds the faults, by their first places, then span.
	List []Straddle
	// Open are those that only a train whose length is unknown, or a length of track that is
	// unknown, would make.
	Open []Straddle
	// Stopped are the ways from which the search was not complete.
	Stopped []int32
}

const (
	// straddleWork bounds the search: windows that are judged, and ways that are walked.
	straddleWork = 1 << 19
	// straddleWorkEach bounds the same from one first place.
	straddleWorkEach = 1 << 13
	// longestUnknown is how long a train of unknown length is taken to be at most, in metres, and
	// longestPickup an unknown pick-up base. Common practice, no source.
	longestUnknown = 12
	longestPickup  = 0.5
)

// Straddles looks at every place where a train can stand on a route that valid settings allow. A
// walk turns back nowhere, passes each piece of track work once, and no length of track twice: so
// the train's own length ends it on a ring. Any train may also be shorter than it is said
// to be. Rail that no leg reaches conducts through.
//
// Method: the places that wheels bridge are the borders of nets along the walk. From each of them
// walks are stretched, place by place, until the two farthest lie a train's length apart; the
// rails so joined are judged as a signed graph of phases (Harary 1953). The error is ctx's only.
func (t *Trace) Straddles(ctx context.Context) (*Straddled, error) {
	s := t.newStraddler()
	out := &Straddled{}
	for way := range s.c.Ways {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if !s.starts(int32(way)) {
			continue
		}
		w := &s.c.Ways[way]
		s.each, s.dropped = straddleWorkEach, false
		open := len(s.g.open)
		for _, p := range [2]Pace{{int32(way), w.A, w.B}, {int32(way), w.B, w.A}} {
			s.begin(p)
		}
		if s.each < 0 || s.left < 0 || s.dropped || len(s.g.open) > open {
			out.Stopped = append(out.Stopped, int32(way))
		}
	}
	for _, f := range s.found {
		if f.Train >= 0 && !f.Unsure {
			out.List = append(out.List, f)
		} else {
			out.Open = append(out.Open, f)
		}
	}
	for _, list := range [2][]Straddle{out.List, out.Open} {
		slices.SortStableFunc(list, func(x, y Straddle) int {
			return cmp.Or(cmp.Compare(x.Places[0], y.Places[0]), cmp.Compare(x.Span, y.Span), slices.Compare(x.Places, y.Places))
		})
	}
	return out, nil
}

// straddler searches for straddles.
type straddler struct {
	t      *Trace
	c      *circuit.Circuit
	g      *together
	pairs  [][][2]int32 // by way: nets that wheels join, by rail
	class  []phaseClass // by source
	trains []straddling
	never  [][]Setting
	told   [][]Setting // settings that short by themselves

	left, each int
	dropped    bool // more sets of further settings than are tried
	found      []Straddle
	at         map[straddleKey]int
}

// straddling is a train as it bridges gaps: those less than metres apart, which is 0 when that is unknown,
// and then less than most.
type straddling struct {
	train        int32
	metres, most float64
}

// straddleKey tells straddles apart: by their outermost places, and what lies between.
type straddleKey struct {
	kind    StraddleKind
	ends    [2]int32
	between int32
	open    bool
}

func (t *Trace) newStraddler() *straddler {
	c, masked, _ := t.putRight()
	f := &conflictFinder{c: c, masked: masked, never: exclusions(c)}
	nets := joinNets(c, func(i int32, k *circuit.Conductor) bool {
		return !k.Parts() && takesSwitch(c, k) && !masked[i]
	})
	s := &straddler{
		t: t, c: c, never: f.never, left: straddleWork, at: map[straddleKey]int{}, pairs: make([][][2]int32, len(c.Ways)),
	}
	s.g = f.newTogether(nets, func(i int32, k *circuit.Conductor) bool {
		return f.shorts(i, k) && !c.Devices[k.Device].Momentary(k.Position) // no train runs in a moment
	})
	s.class = phaseClasses(c)
	for i := range t.Conflicts {
		if x := &t.Conflicts[i]; len(x.Settings) > 0 {
			s.told = append(s.told, x.Settings)
		}
	}
	s.straddlingTrains()
	for i := range c.Ways {
		s.place(int32(i))
	}
	return s
}

// straddlingTrains lists the trains by how far apart two gaps are that they join.
func (s *straddler) straddlingTrains() {
	l := s.c.Layout
	for i := range l.Trains {
		x := straddling{train: int32(i), most: longestUnknown}
		wheels := l.Trains[i].Wheels
		if wheels == layout.WheelsUnsaid {
			wheels = l.Operations.Wheels
		}
		length := l.Trains[i].Length
		if wheels == layout.PlasticWheels {
			length, x.most = l.Operations.Pickup, longestPickup
		}
		if length.Known() {
			x.metres, x.most = length.Hi, length.Hi
		}
		s.trains = append(s.trains, x)
	}
}
