package gauge

import (
	"math"

	"gapwise/netlist/conductor"
	"gapwise/netlist/dcc"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// Row is one size of wire for a run, worst values throughout but for Loop, which has both ends.
type Row struct {
	Wire      quantity.Wire
	Loop      conductor.Range // ohms out and back, from cold and solid to warm and stranded
	Henries   float64         // out and back
	Drop      float64         // volts lost to what trains draw
	DropPart  float64         // in parts of the source's volts
	Short     float64         // amperes of the weakest short at the far end, by direct current
	Pulsed    dcc.Short       // the same under DCC, each measure under the bits that make it least
	Celsius   float64         // temperature of the wire with what just does not trip, for as long as it likes
	Rise      float64         // of that over the warmest air, in kelvin
	Sudden    float64         // amperes of a dead short at the far end, at their most
	Stands    float64         // seconds that its insulation stands those
	Valid     bool            // Stands holds: within the 5 s of its formula
	Kilograms float64         // of copper, both conductors
	PerMetre  float64         // kilograms of copper a metre of run, both conductors
	Misses    []Miss          // limits that it does not meet
	Reach     float64         // the furthest, one way, that it meets every limit; metres, 0 for no length
	ReachBy   string          // the limit that ends it
}

// Passes reports whether every limit is met.
func (r *Row) Passes() bool { return len(r.Misses) == 0 }

// perMetre is the resistance of a metre of run, out and back, at the warm end of the air. Solid AWG wire has the copper of
// its size; metric wire is sold by its largest resistance, so that stays.
func (s *single) perMetre(w quantity.Wire) float64 {
	ohms := conductor.WireOhms(w, conductor.Exact(s.celsius.Hi))
	if s.strands == Solid && w.HasGauge {
		return 2 * ohms.Lo
	}
	return 2 * ohms.Hi
}

// loop is the resistance of a run of some metres, warm, and its inductance at the most.
func (s *single) loop(w quantity.Wire, metres float64) (ohms, henries float64) {
	n := float64(s.beside)
	return s.perMetre(w) * metres / n, conductor.LaidInductance(w, s.laid).Hi * metres / n
}

// weakest is the weakest short at the end of a loop, by direct current and under DCC.
func (s *single) weakest(ohms, henries float64) (direct float64, pulsed dcc.Short) {
	total := s.inside.Hi + s.short.Hi + ohms
	pulsed, _ = dcc.WorstOfEach(s.volts.Lo, []dcc.Branch{{R: total, L: henries}})
	return s.volts.Lo / total, pulsed
}

// row works out one size over the whole run.
func (s *single) row(w quantity.Wire) Row {
	r := Row{Wire: w}
	metres := s.length.Hi
	r.Loop.Hi, r.Henries = s.loop(w, metres)
	r.Loop.Lo = 2 * conductor.WireOhms(w, conductor.Exact(s.celsius.Lo)).Lo * s.length.Lo / float64(s.beside)
	r.Drop = s.amps * r.Loop.Hi
	r.DropPart = r.Drop / s.volts.Lo
	r.Short, r.Pulsed = s.weakest(r.Loop.Hi, r.Henries)
	r.Celsius = s.warmth(w, s.trip)
	r.Rise = r.Celsius - s.celsius.Hi
	// of runs side by side one may have come off, so that the other carries all
	r.Sudden = s.volts.Hi / (s.inside.Lo + r.Loop.Lo*float64(s.beside))
	r.Stands, r.Valid = conductor.AdiabaticSeconds(w.Lo, r.Sudden, conductor.KPVC)
	r.PerMetre = 2 * conductor.CopperMass(w)
	r.Kilograms = r.PerMetre * metres * float64(s.beside)
	r.Misses = s.misses(&r)
	r.Reach, r.ReachBy = s.reach(w)
	return r
}

// warmth is the temperature that a wire settles at in the warmest air. Wires that touch warm each other.
func (s *single) warmth(w quantity.Wire, amps float64) float64 {
	return conductor.SteadyCelsius(w, amps, s.celsius.Hi, s.laid.Kind == layout.LaidTwisted)
}

// reach is how far a wire may go, one way, and what ends it. Loss and weak shorts grow worse with length; heat does
// not depend on it; a dead short is worst on a short run.
func (s *single) reach(w quantity.Wire) (metres float64, by string) {
	ohms, henries := s.loop(w, 1)
	least := func(at float64, limit string) {
		if by == "" || at < metres {
			metres, by = at, limit
		}
	}
	least(s.most/(s.amps*ohms), LimitWireDrop)
	if s.whole {
		least(wholePart*s.volts.Lo/(s.amps*ohms), LimitWholeDrop)
	}
	least((s.volts.Lo/s.need()-s.inside.Hi-s.short.Hi)/ohms, LimitShort)
	if metres <= 0 {
		return 0, by
	}
	if _, p := s.weakest(ohms*metres, henries*metres); !(p.MeanAbs >= s.need()) {
		lo, hi := 0.0, metres
		for range 50 {
			mid := lo + (hi-lo)/2
			if _, p := s.weakest(ohms*mid, henries*mid); p.MeanAbs >= s.need() {
				lo = mid
			} else {
				hi = mid
			}
		}
		metres, by = lo, LimitShortDCC
	}
	at := *s
	at.length = conductor.Exact(metres)
	for _, m := range at.misses(at.bare(w)) {
		if m.Limit == LimitHeat || m.Limit == LimitEnergy {
			return 0, m.Limit
		}
	}
	return metres, by
}

// bare is a row with only what heat is judged by, which reach needs.
func (s *single) bare(w quantity.Wire) *Row {
	r := &Row{Celsius: s.warmth(w, s.trip), Short: math.Inf(1), Pulsed: dcc.Short{MeanAbs: math.Inf(1)}}
	cold := 2 * conductor.WireOhms(w, conductor.Exact(s.celsius.Lo)).Lo * s.length.Lo
	r.Sudden = s.volts.Hi / (s.inside.Lo + cold)
	r.Stands, r.Valid = conductor.AdiabaticSeconds(w.Lo, r.Sudden, conductor.KPVC)
	return r
}
