package gauge

import (
	"fmt"
	"math"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/rules/catalogue"
	"gapwise/rules/rule"
)

// Remedy is something else than thicker wire, worked out.
type Remedy struct {
	Text string
	Wire quantity.Wire // the thinnest that passes then, unsaid when none does
	Met  bool
	Then string // what comes of it, in words
}

// impossible tells which limits no size meets, with the best of them.
func (s *single) impossible(rows []Row) []Impossible {
	var out []Impossible
	for _, limit := range tableLimits {
		best, all := -1, limit != LimitShortDCC || len(out) == 0 || out[len(out)-1].Limit != LimitShort
		var least Miss
		for i := range rows {
			m, misses := s.miss(limit, &rows[i])
			if all = all && misses; !all {
				break
			}
			if gap := math.Abs(m.Value - m.Bound); best < 0 || gap < math.Abs(least.Value-least.Bound) {
				best, least = i, m
			}
		}
		if all {
			text := fmt.Sprintf("no size meets it; the best, %s: %s", rule.WireText(rows[best].Wire), least.Text())
			if limit == LimitShort && s.volts.Lo/(s.inside.Hi+s.short.Hi) < s.need() {
				text += "; nor would wire of no resistance, as the booster's inside and the short itself hold the current down"
			}
			out = append(out, Impossible{limit, text})
		}
	}
	if len(out) == 0 {
		out = append(out, Impossible{"", "each limit is met by some size, and no size meets all"})
	}
	return out
}

// remedies works out what may help: a shorter run, a twisted pair, the booster in the middle, two runs, a lower trip, fewer
// trains. With a choice only what lets it be thinner and costs no copper is told.
func (s *single) remedies(rows []Row, choice int) []Remedy {
	var out []Remedy
	if s.laid.Kind != layout.LaidTwisted {
		x := *s
		x.laid = layout.Laid{Kind: layout.LaidTwisted}
		out = append(out, x.tried("twist the two wires, or take a flat pair", rows))
	}
	middle := *s
	middle.length = s.length.Times(0.5)
	text := "put the booster in the middle of what it feeds, so that no run is longer than "
	if s.feeder {
		text = "bring the bus nearer, so that no feeder is longer than "
	}
	out = append(out, middle.tried(text+quantity.FormatLength(middle.length.Hi), rows))
	if choice >= 0 {
		return thinnerThan(out, rows[choice].Wire)
	}
	twice := *s
	twice.beside = 2
	out = append(out, twice.tried("lay two such runs side by side, joined at both ends", rows))
	out = append(out, s.shorter(rows))
	if s.trip > s.amps {
		out = append(out, s.lowerTrip(rows))
	}
	if fewer, ok := s.fewerTrains(rows); ok {
		out = append(out, fewer)
	}
	for _, r := range out {
		if r.Met {
			return out
		}
	}
	middle.laid = layout.Laid{Kind: layout.LaidTwisted}
	middle.trip = s.amps
	return append(out, middle.tried("all of it: twisted, half as long, and a trip of "+quantity.FormatCurrent(s.amps), rows))
}

func thinnerThan(rs []Remedy, w quantity.Wire) []Remedy {
	var out []Remedy
	for _, r := range rs {
		if r.Met && r.Wire.Lo < w.Lo {
			out = append(out, r)
		}
	}
	return out
}

// tried is a changed run with the thinnest size that then passes.
func (s *single) tried(text string, rows []Row) Remedy {
	var last Row
	for i := range rows {
		if last = s.row(rows[i].Wire); last.Passes() {
			return Remedy{text, last.Wire, true, rule.WireText(last.Wire) + " is then enough"}
		}
	}
	return Remedy{Text: text, Then: fmt.Sprintf("not enough by itself, not even with %s: %s", rule.WireText(last.Wire), last.Misses[0].Text())}
}

// shorter is the longest run that any size makes.
func (s *single) shorter(rows []Row) Remedy {
	best := &rows[0]
	for i := range rows {
		if rows[i].Reach > best.Reach {
			best = &rows[i]
		}
	}
	if best.Reach <= 0 {
		return Remedy{Text: "make the run shorter", Then: "not enough: no size passes at any length"}
	}
	return Remedy{"make the run shorter: at most " + quantity.FormatLength(Inches(best.Reach)) + " one way", best.Wire, true, rule.WireText(best.Wire) + " goes that far"}
}

// Inches is a length in metres, cut to whole inches.
func Inches(metres float64) float64 { return math.Floor(metres/inch) * inch }

const inch = 0.0254

// tripStep is how finely a trip is offered, in amperes.
const tripStep = 0.1

// lowerTrip is the highest trip, not below what trains draw, that lets a size pass.
func (s *single) lowerTrip(rows []Row) Remedy {
	best, at := quantity.Wire{}, 0.0
	for i := range rows {
		r := &rows[i]
		most := min(s.trip, r.Short/(1+s.margin), r.Pulsed.MeanAbs/(1+s.margin))
		if s.warmth(r.Wire, most) > catalogue.WarmInsulation {
			most = s.mostAmps(r.Wire, most)
		}
		x := *s
		x.trip = math.Floor(most/tripStep+1e-9) * tripStep
		if x.trip >= s.amps && x.trip > at && x.trip < s.trip {
			if y := x.row(r.Wire); y.Passes() {
				best, at = r.Wire, x.trip
			}
		}
	}
	if at == 0 {
		return Remedy{Text: "put a breaker before the run that trips sooner", Then: "not enough by itself: not even one that trips at the " + quantity.FormatCurrent(s.amps) + " that the trains draw"}
	}
	return Remedy{"put a breaker before the run that trips at " + quantity.FormatCurrent(at) + " or less", best, true, rule.WireText(best) + " is then enough"}
}

// mostAmps is the steady current, up to one that is too much, at which a wire is as warm as it may be.
func (s *single) mostAmps(w quantity.Wire, hi float64) float64 {
	lo := 0.0
	for range 40 {
		mid := lo + (hi-lo)/2
		if s.warmth(w, mid) > catalogue.WarmInsulation {
			hi = mid
		} else {
			lo = mid
		}
	}
	return lo
}

// fewerTrains is the most that trains may draw on the thickest wire, where nothing but loss stands against it.
func (s *single) fewerTrains(rows []Row) (Remedy, bool) {
	r := &rows[len(rows)-1]
	most := s.most
	if s.whole {
		most = min(most, wholePart*s.volts.Lo)
	}
	x := *s
	x.amps = math.Floor(most/r.Loop.Hi/tripStep) * tripStep
	if x.amps <= 0 || x.amps >= s.amps {
		return Remedy{}, false
	}
	if y := x.row(r.Wire); !y.Passes() {
		return Remedy{}, false
	}
	return Remedy{"run fewer trains at the far end: no more than " + quantity.FormatCurrent(x.amps), r.Wire, true, rule.WireText(r.Wire) + " is then enough"}, true
}
