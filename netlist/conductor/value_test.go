package conductor

import (
	"math"
	"testing"
)

// Every value says what it is and where it comes from; no two are the same thing.
func TestAll(t *testing.T) {
	seen := map[string]bool{}
	for _, v := range All() {
		if v.What == "" || v.Source == "" || seen[v.What] {
			t.Errorf("%+v: no name, no source, or twice", v)
		}
		seen[v.What] = true
		if !(v.Lo <= v.Hi) || math.IsInf(v.Hi, 0) || v.Lo < 0 {
			t.Errorf("%s: %v", v.What, v.Range)
		}
	}
	for _, want := range []string{"code 83 nickel silver rail", RoomTemperature.What, ShortItself.What, BaseHumidity.What} {
		if !seen[want] {
			t.Errorf("%s is not listed", want)
		}
	}
}

// Rules of thumb say that they are; a measured rail never does.
func TestSourcesAreHonest(t *testing.T) {
	for _, v := range []Value{SolderedJoint, PlainJoiner, SlidingJoint, BladeTouch, FrogContact, Splice, BusSplice, PlugContact, TurntableRing, DetectorSeries, DetectorDrop, BreakerResistance, ReverserResistance, BoosterInside, LampCold, FuseResistance, PTCResistance, ShortItself, RoomTemperature} {
		if v.Source != CommonPractice {
			t.Errorf("%s: %s", v.What, v.Source)
		}
	}
	for _, v := range railRows() {
		if v.Source == CommonPractice || v.Source == Memory {
			t.Errorf("%s: %s", v.What, v.Source)
		}
	}
	// RP931: a detector takes at most 200 mV at a decoder's 34 mA, 5.9 ohm; ours take far less
	// beside their diodes.
	limit := 0.2 / 0.034
	agrees(t, "RP931 ohm", limit, "5.9")
	if DetectorSeries.Hi > limit {
		t.Errorf("detector %v", DetectorSeries.Range)
	}
	// From new joiner to failed one, in order of trust.
	if !(SolderedJoint.Hi <= PlainJoiner.Lo && PlainJoiner.Hi < SlidingJoint.Hi) {
		t.Error("joints out of order")
	}
}
