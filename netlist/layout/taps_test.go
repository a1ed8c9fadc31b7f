package layout

import (
	"slices"
	"testing"

	"gapwise/netlist/quantity"
)

// tapAt is a tap of bus 0.
func tapAt(m float64) Tap { return Tap{At: quantity.Length{Value: quantity.Exact(m)}} }

func fromTap(m float64) Source { return Source{Kind: FromTap, Tap: tapAt(m)} }

// TestTaps: every tap is visited once, and a copy that owns its taps shares none of them.
func TestTaps(t *testing.T) {
	l := &Layout{
		Feeders:        []Feeder{{From: [2]Tap{tapAt(1), tapAt(2)}}},
		Buses:          []Bus{{}, {From: fromTap(3)}},
		Breakers:       []Breaker{{From: fromTap(4)}},
		Reversers:      []Reverser{{From: fromTap(5)}},
		Detectors:      []Detector{{From: fromTap(6)}},
		InLines:        []InLine{{From: fromTap(7)}},
		Plugs:          []Plug{{From: fromTap(8)}},
		Changeovers:    []Changeover{{Positions: []Position{{From: fromTap(9)}, {From: fromTap(10)}}}},
		Turntables:     []Turntable{{From: fromTap(11)}},
		TransferTables: []TransferTable{{From: fromTap(12)}},
		Turnouts:       []Turnout{{FrogTap: tapAt(13)}},
		Terminators:    []Terminator{{Tap: tapAt(14)}},
		Loads:          []Load{{Tap: tapAt(15)}},
	}
	want := []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15}
	if got := l.TapsOf(0); !slices.Equal(got, want) {
		t.Errorf("taps at %v", got)
	}
	own := l.OwnTaps()
	own.EachTap(func(x *Tap) { x.Bus = 7 })
	if got := l.TapsOf(0); !slices.Equal(got, want) {
		t.Errorf("a copy's taps are the layout's own: %v", got)
	}
	if got := own.TapsOf(7); !slices.Equal(got, want) {
		t.Errorf("of the copy %v", got)
	}
}
