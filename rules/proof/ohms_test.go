package proof

import (
	"context"
	"math"
	"testing"
	"time"

	"gapwise/netlist/conductor"
	"gapwise/netlist/quantity"
	"gapwise/netlist/source"

	"gapwise/rules/proof/oracle"
)

// TestOhmsOfSoundLayouts has the oracle compute every point of the demo layouts and of thirty generated ones.
func TestOhmsOfSoundLayouts(t *testing.T) {
	sound, err := SoundLayouts(context.Background(), "../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	for i := range 30 {
		sound = append(sound, Generated(i))
	}
	from := time.Now()
	for _, s := range sound {
		points, err := oracle.Ohms(s.Text)
		if err != nil {
			t.Errorf("%s: %v", s.Name, err)
			continue
		}
		if len(points) < 100 {
			t.Errorf("%s: only %d points", s.Name, len(points))
		}
		for _, p := range points {
			lawful := p.ROhmStrong > 0 && p.ROhmStrong <= p.ROhmWeak && p.ShortWeak <= p.ShortStrong && p.Drop <= p.DropMost+1e-9 && p.DropLeast <= p.DropMost+1e-9
			if p.Source == "" || !lawful || p.Skipped || math.IsInf(p.ROhmWeak, 0) {
				t.Errorf("%s: %+v", s.Name, p)
			}
		}
		if _, err := oracle.Hazards(s.Text); err != nil {
			t.Errorf("%s: %v", s.Name, err)
		}
	}
	if took := time.Since(from); took > 20*time.Second {
		t.Errorf("took %v", took)
	}
}

// TestOhmsAssumeTheSame holds what the oracle takes for granted against the program's own tables: where they part,
// no other number of the two need agree.
func TestOhmsAssumeTheSame(t *testing.T) {
	assumed := oracle.Assumed()
	own := map[string]conductor.Value{
		"soldered joint": conductor.SolderedJoint, "plain joiner": conductor.PlainJoiner, "sliding joint": conductor.SlidingJoint,
		"blade touch": conductor.BladeTouch, "contact": conductor.FrogContact, "splice": conductor.Splice, "bus splice": conductor.BusSplice,
		"plug": conductor.PlugContact, "ring": conductor.TurntableRing, "detector": conductor.DetectorSeries,
		"detector drop": conductor.DetectorDrop, "breaker": conductor.BreakerResistance, "reverser": conductor.ReverserResistance,
		"booster inside": conductor.BoosterInside, "lamp": conductor.LampCold, "fuse": conductor.FuseResistance,
		"ptc": conductor.PTCResistance, "short": conductor.ShortItself, "room": conductor.RoomTemperature,
	}
	if len(own) != len(assumed) {
		t.Errorf("%d values here, %d in the oracle", len(own), len(assumed))
	}
	for name, v := range own {
		if got := assumed[name]; got != [2]float64{v.Lo, v.Hi} {
			t.Errorf("%s: the oracle has %v, the program %v", name, got, v.Range)
		}
	}
}

var room = conductor.Range{Lo: 8, Hi: 33}

func TestOhmsOfWireAndRail(t *testing.T) {
	for _, size := range []string{"10 AWG", "14 AWG", "20 AWG", "24 .. 22 AWG", "0.14 mm²", "0.4 mm²", "0.5 mm²", "0.9 mm²", "1.5 mm²", "12 mm²", "25 mm²"} {
		lo, hi, ok := oracle.WireOhms(size, room.Lo, room.Hi)
		w := wireOf(t, size)
		want := conductor.WireOhms(w, room)
		if !ok || !same(lo, want.Lo) || !same(hi, want.Hi) {
			t.Errorf("%s: the oracle has %g .. %g, %t; the program %v", size, lo, hi, ok, want)
		}
		for _, paired := range []bool{false, true} {
			amps := w.Lo * 1e6 * 8 // 8 A/mm²
			got, _ := oracle.WireCelsius(size, amps, 30, paired)
			// the two do not take the properties of air from one formula
			if want := conductor.SteadyCelsius(w, amps, 30, paired); math.Abs(got-want) > 0.06*(want-30)+0.1 {
				t.Errorf("%s at %.2f A: the oracle has %.1f °C, the program %.1f", size, amps, got, want)
			}
		}
	}
	for _, r := range []struct {
		text  string
		code  int
		metal string
	}{
		{"code 100 nickel silver", 100, "nickel silver"},
		{"code 83 nickel silver", 83, "nickel silver"},
		{"code 55 nickel silver", 55, "nickel silver"},
		{"code 100 brass", 100, "brass"},
		{"code 148 brass", 148, "brass"},
		{"code 100 steel", 100, "steel"},
		{"code 250 aluminium", 250, "aluminium"},
	} {
		lo, hi, ok := oracle.RailOhms(r.text, room.Lo, room.Hi)
		if want, known := conductor.RailOhms(r.code, r.metal, room); !ok || !known || !same(lo, want.Lo) || !same(hi, want.Hi) {
			t.Errorf("%s: the oracle has %g .. %g, %t; the program %v, %t", r.text, lo, hi, ok, want, known)
		}
	}
	lo, hi, ok := oracle.RailOhms("unknown", room.Lo, room.Hi)
	if want := conductor.RailOhmsWidest(room); ok || !same(lo, want.Lo) || !same(hi, want.Hi) {
		t.Errorf("unknown rail: the oracle has %g .. %g, %t; the program %v", lo, hi, ok, want)
	}
}

// same allows for rounding and for constants typed with four digits.
func same(x, y float64) bool { return math.Abs(x-y) <= 1e-4*math.Abs(y) }

func wireOf(t *testing.T, size string) quantity.Wire {
	t.Helper()
	w, err := quantity.ParseWire(size, source.Pos{})
	if err != nil {
		t.Fatalf("%s: %v", size, err)
	}
	return w
}
