package conductor

import (
	"math"

	"gapwise/netlist/quantity"
)

// KPVC is the k of a copper conductor in PVC, from 70 °C to 160 °C, in A s^½ per mm² of IEC 60364-4-43 Table 43A (as quoted; the clause from memory).
const KPVC = 115

// AdiabaticLongest is how long the adiabatic formula may be used, in seconds: beyond it heat gets away, and it says nothing.
const AdiabaticLongest = 5

// AdiabaticK is the k of copper between two temperatures: 226 sqrt(ln(1 + (final - start)/(234.5 + start))), IEC 60364-5-54 Annex, from memory.
func AdiabaticK(start, final float64) float64 {
	return 226 * math.Sqrt(math.Log((final+234.5)/(start+234.5)))
}

// AdiabaticSeconds is how long a conductor of an area (m²) stands a current (A) before its insulation is spoilt: (k S/I)²
// (IEC 60364-4-43, 434.5.2, clause from memory). valid is false past five seconds.
func AdiabaticSeconds(area, amps, k float64) (seconds float64, valid bool) {
	if amps <= 0 {
		return math.Inf(1), false
	}
	s := k * area * 1e6 / amps
	seconds = s * s
	return seconds, seconds <= AdiabaticLongest
}

// FusingOnderdonk is the current that melts a wire of an area (m²) within so many seconds, by Onderdonk's
// formula: A sqrt(log10(1 + (Tm-Ta)/(234+Ta))/(33 t)), A in circular mils. From memory; it is often printed with the wrong sign of 234 - Ta.
func FusingOnderdonk(area, melts, ambient, seconds float64) float64 {
	mils := area / (math.Pi / 4) / (25.4e-6 * 25.4e-6)
	return mils * math.Sqrt(math.Log10(1+(melts-ambient)/(234+ambient))/(33*seconds))
}

// FusingPreece is the current that melts a copper wire of a diameter (m) at last: 10244 d^1.5, d in inches.
func FusingPreece(diameter float64) float64 { return 10244 * math.Pow(diameter/0.0254, 1.5) }

// Still air about 320 K: conductivity W/(m K), kinematic viscosity and thermal diffusivity m²/s, Prandtl's number. From memory.
const (
	airConductivity = 0.0275
	airViscosity    = 17.9e-6
	airDiffusivity  = 25.5e-6
	airPrandtl      = 0.705
	gravity         = 9.81
	emissivity      = 0.9
	stefanBoltzmann = 5.670e-8
	kelvin          = 273.15
)

// lossPerMetre is what a round insulated wire of an outer diameter gives off to still air, in watts a metre: natural convection from a
// horizontal cylinder (S. W. Churchill and H. H. S. Chu, Int. J. Heat Mass Transfer 18, 1975, from memory) and radiation.
func lossPerMetre(outer, perimeter, surface, ambient float64) float64 {
	rise := surface - ambient
	if rise <= 0 {
		return 0
	}
	film := (surface+ambient)/2 + kelvin
	ra := gravity * rise / film * outer * outer * outer / (airViscosity * airDiffusivity)
	nu := 0.60 + 0.387*math.Pow(ra, 1.0/6)/math.Pow(1+math.Pow(0.559/airPrandtl, 9.0/16), 8.0/27)
	nu *= nu
	convected := nu * airConductivity / outer * rise
	s, a := surface+kelvin, ambient+kelvin
	radiated := emissivity * stefanBoltzmann * (s*s*s*s - a*a*a*a)
	return perimeter * (convected + radiated)
}

// SteadyCelsius is how hot a wire gets in still air that carries so many amperes for good, in °C: the temperature at which it
// gives off what it takes in. pair says that it lies against its companion with the same current. Bundled, boxed in or under a carpet it gets hotter.
// It stops at 400 °C, where there is no insulation left.
func SteadyCelsius(w quantity.Wire, amps, ambient float64, pair bool) float64 {
	outer := InsulatedDiameter(w).Lo
	perimeter := math.Pi * outer
	if pair {
		perimeter = (math.Pi + 2) * outer / 2
	}
	lo, hi := ambient, 400.0
	for range 60 {
		t := (lo + hi) / 2
		if amps*amps*CopperResistivity(t)/w.Lo > lossPerMetre(outer, perimeter, t, ambient) {
			lo = t
		} else {
			hi = t
		}
	}
	return (lo + hi) / 2
}

// SteadyAmps is the current at which a wire gets so hot in still air.
func SteadyAmps(w quantity.Wire, celsius, ambient float64, pair bool) float64 {
	outer := InsulatedDiameter(w).Lo
	perimeter := math.Pi * outer
	if pair {
		perimeter = (math.Pi + 2) * outer / 2
	}
	return math.Sqrt(lossPerMetre(outer, perimeter, celsius, ambient) * w.Lo / CopperResistivity(celsius))
}

// ampacity is a row of the current that a single wire in free air may carry, 30 °C ambient, insulation for 60 °C.
type ampacity struct {
	gauge  int
	amps   Range
	source string
}

const (
	openBook       = "Lessons in Electric Circuits, vol. I, ch. 12 (60 °C insulation, free air, 30 °C)"
	openBookGuess  = "Lessons in Electric Circuits, vol. I, ch. 12, the book's own estimate (60 °C insulation, free air, 30 °C)"
	ruleOfThumb    = "rule of thumb: " + CommonPractice
	insulation60   = 60.0
	ampsPerMM2Thin = 10.0
)

var ampacities = []ampacity{
	{10, Exact(40), openBook},
	{12, Exact(30), openBook},
	{14, Exact(25), openBook},
	{16, Exact(18), openBookGuess},
	{18, Exact(13), openBookGuess},
	{20, Exact(9), openBookGuess},
	{22, Range{3, 5}, ruleOfThumb},
	{24, Range{2, 3}, ruleOfThumb},
	{26, Range{1, 2}, ruleOfThumb},
}

// Ampacity is what a wire may carry, by the book where one was seen that says, else by rule of thumb; a size between rows
// takes the next thinner row, and one thinner than all ten amperes a square millimetre.
func Ampacity(w quantity.Wire) (amps Range, insulationCelsius float64, source string) {
	for i := range ampacities {
		if quantity.AWGArea(ampacities[i].gauge) <= w.Lo*(1+1e-9) {
			return ampacities[i].amps, insulation60, ampacities[i].source
		}
	}
	return Exact(ampsPerMM2Thin * w.Lo * 1e6), insulation60, ruleOfThumb
}
