package dcc

import "math"

// phi1 is (1-e^-z)/z for z ≥ 0, and 1 at 0.
func phi1(z float64) float64 {
	if z == 0 {
		return 1
	}
	return -math.Expm1(-z) / z
}

// phi2 is (z-1+e^-z)/z² for z ≥ 0, and 1/2 at 0.
func phi2(z float64) float64 {
	if z >= 0.5 {
		return (1 - phi1(z)) / z
	}
	sum, term := 0.0, 0.5
	for k := 3.0; k < 16; k++ {
		sum += term
		term *= -z / k
	}
	return sum
}
