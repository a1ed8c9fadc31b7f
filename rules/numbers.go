package rules

import (
	"gapwise/netlist/conductor"
)

// Matter is one thing that is computed: how, after whom, and how far it holds.
type Matter struct {
	Title   string
	Text    string
	Formula []string
	Source  string
	Holds   string
}

// Numbers says how every number of volts and amperes is made.
func Numbers() []Matter {
	return []Matter{
		{
			Title:   "Two corners",
			Text:    "Nothing about a layout is known to three digits. Every resistance is a range, and everything is computed twice: weak, with every resistance at its high end, the room warm, and joints nobody vouches for open; strong, with every resistance low, the room cool, and those joints closed. Whatever the truth is, the loop lies between the two.",
			Source:  "Rayleigh's monotonicity law: Doyle and Snell, Random Walks and Electric Networks, ch. 4",
			Holds:   "for resistance and for the current of a short; a conductor's share of a current is looked at in both corners and with its own resistance low, which makes it large but is no proof",
			Formula: []string{"R(x) = inside + R_A(x) + R_B(x)", "short = (volts - detector drops) / (R(x) + the short itself)"},
		},
		{
			Title:   "Every point of every rail",
			Text:    "In sound wiring the two legs never meet, so each is a network of resistors by itself, grounded at the booster's terminal; breakers, reversers, detectors and plugs are conductors of it. One factorisation of its conductance matrix and one backward sweep give the resistance at every node; between two nodes a point at the share t of a rail of r ohms follows from those at its ends. The curve is concave, so its highest point, the true worst place, is found without stepping.",
			Formula: []string{"R(t) = (1-t)² R_ii + t² R_jj + 2t(1-t) R_ij + t(1-t) r"},
			Source:  "Cholesky factorisation: Davis, Direct Methods for Sparse Linear Systems; the inverse on its pattern: Takahashi 1973; checked on every run by Foster's theorem",
			Holds:   "for every setting of track work in which the rail is fed by metal that always conducts; rail that is fed in some settings only is computed in one of them, which is named, with all other contacts open",
		},
		{
			Title:   "Wire and rail",
			Text:    "Copper has 17.241 nΩ·m at 20 °C and 0.393 % more for each kelvin. An AWG size is from solid to seven-strand, a metric size from its nominal area to the most that the standard allows flexible wire. Rail is as measured, with the spread between two people who measured the same; what nobody measured is estimated, with a wider range.",
			Formula: []string{"d = 0.127 mm × 92^((36-n)/39)", "R = ρ l / A"},
			Source:  "ASTM B258 and IEC 60028 from memory; NEC Chapter 9 Table 8; IEC 60228; web pages \"Track Resistance\" and \"Rail Size\"",
			Holds:   "for plain copper; a wire of copper-clad aluminium has half as much again",
		},
		{
			Title:   "Trains",
			Text:    "The trains that may move at once draw their current at a point each. All of them at one point is a bound that no placing exceeds, because the drop at x by a train at y is I R_xy and R_xy is at most R_xx; what its breaker does not let pass is taken just above it. With one or two trains the bound is attained, nose to nose; with more, the others are also put where they add most, a train's length clear, for a lower bound. A caution is given only where the wiring alone, with every resistance low and the two heaviest trains, loses too much.",
			Formula: []string{"drop(x) = sum of I R_xy + detector drops"},
			Source:  "superposition; the limit of a tenth of the volts: NEM 604:2013, 2.2",
			Holds:   "for currents as typed; what a train draws in starting is `inrush`",
		},
		{
			Title:   "Heat",
			Text:    "The largest current that can flow for good is what the breakers before a wire let pass, or what the way lets pass if that is less, times the wire's largest share of it. A share is largest with the short at one of the wire's own ends. From the current follows the temperature at which the wire gives off what it takes in. A dead short is held against the time that insulation stands it.",
			Formula: []string{"share = (R_ii - R_ij) / r", "I² R(T) = convection + radiation", "t = (k S / I)², k = 115"},
			Source:  "maximum principle; natural convection of a horizontal cylinder: Churchill and Chu 1975, from memory; IEC 60364-4-43, Table 43A",
			Holds:   "in still free air; bundled, boxed in or under scenery a wire gets hotter. (k S / I)² holds for five seconds. Within 25 % of published tables from 20 AWG to 10 AWG",
		},
		{
			Title:   "DCC is not direct current",
			Text:    "The track's polarity turns every 58 µs or more. After each turn the current of a short climbs anew against the inductance of the loop it takes. Seen from the short, any network of resistors and inductances is a number of branches in parallel, each a resistance and an inductance in series; they are found from the network itself and give peak, mean and rms exactly. The least over one bits, zero bits and idle packets counts.",
			Formula: []string{"L' = (µ0/π) acosh(D/d), C' = π ε / acosh(D/d)", "peak = (V/R) tanh(x/2), mean = (V/R)(1 - 2 ln(1+tanh(x/2))/x), rms = (V/R) sqrt(1 - (2/x) tanh(x/2)), x = T R/L, for one branch"},
			Source:  "half-bits: NMRA S-9.1, Table 1; idle packet: S-9.2, from memory; branches: Foster 1924, found by the Lanczos process (Golub and Meurant 1994)",
			Holds:   "with edges that turn at once, and inductance that does not depend on frequency; spacing is a range, and a loop of unknown width is taken as 3 m wide. What a booster senses nobody says",
		},
		{
			Title:   "One wire less",
			Text:    "The loss of a feeder's wire, a joiner or a bus's tap changes one leg by one conductor. What hangs on it alone goes dead; elsewhere the resistance grows.",
			Formula: []string{"R'(x) = R(x) + g z(x)² / (1 - g (z_i - z_j)), z = R (e_i - e_j)"},
			Source:  "Sherman and Morrison 1950",
			Holds:   "for one loss at a time",
		},
		{
			Title:   "Detectors",
			Text:    "A detector is a fixed drop in its leg, and a little resistance. With no train, it still sees what its wires and rails pass as capacitors, its terminators and loads.",
			Formula: []string{"I = 4 V C f", "P = 4 f C V² tanh(T / (2 R C))"},
			Source:  "derived; thresholds: NEM 624, NEM 625",
			Holds:   "for a drop that does not depend on the current: exact where the detector's leg is the only way to what it watches",
		},
		{
			Title:   "Gaps that move",
			Text:    "Rail and benchwork grow by themselves with warmth, and benchwork with humidity, which mostly moves more.",
			Formula: []string{"change = length ((base - rail) ΔT + humidity ΔRH)"},
			Source:  "data sheets UNS C77000 and C26000; APA, as quoted",
			Holds:   "for plywood; solid wood across the grain moves twenty times as much",
		},
	}
}

// Assumed lists what joints, contacts and devices are taken for where a layout does not say.
func Assumed() []conductor.Value { return conductor.All() }
