package oracle

import "math"

// Still air about 320 K and a wire's surface, from memory: W/(m K), m²/s, m²/s, none, none.
const (
	airConducts   = 0.0275
	airViscosity  = 17.9e-6
	airDiffuses   = 25.5e-6
	airPrandtl    = 0.705
	surfaceEmits  = 0.9
	leastWall     = 0.1e-3 // metres of insulation all round, and a tenth of the copper's diameter; common practice, no source
	zeroKelvin    = 273.15
	ruinedCelsius = 1083 // copper melts
)

// celsius is how hot a wire gets in still air that carries a current for good. Churchill and Chu's formula for a
// horizontal cylinder (1975, from memory) and radiation; the careful ends of stranding and insulation.
func (w wireSize) celsius(amps, room float64, paired bool) float64 {
	across := 1.2*math.Sqrt(4/math.Pi*w.area.lo) + 2*leastWall
	around, wires := math.Pi*across, 1.0
	if paired { // as one cylinder of the same outline
		around, wires = (math.Pi+2)*across, 2
		across = around / math.Pi
	}
	gets := func(t float64) float64 { return wires * amps * amps * w.ohmsPerMetre(exactly(t)).hi }
	gives := func(t float64) float64 {
		over := t - room
		if over <= 0 {
			return 0
		}
		rayleigh := 9.81 / ((t+room)/2 + zeroKelvin) * over * across * across * across / (airViscosity * airDiffuses)
		root := 0.60 + 0.387*math.Pow(rayleigh, 1.0/6)/math.Pow(1+math.Pow(0.559/airPrandtl, 9.0/16), 8.0/27)
		convection := root * root * airConducts / across * over
		radiation := surfaceEmits * 5.67e-8 * (math.Pow(t+zeroKelvin, 4) - math.Pow(room+zeroKelvin, 4))
		return around * (convection + radiation)
	}
	lo, hi := room, float64(ruinedCelsius)
	for range 60 {
		if t := (lo + hi) / 2; gets(t) > gives(t) {
			lo = t
		} else {
			hi = t
		}
	}
	return (lo + hi) / 2
}

// stands is how many seconds the wire's PVC insulation outlasts a current: (k S / I)², k = 115 A s^½/mm²
// (IEC 60364-4-43, facts.md section 6); past five seconds the formula says nothing and stands is +Inf.
func (w wireSize) stands(amps float64) float64 {
	const k, longest = 115, 5
	if amps <= 0 {
		return math.Inf(1)
	}
	if t := math.Pow(k*w.area.lo*1e6/amps, 2); t <= longest {
		return t
	}
	return math.Inf(1)
}
