package conductor

import "math"

// KPVC and KXLPE are what AdiabaticSeconds needs for copper in PVC (70 to 160 degrees
// Celsius) and in cross-linked insulation (90 to 250), in A s^0.5 per mm2: IEC 60364-4-43
// table 43A (clause 434.5.2 from memory).
const (
	KPVC  = 115
	KXLPE = 143
)

// adiabaticLimit is how many seconds the formula holds for: after that, heat leaves the wire.
const adiabaticLimit = 5

// AdiabaticSeconds is how long copper of a cross-section in square metres carries a current
// before its insulation is at its limit, (k S/I)^2, if no heat leaves it. Not valid beyond 5 s:
// the wire then lasts longer, or for ever, and SteadyCelsius has to answer.
func AdiabaticSeconds(area, amps, k float64) (seconds float64, valid bool) {
	seconds = math.Pow(k*area*1e6/amps, 2)
	return seconds, seconds <= adiabaticLimit
}

// AdiabaticK is k for copper that warms between two temperatures in degrees Celsius,
// 226 sqrt(ln((234.5 + end)/(234.5 + start))): IEC 60364-4-43 (from memory).
func AdiabaticK(start, end float64) float64 {
	return 226 * math.Sqrt(math.Log((end+234.5)/(start+234.5)))
}

const circularMil = math.Pi / 4 * mil * mil // square metres

// OnderdonkAmps is the current that melts copper of a cross-section in square metres in some
// seconds, from an ambient in degrees Celsius, if no heat leaves it (form from memory). It is
// 234 plus the ambient that stands below the fraction: some copies have a minus.
func OnderdonkAmps(area, ambient, seconds float64) float64 {
	return area / circularMil * math.Sqrt(math.Log10(1+(copperMelts-ambient)/(234+ambient))/(33*seconds))
}

// PreeceAmps is the steady current that melts a bare copper wire of a diameter in metres in
// still air, 10244 d^1.5 with d in inches: forum thread "Current temperature equation".
func PreeceAmps(diameter float64) float64 { return 10244 * math.Pow(diameter/0.0254, 1.5) }
