package reader

import "testing"

func TestSpokenOf(t *testing.T) {
	among := []string{"ends", "buses", "breakers", "in-line", "feeders", "common-rail", "commons"}
	for typed, want := range map[string]string{
		"circuit-breakers": "breakers", "circuitbreaker": "breakers", "Power_Bus": "buses", "my-ends": "ends",
		"in-line-lamps": "in-line", "bus-breakers": "breakers", "legends": "", "bus": "buses", "odds": "", "": "",
		"the-common-rail": "common-rail",
	} {
		if got := spokenOf(typed, among); got != want {
			t.Errorf("%q: %q, want %q", typed, got, want)
		}
	}
}
