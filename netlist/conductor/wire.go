package conductor

import "gapwise/netlist/quantity"

// WireOhms is the resistance in ohms of a metre of one conductor at temperatures in degrees
// Celsius, for direct current. AWG sizes go from solid (resistivity over area) to seven
// strands (NEC chapter 9 table 8). Metric sizes go from the copper of the nominal area to
// the most that IEC 60228 allows class 5. Its rows for classes 1 and 2 lie between; they too
// are the most allowed, so that real wire may have less. Sizes that the standard lacks take
// the lay of their neighbours. A range of sizes widens it. The caller refuses a wire that
// is not Known.
func WireOhms(w quantity.Wire, celsius Range) Range {
	lo, hi := CopperResistivity(celsius.Lo), CopperResistivity(celsius.Hi)
	return Range{perMetre(lo, w.Hi), perMetre(hi, w.Lo) * strandAllowance(w)}
}

// strandAllowance is how much more than its least area says a wire may have for being stranded.
func strandAllowance(w quantity.Wire) float64 {
	if isAWG(w.Lo) && isAWG(w.Hi) {
		return strandedAWG
	}
	return fineAllowance(w.Lo)
}
