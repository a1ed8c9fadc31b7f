// Package generate makes sound layouts of any size, for tests and benchmarks: a line of
// towns with passing sidings, yards, spurs and reversing loops, wired without a mistake.
//
// Nothing here is measured from a real layout: lengths, counts and ratings are what a
// club-sized layout might have (common practice, no source).
package generate

import (
	"math/rand/v2"

	"gapwise/netlist/layout"
)

// Layout makes a sound layout with about so many conductors, never fewer than one
// town's worth (some hundreds). The same numbers give the same layout. Its entries have
// no place in a file: write it with YAML and read that, to have them.
func Layout(conductors int, seed uint64) *layout.Layout {
	b := newBuilder(seed)
	for {
		b.town()
		half := b.conductors / (2 * b.towns)
		if b.conductors+half >= conductors {
			break
		}
	}
	b.lineEnd()
	return b.layout()
}

// builder holds the plan while it grows. Lengths are whole inches. Tracks and turnouts
// are planned apart and become pieces of one list when the plan is whole.
type builder struct {
	rand       *rand.Rand
	towns      int
	conductors int // that the circuit will have of what is planned so far

	tracks    []track
	turnouts  []turnout
	boosters  int
	breakers  []origin // what each hangs from
	reversers []origin
	detectors []detector
	buses     []bus
	blocks    []block
	districts []district

	line line
}

// line is where the main line and its power have got to.
type line struct {
	end     ref    // where the next track starts
	last    supply // what feeds that end
	block   int32  // the block at that end: the next track's first inches are in it
	breaker breakerInUse
	booster boosterInUse
}

func newBuilder(seed uint64) *builder {
	return &builder{
		rand: rand.New(rand.NewPCG(seed, 0)),
		line: line{end: nowhere},
	}
}

// between is a random whole number from lo to hi, both included.
func (b *builder) between(lo, hi int) int { return lo + b.rand.IntN(hi-lo+1) }

// oneIn is true once in n times.
func (b *builder) oneIn(n int) bool { return b.rand.IntN(n) == 0 }
