package dcc

import "math"

// Steady is the current of a short through branches under a square wave of ±volts that turns over
// every half seconds, once it repeats. For one branch, with x = half·R/L:
//
//	peak = V/R tanh(x/2)
//	mean = V/R (1 - 2/x ln(1+tanh(x/2)))
//	rms  = V/R √(1 - 2/x tanh(x/2))
//
// Any network of resistances and inductances, seen from one place, is a sum of branches: W. Cauer,
// "Die Verwirklichung von Wechselstromwiderständen vorgeschriebener Frequenzabhängigkeit", Archiv
// für Elektrotechnik 17 (1926), after R. M. Foster, "A reactance theorem", Bell System
// Technical Journal 3 (1924).
func Steady(volts, half float64, bs []Branch) Short {
	return Periodic(volts, []float64{half, half}, bs)
}

// Periodic is the current of half-bits of the given seconds, +volts and -volts by turns, repeated for
// ever. Their number is even.
func Periodic(volts float64, halves []float64, bs []Branch) Short {
	live, what, ok := carrying(volts, halves, bs)
	if len(halves)%2 != 0 {
		what, ok = unknown, false
	}
	if !ok {
		return Short{what, what, what}
	}
	volts = math.Abs(volts)
	r := newRun(live)
	for k, b := range live {
		r.to[k] = settled(volts, halves, b)
		if math.IsInf(r.to[k], 0) {
			endless := math.Inf(1)
			return Short{endless, endless, endless}
		}
	}
	squares := make([]float64, len(live))
	period := sum(halves)
	var s Short
	for n, half := range halves {
		peak, area := r.next(turn(volts, n), half)
		s.Peak = math.Max(s.Peak, peak)
		s.MeanAbs += area / period
		for k := range live {
			squares[k] += r.product(k, k) / period
		}
	}
	s.RMS = math.Sqrt(meanSquare(volts, live, squares))
	return known(s)
}

// known refuses currents that no number holds on the way.
func known(s Short) Short {
	if s.Peak >= 0 && s.MeanAbs >= 0 && s.RMS >= 0 {
		return s
	}
	return Short{unknown, unknown, unknown}
}

// turn is the voltage of the n-th half-bit.
func turn(volts float64, n int) float64 {
	if n%2 == 0 {
		return volts
	}
	return -volts
}

// settled is what a branch carries where the halves begin anew. With w(h) = (1-e^(-hR/L)) L/R, a
// pair of halves h, k leaves behind V/L (w(h)-w(k)-w(h)w(k) R/L), which fades until the end; over
// a period a current fades by w(period) R/L. For equal halves R/L cancels, so that nothing is lost
// where it is small.
func settled(volts float64, halves []float64, b Branch) float64 {
	if b.L == 0 {
		return -volts / b.R
	}
	if b.R == 0 {
		return volts / b.L * swing(halves)
	}
	rate, period := b.rate(), sum(halves)
	left, drift := 0.0, 0.0
	for n := 0; n < len(halves); n += 2 {
		h, k := halves[n], halves[n+1]
		fade := math.Exp(-(h + k) * rate)
		left = left*fade - h*phi1(h*rate)*k*phi1(k*rate)
		more := math.Abs(h - k)
		drift = drift*fade + math.Copysign(math.Exp(-min(h, k)*rate)*more*phi1(more*rate), h-k)
	}
	return volts / b.L * (left + drift/rate) / (period * phi1(period*rate))
}

// swing is the volt-seconds, for 1 V, that an inductance without resistance starts from so that
// they are none on average; without end if plus and minus do not cancel.
func swing(halves []float64) float64 {
	now, area, period := 0.0, 0.0, sum(halves)
	for n, half := range halves {
		v := turn(1, n)
		area += now*half + v*half*half/2
		now += v * half
	}
	if math.Abs(now) > same*period {
		return math.Inf(1)
	}
	return -area / period
}

// Start is the current after a start from none, half-bit by half-bit: the first has +volts, the
// next -volts, and so on, each for its seconds in halves. Each Short is of its half-bit alone; over
// several, the peak is the largest, and mean and squared rms weigh each by its seconds.
func Start(volts float64, halves []float64, bs []Branch) []Short {
	out := make([]Short, len(halves))
	live, what, ok := carrying(volts, halves, bs)
	r := newRun(live)
	for n, half := range halves {
		if !ok {
			out[n] = Short{what, what, what}
			continue
		}
		peak, area := r.next(turn(math.Abs(volts), n), half)
		out[n] = known(Short{Peak: peak, MeanAbs: area / half, RMS: math.Sqrt(max(0, r.square()/half))})
	}
	return out
}
