package conductor

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"gapwise/netlist/quantity"
)

const (
	inch = 0.0254
	foot = 0.3048
)

var room20 = Exact(20)

// agrees compares with a printed number, to half a unit of its last digit.
func agrees(t *testing.T, what string, got float64, printed string) {
	t.Helper()
	want, err := strconv.ParseFloat(printed, 64)
	if err != nil {
		t.Fatal(err)
	}
	half := 0.5
	if _, decimals, ok := strings.Cut(printed, "."); ok {
		half *= math.Pow(10, -float64(len(decimals)))
	}
	if !(math.Abs(got-want) <= half*(1+1e-6)) {
		t.Errorf("%s: %v, printed %s", what, got, printed)
	}
}

// within compares with a share of what is wanted.
func within(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if !(math.Abs(got-want) <= share*math.Abs(want)) {
		t.Errorf("%s: %v, want %v within %v", what, got, want, share)
	}
}

func awg(n int) quantity.Wire {
	return quantity.Wire{Value: quantity.Exact(quantity.AWGArea(n)), Gauge: n, HasGauge: true}
}

func metric(mm2 float64) quantity.Wire { return quantity.Wire{Value: quantity.Exact(mm2 * 1e-6)} }
