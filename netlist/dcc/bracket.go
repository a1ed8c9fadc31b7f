package dcc

import "math"

// Bracket bounds the steady short that Steady of the whole port would give.
//
// The true current differs from the branches' by a wave of which each harmonic is bounded (see
// missing). Its root mean square ε bounds what rms and mean can be off. Both waves rise and bend
// down from one turn of the polarity to the next, after T seconds, and for such a wave g
//
//	average of g over [T-δ,T]  ≤  g(T)  ≤  average of (6u-2)g over it, u from 0 to 1,
//
// the latter because it is so for lines and for every bend: with the bend at u=c, ∫(6u-2)(u-c)⁺ is
// (1-c)-c²(1-c), not more than 1-c. The two averages change by at most ε√(T/δ) and 2ε√(T/δ), which
// bounds the peak; the best δ is taken. Where the bounds from the admittance alone are better,
// they stand.
func (r *Reduction) Bracket(volts, half float64) (lo, hi Short) {
	s := Steady(volts, half, r.Branches)
	if r.Exact || !(s.RMS < math.Inf(1)) {
		return s, s
	}
	volts = math.Abs(volts)
	y0 := 1 / r.ohms
	yLo, yHi := r.Admittance(BoundRate / half)
	off := volts * r.missing(half)
	peakLo, peakHi := r.peak(volts, half, off)
	lo = Short{
		Peak:    max(peakLo, PeakAtLeast(volts, half, y0, yLo)),
		MeanAbs: max(s.MeanAbs-off, MeanAtLeast(volts, half, y0, yLo)),
		RMS:     max(s.RMS-off, RMSAtLeast(volts, half, y0, yLo)),
	}
	hi = Short{
		Peak:    min(peakHi, PeakAtMost(volts, half, y0, yHi)),
		MeanAbs: min(s.MeanAbs+off, MeanAtMost(volts, half, y0, yHi)),
		RMS:     min(s.RMS+off, RMSAtMost(volts, half, y0, yHi)),
	}
	return lo, hi
}

// missing bounds, for a square wave of 1 V, the root mean square of the current that the branches
// leave out or add. At s = iω what is added in Admittance is -κa²/(1/g+κd) with κ = ω²β². The part
// not known has a mass of 1 on time constants of 0 and more, so the real part of 1/g is 1 or more,
// and the addition is at most κ|a|²/(1+κ Re d). κ|a|² is the product over the nodes of
// ω²β²/(1+ω²τ²), and rises with ω as κ Re d does, so harmonics can be bounded in groups: one by
// one first, then by octaves.
func (r *Reduction) missing(half float64) float64 {
	total := 0.0
	rate := math.Pi / half
	for m := 1.0; m < single; m += 2 {
		e := r.off(m*rate, m*rate)
		total += e * e / (m * m)
	}
	// The odd numbers of M..2M have squares of which the inverses sum to less than 1/4M.
	m := float64(single)
	for range octaves {
		e := r.off(m*rate, 2*m*rate)
		total += e * e / (4 * m)
		m *= 2
	}
	total += 1 / (r.ohms * r.ohms * 2 * m)
	return math.Sqrt(8*total) / math.Pi
}

const (
	single  = 128 // harmonics looked at one by one
	octaves = 60
)

// off bounds the error of the admittance for all frequencies between two, in radians a second.
func (r *Reduction) off(from, to float64) float64 {
	link, end := 1.0, 0.0
	b := r.beta[len(r.beta)-1]
	for k, tau := range r.nodes {
		link *= to * r.beta[k] / math.Hypot(1, to*tau)
		end += r.last[k] * r.last[k] / (1 + from*tau*from*tau)
	}
	return min(1, link*link/(1+from*b*from*b*end)) / r.ohms
}

// peak bounds the peak by the averages of Bracket. The upper one is evaluated with the bend of the
// branches' wave where the average begins, at its largest there.
func (r *Reduction) peak(volts, half, off float64) (lo, hi float64) {
	hi = math.Inf(1)
	for d := half; d > half*1e-12; d /= 2 {
		last, mean, bend := 0.0, 0.0, 0.0
		for _, b := range r.Branches {
			begin := b.after(volts, settled(volts, []float64{half, half}, b), half-d)
			last += b.after(volts, begin, d)
			mean += b.through(volts, begin, d) / d
			if b.L > 0 {
				bend += b.rate() * b.slope(volts, begin)
			}
		}
		slack := off * math.Sqrt(half/d)
		lo = max(lo, mean-slack)
		hi = min(hi, last+d*d*bend/12+2*slack)
	}
	return lo, hi
}
