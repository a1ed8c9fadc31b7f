package split

import (
	"gapwise/netlist/layout"

	"gapwise/districts/partition"
	"gapwise/rules"
	"gapwise/rules/finding"
)

// Answer is how a layout is divided, and the work that takes.
type Answer struct {
	Layout   *layout.Layout
	Ask      Ask
	With     With
	From     string // where power is fed in
	Feasible partition.Feasibility
	Why      []string // when nothing was found: what stands in the way
	Give     []string // what would have to give
	// Terms are what the division is worth, in the order they rank.
	Terms []Term
	Most  int // districts that were allowed
	// Fewest says that fewer districts are proved impossible; it is only sought when their number is not asked for.
	Fewest    bool
	Total     int64 // milliamperes that may be drawn in all
	Districts []District
	Cuts      []Place
	Devices   []string // to be added
	Buses     []Bus
	Moves     []Move
	Feeders   []NewFeeder
	LeftOut   []LeftOut
	Notes     []string
	// Overloaded says that some booster may come to carry more than it may, with breakers behind several; a note names it.
	Overloaded bool
	// Refused says why the division cannot be written into the layout's files.
	Refused []string
	// Brought are faults and cautions that a check of the layout with the division finds, and one of it as it is does not, or finds
	// less grave; Gone is how many it no longer finds, Stay how many as before.
	Brought    []finding.Finding
	Gone, Stay int
	After      *rules.Report // the check with the division; nil when it was not written in memory
	Nodes      int           // pieces of track that were to be divided
	Work       int64

	plan *plan
}

// Term is one aim, and what of it is proved.
type Term struct {
	Term   partition.Term
	Value  int64
	Bound  int64 // no division does better, the terms before being as they are
	Proven bool
}

// District is one district of the division.
type District struct {
	Name   string
	Device Device
	Blocks []string // as meant
	Tracks []string // that are in no block
	Metres float64
	Load   int64 // milliamperes at most
	May    int64 // milliamperes that it may draw, the margin taken off
	Trains int   // that can be in it at once: what one short stops
	Short  Figure
	Drop   Figure

	atoms []int32
}

// Figure is a figure of the check with the division written in.
type Figure struct {
	Text  string // "" when there is none
	Place string
	Value float64 // amperes or volts
}

// Bus is a run of wire to be added, or one that hangs from another source than before (From and To say which).
type Bus struct {
	Name, From, Wire string
	Metres           float64
	New              bool
	Was              string // what it hung from; "" of a new one
	District         string
}

// Move is a feeder, or a device, that hangs from another tap than before.
type Move struct{ What, From, To, District string }

// NewFeeder is a feeder for track that the cuts leave without one.
type NewFeeder struct{ Place, From, A, Wire, District string }
