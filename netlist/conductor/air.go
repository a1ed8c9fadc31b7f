package conductor

import "math"

// Dry air at sea level at temperatures in kelvin, powers fitted to values from memory; within
// a few per cent from 250 to 700 K.
func airConductivity(k float64) float64 { return 0.0263 * math.Pow(k/300, 0.85) }
func airViscosity(k float64) float64    { return 15.9e-6 * math.Pow(k/300, 1.73) }

const (
	prandtl = 0.71
	gravity = 9.81
)

// convection is the heat in watts per square metre and kelvin that still air takes from a
// horizontal cylinder of a diameter in metres: Churchill and Chu 1975 (from memory), air taken at
// the mean of the two temperatures in degrees Celsius.
func convection(diameter, celsius, ambient float64) float64 {
	film := (celsius+ambient)/2 + kelvin
	nu := airViscosity(film)
	rayleigh := gravity / film * math.Abs(celsius-ambient) * math.Pow(diameter, 3) / (nu * nu) * prandtl
	root := 0.60 + 0.387*math.Pow(rayleigh, 1.0/6)/math.Pow(1+math.Pow(0.559/prandtl, 9.0/16), 8.0/27)
	return root * root * airConductivity(film) / diameter
}
