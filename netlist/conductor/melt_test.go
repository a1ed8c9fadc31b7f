package conductor

import (
	"math"
	"testing"

	"gapwise/netlist/quantity"
)

// IEC 60364-4-43 434.5.2, derived (facts section 6): seconds at 3, 5, 8 and 10 A with k 115,
// and watts a foot of pair makes at 5 A. What is past 5 s is not covered.
// That table has 1.36 s for 28 AWG at 8 A, which is 1.355 and rounds down.
func TestAdiabatic(t *testing.T) {
	for _, r := range []struct {
		gauge   int
		mm2     string
		seconds [4]string
		covered int // from this column on
		watts   string
	}{
		{30, "0.0509", [4]string{"3.81", "1.37", "0.536", "0.343"}, 0, "5.16"},
		{28, "0.0810", [4]string{"9.6", "3.47", "1.35", "0.867"}, 1, "3.24"},
		{26, "0.1288", [4]string{"24", "8.8", "3.43", "2.19"}, 2, "2.04"},
		{24, "0.2047", [4]string{"62", "22", "8.7", "5.5"}, 4, "1.28"},
		{22, "0.3255", [4]string{"156", "56", "22", "14"}, 4, "0.807"},
	} {
		agrees(t, awg(r.gauge).String()+" mm2", quantity.AWGArea(r.gauge)*1e6, r.mm2)
		for i, amps := range []float64{3, 5, 8, 10} {
			s, valid := AdiabaticSeconds(quantity.AWGArea(r.gauge), amps, KPVC)
			agrees(t, awg(r.gauge).String(), s, r.seconds[i])
			if valid != (i >= r.covered) {
				t.Errorf("%d AWG at %v A: %v s, valid %v", r.gauge, amps, s, valid)
			}
		}
		agrees(t, awg(r.gauge).String()+" W/ft", WireOhms(awg(r.gauge), room20).Times(2*foot*5*5).Lo, r.watts)
	}
	if s, valid := AdiabaticSeconds(1e-6, 0, KPVC); !math.IsInf(s, 1) || valid {
		t.Errorf("no current: %v %v", s, valid)
	}
}

// W22, derived: 2500 A for 0.1 s take 6.87 mm2.
func TestW22(t *testing.T) {
	less, _ := AdiabaticSeconds(6.865e-6, 2500, KPVC)
	more, _ := AdiabaticSeconds(6.875e-6, 2500, KPVC)
	if less > 0.1 || more < 0.1 {
		t.Errorf("6.87 mm2 lasts %v to %v s", less, more)
	}
}

// k by its formula: 70 to 160 °C, and 90 to 250 °C.
func TestAdiabaticK(t *testing.T) {
	agrees(t, "PVC", AdiabaticK(70, 160), "115.0")
	within(t, "PVC", AdiabaticK(70, 160), KPVC, 0.001)
	within(t, "XLPE", AdiabaticK(90, 250), KXLPE, 0.002)
}

// W20, FUX: 16 AWG, 2581 cmil, ambient 25 °C, 5 s. The thread prints 178 A, with 234 minus
// the ambient; 234 plus the ambient gives 168.9 A.
func TestW20(t *testing.T) {
	wrong := 2581 * math.Sqrt(math.Log10(1+(1083-25)/(234.0-25))/(33*5))
	agrees(t, "W20 as printed", wrong, "178")
	agrees(t, "W20", OnderdonkAmps(2581*circularMil, 25, 5), "168.9")
}

// W21, FUX: Preece. The thread takes 0.0524 in for 16 AWG, which has 0.0508.
func TestW21(t *testing.T) {
	agrees(t, "W21 as printed", PreeceAmps(0.0524*inch), "123")
	agrees(t, "W21", PreeceAmps(0.0508*inch), "117.3")
	agrees(t, "16 AWG in", WireDiameter(awg(16))/inch, "0.0508")
}
