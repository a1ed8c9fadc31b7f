package proof

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// networksInside puts a terminating network across the rails at each feeder whose watched leg
// comes from a detector.
func networksInside(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Feeders {
		d := detectorOf(l, &l.Feeders[i])
		if d < 0 || !l.Detectors[d].Sees.Known() {
			continue
		}
		out = append(out, Fault{
			Where: Spotted{Names: []string{l.Detectors[d].Name}}, Meant: []string{"false-occupancy"},
			Change: func(l *layout.Layout) {
				l.Terminators = append(l.Terminators, layout.Terminator{
					OnRail: true, Place: l.Feeders[i].Place,
					Resistance:  quantity.Resistance{Value: known(100, "Ω")},
					Capacitance: quantity.Capacitance{Value: quantity.Value{State: quantity.Known, Lo: 100e-9, Hi: 100e-9, Text: "0.1 µF"}},
				})
			},
		})
	}
	return out
}

// detectorOf is the detector from whose own wire a feeder hangs, -1 for none.
func detectorOf(l *layout.Layout, f *layout.Feeder) int32 {
	for leg, tap := range f.From {
		if tap.Bus < 0 {
			continue
		}
		from := &l.Buses[tap.Bus].From
		if from.Kind == layout.FromDetector && l.Detectors[from.Index].Leg == layout.Leg(leg) {
			return from.Index
		}
	}
	return -1
}

// detectorsDulled lets each detector see no more than half the ohms of the axles that come.
func detectorsDulled(l *layout.Layout) []Fault {
	least := 0.0
	for i := range l.Trains {
		if t := &l.Trains[i]; t.ResistorCars > 0 && t.Resistor.Known() && (least == 0 || t.Resistor.Lo < least) {
			least = t.Resistor.Lo
		}
	}
	if least == 0 {
		return nil
	}
	var out []Fault
	for i := range l.Detectors {
		out = append(out, Fault{
			Where: Spotted{Names: []string{l.Detectors[i].Name}}, Meant: []string{"wheelset-not-seen"},
			Change: func(l *layout.Layout) {
				l.Detectors[i].Sees = quantity.Resistance{Value: known(least/2, "Ω")}
			},
		})
	}
	return out
}

// dropsRaised lets each detector drop 3 V.
func dropsRaised(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Detectors {
		out = append(out, Fault{
			Where: Spotted{Names: []string{l.Detectors[i].Name}}, Meant: []string{"detector-drop-uneven"},
			Change: func(l *layout.Layout) {
				l.Detectors[i].Drop = quantity.Voltage{Value: known(3, "V")}
			},
		})
	}
	return out
}

// longBusesOpen leaves each long bus without a terminating network, under a practice that asks for
// one.
func longBusesOpen(l *layout.Layout) []Fault {
	const long = 15.0 // metres: longer than any pair may be that does not ring
	var out []Fault
	for i := range l.Buses {
		b := &l.Buses[i]
		if b.Use != layout.BusTrack || b.Legs != layout.LegsBoth || !b.Length.Known() || b.Length.Lo < long || b.Returns.Bus >= 0 {
			continue
		}
		out = append(out, Fault{
			Where: Spotted{Names: []string{b.Name}}, Meant: []string{"bus-ringing"},
			Change: func(l *layout.Layout) {
				var left []layout.Terminator
				for _, t := range l.Terminators {
					if t.OnRail || int(t.Tap.Bus) != i {
						left = append(left, t)
					}
				}
				l.Terminators = left
				practise(l, "long-buses-terminated")
			},
		})
	}
	return out
}

// gapsNarrowed leaves 0.1 mm of each expansion gap in a straight track, under a practice that
// wants them to stay open.
func gapsNarrowed(l *layout.Layout) []Fault {
	var out []Fault
	for i := range l.Gaps {
		g := &l.Gaps[i]
		p := &l.Pieces[g.Place.Piece]
		if g.Kind != layout.Expansion || g.Joint == layout.Sliding || p.Kind != layout.TrackPiece || l.Tracks[p.Index].Straight != layout.Yes {
			continue
		}
		out = append(out, Fault{
			Where: spot(l, g.Place), Meant: []string{"gap-may-close"},
			Change: func(l *layout.Layout) {
				l.Gaps[i].Width = quantity.Length{Value: known(0.0001, "m")}
				practise(l, "gaps-stay-open")
			},
		})
	}
	return out
}
