package catalogue

import (
	"math"
	"testing"
)

// TestCloses holds the movement of 96 in of nickel silver rail (9.1e-6 per °F) on plywood
// against a table computed apart from this program, facts.md section 8, from APA's
// figures for plywood (3.4e-6 per °F, 0.0002 per 10 % relative humidity); positive closes. The
// table is in inches, rounded to a tenth of a thousandth.
func TestCloses(t *testing.T) {
	for _, c := range []struct{ fahrenheit, humidity, want float64 }{
		{20, 40, -0.0659},
		{20, -40, 0.0877},
		{-20, 40, -0.0877},
		{-20, -40, 0.0659},
	} {
		// 6.1e-6 per K is the table's 3.4e-6 per °F rounded: a thousandth of the result
		if got := closes(96, 9.1e-6*1.8, c.fahrenheit/1.8, c.humidity/10); math.Abs(got-c.want) > 0.0001 {
			t.Errorf("%+v: %.4f", c, got)
		}
	}
}

// TestLongestRun is how far the doc of the rule says that nickel silver may run.
func TestLongestRun(t *testing.T) {
	least, most := movesPerMetre(nickelSilver)
	if inches := jointPlay / most / 0.0254; least != most || inches < 67.5 || inches > 68.5 {
		t.Errorf("nickel silver may run %.1f in, the doc says 5 ft 8 in", inches)
	}
}
