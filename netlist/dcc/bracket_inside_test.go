package dcc

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestMissingGroups sums the bound of every harmonic by itself; the octaves of missing add little to it, and
// take nothing away.
func TestMissingGroups(t *testing.T) {
	for _, alpha := range [][]float64{{20e-6}, {40e-6, 15e-6}, {1e-6}, {60e-6, 30e-6, 0.5e-6}} {
		beta := make([]float64, len(alpha))
		for k := range beta {
			beta[k] = 0.4 * math.Sqrt(alpha[k]*alpha[min(k+1, len(alpha)-1)])
		}
		r, err := reduction(alpha, beta, 0.5, 100e-6, false)
		if err != nil {
			t.Fatal(err)
		}
		one := 0.0
		for m := 1.0; m < 2e5; m += 2 {
			e := r.off(m*math.Pi/OneHalf, m*math.Pi/OneHalf)
			one += 8 * e * e / (math.Pi * math.Pi * m * m)
		}
		one = math.Sqrt(one)
		if got := r.missing(OneHalf); got < one || got > 1.02*one {
			t.Errorf("%v: %v of single harmonics' %v", alpha, got, one)
		}
	}
}

// TestMissingTail: where only harmonics beyond the single ones are off, the octaves still have them.
func TestMissingTail(t *testing.T) {
	r, err := reduction([]float64{1e-9}, []float64{1e-9}, 1, 1e-6, false)
	if err != nil {
		t.Fatal(err)
	}
	tail := 0.0
	for m := float64(single + 1); m < 4e6; m += 2 {
		e := r.off(m*math.Pi/OneHalf, m*math.Pi/OneHalf)
		tail += 8 * e * e / (math.Pi * math.Pi * m * m)
	}
	if got := r.missing(OneHalf); got < math.Sqrt(tail) {
		t.Errorf("%v of %v", got, math.Sqrt(tail))
	}
}

// TestPeakAverages holds the bounds of the peak between waves of which the distance is known.
func TestPeakAverages(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 10))
	for range 300 {
		bs := make([][]Branch, 2)
		for k := range bs {
			for range 1 + rnd.IntN(3) {
				r := 0.5 + rnd.Float64()
				bs[k] = append(bs[k], Branch{R: r, L: r * math.Pow(10, -7+3.5*rnd.Float64())})
			}
		}
		at := func(bs []Branch, t float64) float64 {
			total := 0.0
			for _, b := range bs {
				total += b.after(1, settled(1, []float64{OneHalf, OneHalf}, b), t)
			}
			return total
		}
		const points = 4000
		off := 0.0
		for k := range points {
			x := (float64(k) + 0.5) / points * OneHalf
			d := at(bs[0], x) - at(bs[1], x)
			off += d * d / points
		}
		r := &Reduction{Branches: bs[0]}
		lo, hi := r.peak(1, OneHalf, math.Sqrt(off))
		if is := at(bs[1], OneHalf); !(lo <= is && is <= hi) {
			t.Errorf("%v and %v: %v not in %v..%v", bs[0], bs[1], is, lo, hi)
		}
		if lo, hi = r.peak(1, OneHalf, 0); math.Abs(hi-lo) > 1e-6*hi {
			t.Errorf("%v: no distance leaves %v..%v", bs[0], lo, hi)
		}
	}
}

// TestSteepAverage: of a wave that bends down, the average of (6u-2) times it is not below its end, above it by a twelfth
// of its bend at most, and the weight's own rms is 2.
func TestSteepAverage(t *testing.T) {
	for _, z := range []float64{0.1, 1, 5, 40} {
		const points = 20000
		average, square := 0.0, 0.0
		for k := range points {
			u := (float64(k) + 0.5) / points
			average += (6*u - 2) * -math.Exp(-z*u) / points
			square += (6*u - 2) * (6*u - 2) / points
		}
		if end := -math.Exp(-z); average < end || average > end+z*z/12 {
			t.Errorf("%v: average %v, end %v", z, average, end)
		}
		if math.Abs(square-4) > 1e-6 {
			t.Errorf("the weight's square is %v", square)
		}
	}
}
