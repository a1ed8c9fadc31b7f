package catalogue

import (
	"fmt"

	"gapwise/netlist/circuit"
	"gapwise/netlist/conductor"
	"gapwise/netlist/quantity"

	"gapwise/districts/power"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

const (
	// WarmInsulation is the most that PVC stands for long, in °C: where its adiabatic k starts, IEC 60364-4-43, Table 43A.
	WarmInsulation = 70.0
	// hotInsulation is the most that any common insulation stands for long, in °C: where the k of XLPE starts, the same table.
	hotInsulation = 90.0
)

var wireHotBeforeTrip = rule.Rule{
	ID:       "wire-hot-before-trip",
	Severity: finding.Fault,
	Title:    "a wire gets hot from a current that trips nothing",
	Doc: rule.Doc{
		What:    "For every bus, feeder and bond the largest current is computed that can flow for good without tripping what stands before it: trains adding up, or a poor short. From it follows how warm the wire gets in still air in the warm end of the room, alone or against its companion. Over 70 °C, the most that PVC stands, is a caution; over 90 °C, the most for any common insulation, a fault. Wire in bundles, boxes or under scenery gets hotter than that.",
		Why:     "Insulation softens, wires touch, and wood or foam beside them chars.",
		Fix:     "Thicker wire, or a breaker before it that trips at a current it can carry.",
		Example: "feeders:\n  M1: {A: left, wire: 28 AWG, length: 12 in, 4 ft: main @ 4 ft}   # behind a booster that trips at 8 A",
	},
	Sources: []string{
		"70 °C for PVC and 90 °C for XLPE: where the k of IEC 60364-4-43, Table 43A, start (clause from memory)",
		"temperature: natural convection from a horizontal cylinder (Churchill and Chu 1975) and radiation, from memory",
	},
}

func init() { wireHotBeforeTrip.Check = tellVerdicts }

func hotWires(c *rule.Case) []rule.Verdict {
	var out []rule.Verdict
	unknown := map[circuit.Kind]int{}
	warm, of := steady{}, carriers{}
	for _, h := range heads(c, "how hot wires get that hang") {
		open := map[int32]bool{}
		for i := range h.Wires {
			w := &h.Wires[i]
			switch {
			case !w.Wire.Known():
				unknown[w.Kind]++
				if unknown[w.Kind] == 1 {
					c.LeaveOpen("how hot "+c.CulpritName(culpritOf(w))+" gets before anything trips", "the layout does not say its `wire`", c.CulpritPos(culpritOf(w)))
				}
			case w.Unguarded && !finite(w.Steady):
			case w.Unguarded:
				if !open[w.Guard] {
					open[w.Guard] = true
					guard := &h.Weak.Guards[w.Guard]
					c.LeaveOpen("how hot wires get behind "+guard.Name, "the layout does not say at what current it trips", guard.Pos)
				}
			default:
				if v, ok := hotWire(c, h, w, warm); ok {
					of.add(&v, h, w)
					out = append(out, v)
				}
			}
		}
	}
	out = alike(out)
	of.mend(out, func(h *power.Head, w *power.Carried) []finding.Mend { return hotMends(c, h, w) })
	return out
}

// alike makes one verdict of those about wires of one size, of one kind, behind one guard: a trip that is too
// high for one feeder is too high for all of them. The gravest is told, the others are named with it.
func alike(vs []rule.Verdict) []rule.Verdict {
	var out []rule.Verdict
	at := map[string]int{}
	for _, v := range vs {
		i, seen := at[v.Group]
		switch {
		case !seen || v.Group == "":
			at[v.Group] = len(out)
			out = append(out, v)
		case v.Finding.Severity > out[i].Finding.Severity || v.Finding.Severity == out[i].Finding.Severity && v.Worse > out[i].Worse:
			v.Finding.Also = append(out[i].Finding.Also, "the same at "+out[i].Finding.Place.Text)
			out[i] = v
		default:
			out[i].Finding.Also = append(out[i].Finding.Also, "the same at "+v.Finding.Place.Text)
		}
	}
	for i := range out {
		if also := &out[i].Finding.Also; len(*also) > mostAlike {
			*also = append((*also)[:mostAlike:mostAlike], fmt.Sprintf("and at %d more places", len(*also)-mostAlike))
		}
	}
	return out
}

// mostAlike is how many like places are named.
const mostAlike = 4

// group names what wires have in common whose trouble is one.
func group(h *power.Head, guard int32, w *power.Carried) string {
	return fmt.Sprintf("%d %s %d %.4g", h.Source, h.Weak.Guards[guard].Name, w.Kind, w.Wire.Lo)
}

// blame is what a hot wire is laid to: of a feeder no thicker than the bus it hangs from, the bus, which is
// as thin for the same current.
func blame(c *rule.Case, w *power.Carried) rule.Culprit {
	if w.Kind == circuit.FeederWire {
		for _, tap := range c.L.Feeders[w.Ref].From {
			if tap.Bus >= 0 && c.L.Buses[tap.Bus].Wire.Known() && c.L.Buses[tap.Bus].Wire.Hi <= w.Wire.Hi {
				return rule.Culprit{Kind: circuit.BusSpan, Ref: tap.Bus}
			}
		}
	}
	return culpritOf(w)
}

func culpritOf(w *power.Carried) rule.Culprit { return rule.Culprit{Kind: w.Kind, Ref: w.Ref} }

// steady remembers temperatures: most wires of a layout are of few sizes with few currents.
type steady map[steadyKey]float64

type steadyKey struct {
	area, amps float64
	pair       bool
}

func (s steady) celsius(w *power.Carried, ambient float64, pair bool) float64 {
	key := steadyKey{w.Wire.Lo, w.Steady, pair}
	t, known := s[key]
	if !known {
		t = conductor.SteadyCelsius(w.Wire, w.Steady, ambient, pair)
		s[key] = t
	}
	return t
}

func hotWire(c *rule.Case, h *power.Head, w *power.Carried, warm steady) (v rule.Verdict, ok bool) {
	pair := w.IsPair(c.L)
	celsius := warm.celsius(w, room(c).Hi, pair)
	if celsius <= WarmInsulation {
		return v, false
	}
	severity := finding.Caution
	if celsius > hotInsulation {
		severity = finding.Fault
	}
	name, guard := c.CulpritName(culpritOf(w)), h.Weak.Guards[w.Guard].Name
	amps, warmth := quantity.FormatCurrent(w.Steady), quantity.FormatTemperature(celsius)
	why := guard + " lets pass"
	if !w.ByGuard {
		why = "the way lets pass"
	}
	fix := fmt.Sprintf("set %s to trip at a lower current, or put a breaker before it", guard)
	for _, to := range c.Thicker(w.Wire, w.Kind == circuit.FeederWire) {
		if t := conductor.SteadyCelsius(to, w.Steady, room(c).Hi, pair); t <= WarmInsulation {
			fix = fmt.Sprintf("make %s of %s, which gets %s warm, or put a breaker before it that trips at a lower current", name, rule.WireText(to), quantity.FormatTemperature(t))
			break
		}
	}
	may, class, source := conductor.Ampacity(w.Wire)
	v = rule.Verdict{
		Culprit: blame(c, w),
		Group:   group(h, w.Guard, w),
		Worse:   celsius,
		Brief:   fmt.Sprintf("%s gets %s warm from %s that trip nothing", name, warmth, amps),
		Finding: finding.Finding{
			Severity: severity,
			Pos:      c.CulpritPos(culpritOf(w)),
			Place:    finding.Place{Text: name},
			Message:  fmt.Sprintf("%s, %s, may carry %s for as long as nobody looks (%s that), and gets about %s warm", name, rule.WireText(w.Wire), amps, why, warmth),
			Why:      "insulation softens, and what lies against the wire chars",
			Numbers: []finding.Number{
				{Name: "temperature of the wire", Text: warmth, SI: celsius, Unit: "°C", Limit: "at most " + quantity.FormatTemperature(WarmInsulation), Source: "PVC, IEC 60364-4-43, Table 43A"},
				{Name: "current", Text: amps, SI: w.Steady, Unit: "A", Limit: fmt.Sprintf("%s with %s insulation in free air", rule.RangeText(may, quantity.FormatCurrent), quantity.FormatTemperature(class)), Source: source},
			},
			Fix: fix,
		},
	}
	if w.Kind == circuit.FeederWire {
		v.Finding.Place = c.FeederPlace(w.Ref)
	}
	return v, true
}
