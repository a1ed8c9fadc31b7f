package power

import (
	"context"
	"fmt"
	"testing"

	"gapwise/netlist/conductor"
	"gapwise/netlist/layout"
	"gapwise/netlist/reader"
)

// watched is a line of two blocks behind one booster of 15 V, the first with a detector.
const watched = `gapwise: 1
layout: Watched line
scale: HO
tracks:
  line: {from: end, to: end, length: 24 ft, rail: code 83 nickel silver}
gaps:
  line: [{at: 12 ft, rails: both, kind: insulated, fill: styrene}]
supplies:
  brick: {volts: 18 V, rating: 6 A}
boosters:
  one: {supply: brick, volts: 15 V, inside: 0.1 Ω, trips-at: 5 A}
detectors:
  eye: {from: main @ 1 ft, leg: A, drop: %s, sees: 12 kΩ}
buses:
  main: {from: booster one, wire: 14 AWG, laid: twisted, length: 24 ft}
  own:  {from: detector eye, %s}
feeders:
  line:
    A: left
    3 ft:  {from: main @ 3 ft, A-from: own @ 2 ft, wire: 20 AWG, length: 8 in}
    15 ft: {from: main @ 15 ft, wire: 20 AWG, length: 8 in}
%s`

func watchedStudy(t *testing.T, drop, own, more string) *Study {
	t.Helper()
	text := fmt.Sprintf(watched, drop, own, more)
	l, problems, err := reader.Read(context.Background(), func(string) ([]byte, error) { return []byte(text), nil }, "layout.yaml", reader.Options{})
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	return studyOf(t, l)
}

func sensedBy(t *testing.T, own, more string) Sensed {
	t.Helper()
	all := watchedStudy(t, "0.7 V", own, more).Heads[0].Sensed()
	if len(all) != 1 {
		t.Fatalf("%d detectors sensed", len(all))
	}
	return all[0]
}

const shortWire = "legs: A, wire: 16 AWG, beside: {main: 0 in}, length: 3 ft"

// TestSensedNetwork: 100 Ω with 0.1 µF at 15 V draw 51.4 mA on average under one bits (worked in a circuit
// simulator), where they hang behind the detector, by the rails or by its bus, and nothing elsewhere.
func TestSensedNetwork(t *testing.T) {
	for place, want := range map[string]float64{"line @ 5 ft": 51.4e-3, "line @ 20 ft": 0, "main @ 24 ft": 0} {
		s := sensedBy(t, shortWire, "terminators:\n  - {at: "+place+", resistance: 100 Ω, capacitance: 0.1 µF}\n")
		if !alike(s.Fixed.Lo, want, 1e-3) || !alike(s.Fixed.Hi, want, 1e-3) {
			t.Errorf("a network at %s draws %v A, want %v", place, s.Fixed, want)
		}
	}
}

// TestSensedLoads: Ohm's law for a resistance, and a load's own current.
func TestSensedLoads(t *testing.T) {
	for load, want := range map[string]float64{"draws: 20 mA": 20e-3, "resistance: 15 kΩ": 1e-3, "capacitance: 1 nF": 0.5172e-3} {
		s := sensedBy(t, shortWire, "loads:\n  - {at: line @ 5 ft, kind: lamp, "+load+"}\n")
		if !alike(s.Fixed.Lo, want, 1e-3) || !alike(s.Fixed.Hi, want, 1e-3) {
			t.Errorf("a load of %s draws %v A, want %v", load, s.Fixed, want)
		}
	}
	if s := sensedBy(t, shortWire, "loads:\n  - {at: line @ 5 ft, kind: lamp}\n"); !s.Assumed {
		t.Error("a load that says nothing is taken for none")
	}
}

// TestSensedWires: 100 ft more of a pair of 14 AWG, 1/8 in apart in insulation of 3 times air, pass 1.021 mA at 15 V and 8621 Hz
// (4 V C f of 1.975 nF, worked by hand); the range of a twisted pair has to hold that.
func TestSensedWires(t *testing.T) {
	pair := func(feet int) conductor.Range {
		return sensedBy(t, fmt.Sprintf("legs: both, wire: 14 AWG, laid: twisted, length: %d ft", feet), "").Wires
	}
	long, short := pair(103), pair(3)
	if more := (conductor.Range{Lo: long.Lo - short.Lo, Hi: long.Hi - short.Hi}); !more.Contains(1.021e-3) {
		t.Errorf("100 ft of pair pass %v A, and 1.021 mA is not among it", more)
	}
	if beside, alone := sensedBy(t, shortWire, "").Wires, sensedBy(t, "legs: A, wire: 16 AWG, length: 3 ft", "").Wires; beside.Lo <= alone.Lo {
		t.Errorf("a wire beside the other leg passes %v A, one anywhere %v", beside, alone)
	}
}

// TestUnevens: the volts differ by the detector's drop, and the side behind it has fewer.
func TestUnevens(t *testing.T) {
	for drop, want := range map[string]conductor.Range{"0.7 V": conductor.Exact(0.7), "0.7 .. 1.4 V": {Lo: 0.7, Hi: 1.4}} {
		s := watchedStudy(t, drop, shortWire, "")
		us := s.Heads[0].Unevens()
		if len(us) != 1 {
			t.Fatalf("%d gaps are uneven, want 1", len(us))
		}
		u := &us[0]
		if !alike(u.Volts.Lo, want.Lo, 1e-9) || !alike(u.Volts.Hi, want.Hi, 1e-9) {
			t.Errorf("with a drop of %s volts differ by %v, want %v", drop, u.Volts, want)
		}
		far := s.C.Spots[u.Far]
		near := s.C.Ways[u.Way].A + s.C.Ways[u.Way].B - u.Far
		if p := &s.C.Layout.Pieces[far.Piece]; p.Kind != layout.TrackPiece {
			t.Errorf("the far side is on %s", p.Name)
		}
		if !reaches(s, u.Far, 0) || reaches(s, near, 0) {
			t.Error("the far side is not the one behind the detector")
		}
	}
}

// reaches reports whether track leads from a spot to a reading of the line without a gap.
func reaches(s *Study, spot int32, at float64) bool {
	zone := s.T.Zones.Of[spot]
	for _, o := range s.C.TrackSpots[0] {
		if s.C.Spots[o].At == at && s.T.Zones.Of[o] == zone {
			return true
		}
	}
	return false
}
