package oracle

// Assumed lists what this package takes for granted where a layout does not say, low and high end, in ohms, volts
// and °C: so that a test can tell when the program under test assumes something else.
func Assumed() map[string][2]float64 {
	out := map[string][2]float64{}
	for name, v := range map[string]interval{
		"soldered joint": solderedOhms, "plain joiner": joinerOhms, "sliding joint": slidingOhms, "blade touch": bladeOhms,
		"contact": contactOhms, "splice": spliceOhms, "bus splice": busSpliceOhms, "plug": plugOhms, "ring": ringOhms,
		"detector": detectorOhms, "detector drop": detectorVolts, "breaker": breakerOhms, "reverser": reverserOhms,
		"booster inside": insideOhms, "lamp": lampOhms, "fuse": fuseOhms, "ptc": ptcOhms, "short": shortOhms, "room": roomCelsius,
	} {
		out[name] = [2]float64{v.lo, v.hi}
	}
	return out
}

// WireOhms is one metre of one conductor of a size as it is written, in a room from coldest to hottest °C.
func WireOhms(size string, coldest, hottest float64) (lo, hi float64, ok bool) {
	w, ok := readWire(size)
	if !ok {
		return 0, 0, false
	}
	v := w.ohmsPerMetre(interval{coldest, hottest})
	return v.lo, v.hi, true
}

// RailOhms is one metre of one rail as it is written; ok is false where it is not known, and any rail in use is meant.
func RailOhms(rail string, coldest, hottest float64) (lo, hi float64, ok bool) {
	v, ok := readRail(rail).ohmsPerMetre(interval{coldest, hottest})
	return v.lo, v.hi, ok
}

// WireCelsius is how hot a wire of a size gets in still air; ok is false where the size is not read.
func WireCelsius(size string, amps, room float64, paired bool) (celsius float64, ok bool) {
	w, ok := readWire(size)
	if !ok {
		return 0, false
	}
	return w.celsius(amps, room, paired), true
}
