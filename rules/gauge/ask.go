package gauge

import "gapwise/netlist/quantity"

// System of sizes.
type System uint8

const (
	AsTyped System = iota // a run keeps the system in which its present wire was typed, AWG where none was
	AWG
	Metric
)

// Ask is what wire is to be chosen by.
type Ask struct {
	ByPrice bool // the owner's money as `stock` has it, else kilograms of copper
	System  System
	Sizes   []quantity.Wire // no others are chosen; empty: those of the stock, or what shops keep
	Keep    []string        // runs that stay as they are: names of buses, "feeders of NAME"
	// Margin is how far above its trip, in parts of it, the weakest short has to draw.
	Margin float64
	// WireDrop is the most that trains may lose in buses and feeders at any point, over what the same track
	// would lose with wire of no resistance: volts, or with Relative parts of the source's volts. 0 sets no limit.
	WireDrop float64
	Relative bool
	// LoseOne asks that every limit of shorts and of the whole drop hold too when any one feeder breaks.
	LoseOne bool
	// Work bounds the search of one source: looks at a choice, those at every demand counted fourfold. 0 takes as many as
	// DefaultWork says for a source of its size.
	Work int
}

// DefaultWireDrop is the working value of NEM 604:2013, 2.2: half a volt a conductor.
const DefaultWireDrop = 1.0

// WireDropSource names where it comes from.
const WireDropSource = "working value of NEM 604:2013, 2.2: 0.5 V a conductor"

// DefaultMargin is how far above its trip the weakest short should draw, in parts of it. Common practice, no source.
const DefaultMargin = 0.25

// DefaultWork is how many looks at a choice the search of one source may take that has so many conductors: all take about as
// long, and a look at a large one takes longer.
func DefaultWork(conductors int) int {
	return min(15_000, max(300, 9_000_000/max(1, conductors)))
}
