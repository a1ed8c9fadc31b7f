package dcc

// gauss are the nodes and weights of Gauss and Legendre's rule of five points on -1..1.
var gauss = [5][2]float64{
	{-0.9061798459386640, 0.2369268850561891},
	{-0.5384693101056831, 0.4786286704993665},
	{0, 0.5688888888888889},
	{0.5384693101056831, 0.4786286704993665},
	{0.9061798459386640, 0.2369268850561891},
}

// slow is an exponent so small that five points integrate the exponential to round-off.
const slow = 0.1

// product is the integral over the half-bit of the product of two branches' currents. From
// L di/dt + R i = v for both follows (ij)' + (α+β)ij = v(j/Lᵢ + i/Lⱼ), with α and β their R/L;
// where α+β is so small that dividing by it loses digits, the product is integrated as it is.
func (r *run) product(i, j int) float64 {
	a, b := r.bs[i], r.bs[j]
	switch {
	case a.L == 0:
		return r.volts / a.R * r.through[j]
	case b.L == 0:
		return r.volts / b.R * r.through[i]
	}
	both := a.rate() + b.rate()
	if both*r.long >= slow {
		return (r.volts*(r.through[j]/a.L+r.through[i]/b.L) - (r.to[i]*r.to[j] - r.from[i]*r.from[j])) / both
	}
	total := 0.0
	for _, g := range gauss {
		t := r.long * (1 + g[0]) / 2
		total += g[1] * a.after(r.volts, r.from[i], t) * b.after(r.volts, r.from[j], t)
	}
	return total * r.long / 2
}

// square is the integral of the square of the whole current over the half-bit.
func (r *run) square() float64 {
	total := 0.0
	for i := range r.bs {
		total += r.product(i, i)
		for j := range i {
			total += 2 * r.product(i, j)
		}
	}
	return total
}

// meanSquare is the mean square of the sum of the branches' currents over a signal that repeats,
// from the mean square of each by itself. Over a period the product's change in the identity
// of run.product is nothing and the mean of v·i is R times i's mean square, which leaves
// (β Lⱼ/Lᵢ j² + α Lᵢ/Lⱼ i²)/(α+β): a weighted mean, in which nothing cancels.
func meanSquare(volts float64, bs []Branch, squares []float64) float64 {
	total := 0.0
	for i, a := range bs {
		total += squares[i]
		for j, b := range bs[:i] {
			total += 2 * meanProduct(volts, a, b, squares[i], squares[j])
		}
	}
	return total
}

func meanProduct(volts float64, a, b Branch, squareA, squareB float64) float64 {
	switch {
	case a.L == 0 && b.L == 0:
		return volts / a.R * volts / b.R
	case a.L == 0:
		return squareB * b.R / a.R
	case b.L == 0:
		return squareA * a.R / b.R
	}
	ofA, ofB := squareA*a.L/b.L, squareB*b.L/a.L
	both := a.rate() + b.rate()
	if both == 0 {
		return ofA
	}
	return (a.rate()*ofA + b.rate()*ofB) / both
}
