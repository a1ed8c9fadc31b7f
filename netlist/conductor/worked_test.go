package conductor

import (
	"math"
	"testing"
)

// kOf turns a wire constant in ohm circular mils per foot into ohm metres.
func kOf(k float64) float64 { return k * circularMil / foot }

// W6, DCD 13.1: a distributor with taps; 0.01 ohm/km per conductor.
func TestW6(t *testing.T) {
	volts := Exact(300)
	sections := []float64{500, 500, 600, 400}
	taps := []float64{100, 150, 200, 50}
	for i, want := range []string{"295.0", "291.0", "288.0", "287.6"} {
		amps := 0.0
		for _, a := range taps[i:] {
			amps += a
		}
		volts = volts.Plus(Exact(0.01e-3).Times(2 * sections[i]).Times(-amps))
		agrees(t, "W6", volts.Mid(), want)
	}
}

// W8, DCD 13.2: the section that loses 10 V over the loop.
func TestW8(t *testing.T) {
	moment := 30*40.0 + 40*100 + 100*150 + 50*250
	agrees(t, "W8 cm2", 2*moment*perMetre(1.78e-8, 10)*1e4, "1.164")
}

// W9, NEM604 2.4: printed 4.7 m, with the area rounded to 0.20 mm2 first; the right value is
// 4.60 m of one conductor. Trap 2: its table 1 calls the length the out-and-back total.
func TestW9(t *testing.T) {
	run := func(mm2 float64) float64 { return 0.5 / 1.2 / perMetre(17.8e-9, mm2*1e-6) }
	agrees(t, "W9 as printed", run(0.20), "4.7")
	agrees(t, "W9", run(math.Pi/4*0.5*0.5), "4.60")
}

// W10 and W11, NEM604 T2: metres of one conductor for 0.5 V at 1 A. The printed 3.9, 21.0
// and 42.0 m of W11 are cut off, not rounded: 3.93, 21.07, 42.13.
func TestW10W11(t *testing.T) {
	run := func(area float64) float64 { return 0.5 / perMetre(0.0178e-6, area) }
	for _, r := range []struct {
		mm      float64
		printed string
	}{{0.40, "3.5"}, {0.80, "14.1"}, {1.50, "49.6"}} {
		agrees(t, "W10", run(math.Pi/4*r.mm*r.mm*1e-6), r.printed)
	}
	for _, r := range []struct {
		mm2, printed float64
		right        string
	}{{0.14, 3.9, "3.93"}, {0.75, 21.0, "21.07"}, {1.50, 42.0, "42.13"}} {
		agrees(t, "W11", run(r.mm2*1e-6), r.right)
		within(t, "W11 as printed", run(r.mm2*1e-6), r.printed, 0.01)
	}
}

// W12, VD1: 100 ft of 16 AWG stranded at T8's 75 °C, 4 A, 24 V. Printed 4.0 V, 16.7 %;
// T8's 4.99 gives 3.992 V, 16.63 %, and our upper end is T8's largest ratio.
func TestW12(t *testing.T) {
	loop := Exact(4.99e-3 / foot).Times(2 * 100 * foot)
	agrees(t, "W12 V", loop.Times(4).Mid(), "3.992")
	agrees(t, "W12 per cent", loop.Times(4*100/24.0).Mid(), "16.63")
	ours := WireOhms(awg(16), Exact(75)).Times(2 * 100 * foot * 4)
	agrees(t, "W12, our wire", ours.Hi, "4.0")
	agrees(t, "W12 per cent, our wire", ours.Hi*100/24, "16.7")
}

// W13, VD2: K 12.9, 20 A, 100 ft, 120 V.
func TestW13(t *testing.T) {
	for _, r := range []struct {
		cmil           float64
		volts, percent string
	}{{6530, "7.9", "6.6"}, {16510, "3.1", "2.6"}} {
		drop := Exact(perMetre(kOf(12.9), r.cmil*circularMil)).Times(2 * 100 * foot * 20)
		agrees(t, "W13 V", drop.Mid(), r.volts)
		agrees(t, "W13 per cent", drop.Times(100/120.0).Mid(), r.percent)
	}
	// K 12.9 is stranded copper at 75 °C.
	hot := CopperResistivity(75)
	if k := kOf(12.9); !(Range{hot, hot * strandedAWG}).Contains(k) {
		t.Errorf("K 12.9 is %v, copper at 75 °C %v", k, hot)
	}
	// Trap 1: at 20 °C the first row loses 6.4 V.
	agrees(t, "W13 at 20 °C", 2*100*foot*20*perMetre(CopperResistivity(20), 6530*circularMil), "6.4")
}

// W14 and W15, LEC ch. 12: 2300 ft each way, 25 A, 10 V; then the same in 14 AWG into a dead
// short at 230 V.
func TestW14W15(t *testing.T) {
	rho := kOf(10.09)
	agrees(t, "W14 ohm per wire", 10/25.0/2, "0.2")
	agrees(t, "W14 cmil", perMetre(rho, 0.2)*2300*foot/circularMil, "116035")
	each := Exact(perMetre(rho, 4107*circularMil)).Times(2300 * foot)
	loop := each.Plus(each)
	agrees(t, "W15 each", each.Mid(), "5.651")
	agrees(t, "W15 loop", loop.Mid(), "11.301")
	agrees(t, "W15 A", 230/loop.Mid(), "20.352")
	// The book's copper, 16.78 nΩm, is 2.7 % below the standard's, and so is its wire.
	within(t, "W15, our wire", WireOhms(awg(14), room20).Lo*2300*foot*16.78/17.241, each.Mid(), 0.001)
}

// W16, LEC ch. 12: two 15 ohm wires that warm from 20 to 35 °C, with the book's coefficient.
func TestW16(t *testing.T) {
	warm := 15 * warmed(0.004041, 35)
	agrees(t, "W16 ohm", warm, "15.909")
	agrees(t, "W16 mA, cold", 14e3/(250+2*15*warmed(0.004041, 20)), "50")
	amps := 14 / (250 + 2*warm)
	agrees(t, "W16 mA, warm", amps*1e3, "49.677")
	agrees(t, "W16 V", amps*250, "12.42")
	within(t, "W16, our copper", 15*CopperResistivity(35)/CopperResistivity(20), warm, 0.002)
}

// W17, LEC ch. 12: a bar.
func TestW17(t *testing.T) {
	agrees(t, "W17 uohm", perMetre(2.65e-8, 0.04*0.03)*1.25*1e6, "27.604")
}

// W23, RB: 12 ft of code 83, 3 A.
func TestW23(t *testing.T) {
	v, _ := RailAt20(83, "nickel silver")
	loop := math.Sqrt(v.Lo*v.Hi) * 2 * 12 * foot // the measured value is the geometric middle
	agrees(t, "W23 loop", loop, "0.7900")
	agrees(t, "W23 far end", loop*3, "2.370")
	agrees(t, "W23 mid-run, fed both ends", loop*3/4, "0.5925")
	agrees(t, "W23 uniform, one end", loop*3/2, "1.185")
	agrees(t, "W23 uniform, both ends", loop*3/8, "0.2963")
}

// Facts section 5, derived: 15 V, 5 A, feet of run to a loss of 2.5, 5 and 10 % (the last is
// NEM604 2.2's limit, 5 % a conductor).
func TestFeetToLoss(t *testing.T) {
	for _, r := range []struct {
		gauge int
		feet  [3]string
	}{
		{10, [3]string{"37.5", "75.1", "150.2"}},
		{12, [3]string{"23.6", "47.2", "94.4"}},
		{14, [3]string{"14.8", "29.7", "59.4"}},
		{16, [3]string{"9.3", "18.7", "37.4"}},
		{22, [3]string{"2.3", "4.6", "9.3"}},
	} {
		for i, share := range []float64{0.025, 0.05, 0.1} {
			agrees(t, awg(r.gauge).String(), 15*share/(2*5*WireOhms(awg(r.gauge), room20).Lo)/foot, r.feet[i])
		}
	}
}
