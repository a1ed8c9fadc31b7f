package dcc

import "math"

// Pair is a pair of wires by the metre.
type Pair struct {
	Henries float64 // per metre
	Farads  float64 // per metre
}

// SurgeOhms is the resistance that ends a pair without an echo: √(L'/C').
func (p Pair) SurgeOhms() float64 { return math.Sqrt(p.Henries / p.Farads) }

// TravelSeconds is how long an edge takes from one end to the other: length·√(L'C').
func (p Pair) TravelSeconds(length float64) float64 { return length * math.Sqrt(p.Henries*p.Farads) }

// EdgeSeconds is how long a source of ±volts takes to turn over at a steepness in volts a second.
func EdgeSeconds(volts, slew float64) float64 { return 2 * math.Abs(volts) / slew }

// An edge that takes less than this many times its travel along the pair rings at an open end, as its
// echoes meet it while it lasts: common practice, no source.
const EdgeTravels = 6

// FastEdge is how long an edge takes when nobody knows, in seconds: common practice, no source. The
// standard only has a least steepness (Slew), of which the slowest edges ring on no layout.
const FastEdge = 0.3e-6

// RingsFrom is the length in metres from which a pair rings on edges that take so many seconds.
func (p Pair) RingsFrom(edge float64) float64 {
	return edge / (EdgeTravels * math.Sqrt(p.Henries*p.Farads))
}
