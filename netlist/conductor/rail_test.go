package conductor

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// RA, RB: measured rail, mohm per foot of one rail and of the pair.
func TestMeasuredRail(t *testing.T) {
	agrees(t, "RA code 100 mohm/m", sampled100*1e3, "57.1")
	agrees(t, "RA brass mohm/m", 0.48/inch, "18.9")
	agrees(t, "the two sources' difference", 100*(spread-1), "33")
	for _, r := range []struct {
		code       int
		metal      string
		perMetre   float64
		foot, pair string
	}{
		{100, "nickel silver", 1.45e-3 / inch, "17.4", "34.8"}, // RA
		{100, "nickel silver", 76e-3, "23.2", "46.3"},          // RB
		{83, "nickel silver", 108e-3, "32.9", "65.8"},          // RB
		{70, "nickel silver", 206e-3, "62.8", "125.6"},         // RB
		{100, "brass", 0.48e-3 / inch, "5.76", "11.5"},         // RA
	} {
		what := fmt.Sprint("code ", r.code, " ", r.metal)
		agrees(t, what, r.perMetre*foot*1e3, r.foot)
		agrees(t, what+" pair", 2*r.perMetre*foot*1e3, r.pair)
		v, ok := RailAt20(r.code, r.metal)
		if !ok || r.perMetre < v.Lo*(1-1e-12) || r.perMetre > v.Hi*(1+1e-12) {
			t.Errorf("%s: %v not in %v", what, r.perMetre, v.Range)
		}
		if v.Hi/v.Lo < spread*(1-1e-12) {
			t.Errorf("%s: spread %v", what, v.Hi/v.Lo)
		}
	}
	for _, code := range []int{83, 70} {
		v, _ := RailAt20(code, "nickel silver")
		within(t, fmt.Sprint("middle of code ", code), math.Sqrt(v.Lo*v.Hi), map[int]float64{83: 108e-3, 70: 206e-3}[code], 1e-12)
	}
}

// ALY: conductivity of the alloys against copper's, 28 % and 7.5 %. Facts section 4, derived:
// what RB's figures say of the cross-section if the resistivity is 190 nΩm.
func TestRailMetal(t *testing.T) {
	agrees(t, "ALY C26000 nΩm", CopperResistivity(20)/0.28*1e9, "61.6")
	agrees(t, "ALY C73100 nΩm", CopperResistivity(20)/0.075*1e9, "230")
	brass, _ := findMetal("brass")
	silver, _ := findMetal("nickel silver")
	agrees(t, "our brass begins at", brass.resistivity.Lo*1e9, "61.6")
	for what, rho := range map[string]float64{"C73100": 230e-9, "65-18 alloy (from memory)": 287e-9, "by RA's brass": 61.6e-9 * 1.45 / 0.48} {
		if rho < silver.resistivity.Lo*0.97 || rho > silver.resistivity.Hi {
			t.Errorf("%s: %v outside %v", what, rho, silver.resistivity)
		}
	}
	for _, r := range []struct {
		ohms float64
		mm2  string
	}{{76e-3, "2.50"}, {108e-3, "1.76"}, {206e-3, "0.92"}} {
		agrees(t, "area by RB", 190e-9/r.ohms*1e6, r.mm2)
	}
	if !area100.Contains(190e-9 / 76e-3) {
		t.Error("code 100's area by RB is outside ours")
	}
}

// Every metal of the language has a resistance at every code of it, in order; what is not
// said gives none.
func TestEveryRail(t *testing.T) {
	widest := RailOhmsWidest(Range{10, 35})
	for _, m := range []string{"nickel silver", "brass", "steel", "stainless steel", "aluminium", "copper"} {
		if !RailMetalKnown(m) {
			t.Errorf("%s unknown", m)
		}
		last := Range{math.Inf(1), math.Inf(1)}
		for code := 25; code <= 350; code++ {
			v, ok := RailAt20(code, m)
			if !ok || v.Lo <= 0 || v.Hi < v.Lo*spread*(1-1e-9) || v.Source == "" {
				t.Fatalf("code %d %s: %+v %v", code, m, v, ok)
			}
			if !strings.HasPrefix(v.Source, "estimate "+Memory) {
				continue
			}
			if v.Lo >= last.Lo || v.Hi >= last.Hi {
				t.Errorf("code %d %s: %v after %v", code, m, v.Range, last)
			}
			last = v.Range
		}
	}
	for _, common := range []struct {
		metal string
		codes []int
	}{
		{"nickel silver", []int{40, 55, 70, 83, 100, 125, 148, 250, 332}},
		{"brass", []int{70, 83, 100, 148, 250, 332}},
		{"steel", []int{70, 83, 100, 148}},
		{"stainless steel", []int{215, 250, 332}},
		{"aluminium", []int{215, 250, 332}},
	} {
		for _, code := range common.codes {
			r, _ := RailOhms(code, common.metal, Range{10, 35})
			if widest.with(r) != widest {
				t.Errorf("code %d %s: %v outside %v", code, common.metal, r, widest)
			}
		}
	}
	for _, x := range []struct {
		code  int
		metal string
	}{{0, "nickel silver"}, {-1, "brass"}, {100, ""}, {100, "tin"}} {
		if r, ok := RailOhms(x.code, x.metal, room20); ok {
			t.Errorf("code %d %q: %v", x.code, x.metal, r)
		}
	}
}
