package gauge

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts/power"
	"gapwise/rules/catalogue"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// Shortfall is a limit that a choice of wire does not meet. Limit is the rule, or short-margin, wire-drop or
// feeder-lost, which only a choice of wire knows.
type Shortfall struct {
	Limit  string
	Place  string
	Text   string // in one sentence
	Value  string // what it is
	Bound  string // what it may be
	Source string // of the bound
	Advice string // what else mends it, "" where nobody says

	matter string  // the guard before the place, or the wire: the same in every choice
	track  int32   // Layout.Tracks, -1 where the place is not on one
	at     float64 // metres on it
}

// key tells shortfalls of one matter in different choices.
func (s *Shortfall) key() string { return s.Limit + " " + s.matter }

// judging are the rules whose verdicts depend on wire.
var judging = []string{
	"short-too-weak-to-trip", "short-too-weak-under-dcc", "wire-hot-before-trip", "wire-energy-let-through",
	"bus-drop", "feeder-drop", "rail-drop", "feeder-too-thin", "detector-drop-uneven", "false-occupancy", "bus-ringing",
}

// bar is what the choice for one head is held against.
type bar struct {
	c      *rule.Case // of the layout as it is
	head   *power.Head
	ask    *Ask
	asked  []float64 // need, before it was lowered to what the thickest sizes reach
	need   []float64 // amperes, by guard: the least short; 0 asks nothing
	allow  []float64 // volts, by guard, that wire may lose; infinite asks nothing
	most   []float64 // volts, by guard, that all wiring may lose at its best; infinite asks nothing
	waived map[string]bool
}

func newBar(c *rule.Case, h *power.Head, a *Ask) *bar {
	b := &bar{c: c, head: h, ask: a, need: make([]float64, len(h.Weak.Guards)), allow: make([]float64, len(h.Weak.Guards)), most: make([]float64, len(h.Weak.Guards)), waived: map[string]bool{}}
	for g := range b.need {
		if t, ok := h.Trip(int32(g)); ok && !t.Held {
			b.need[g] = t.At.Hi * (1 + a.Margin)
		}
	}
	b.asked = slices.Clone(b.need)
	for g := range b.allow {
		b.allow[g] = b.wireDrop()
		b.most[g] = b.wholeDrop()
	}
	return b
}

// wholeDrop is what all wiring may lose, in volts, where the owner has no limit for a part of it: as the rules have it.
func (b *bar) wholeDrop() float64 {
	for i := range b.c.L.Limits {
		if slices.Contains([]string{"bus-drop", "feeder-drop", "rail-drop"}, b.c.L.Limits[i].Name) {
			return math.Inf(1) // the rules hold the parts against those
		}
	}
	return catalogue.MostDrop / 100 * b.head.Volts.Lo
}

// wireDrop is what wire may lose, in volts; infinite where nothing is asked.
func (b *bar) wireDrop() float64 {
	switch {
	case b.ask.WireDrop <= 0:
		return math.Inf(1)
	case b.ask.Relative:
		return b.ask.WireDrop * b.head.Volts.Lo
	default:
		return b.ask.WireDrop
	}
}

// dropText says what wire may lose, and by whom.
func (b *bar) dropText() (text, source string) {
	text, source = quantity.FormatVoltage(b.wireDrop()), "yours"
	if b.ask.Relative {
		text = fmt.Sprintf("%s of %s, %s", quantity.FormatPercent(100*b.ask.WireDrop), quantity.FormatVoltage(b.head.Volts.Lo), text)
	} else if b.ask.WireDrop == DefaultWireDrop {
		source = WireDropSource
	}
	return "at most " + text, source
}

// caseOf is a study of the head with other wires, ready for rules.
func (b *bar) caseOf(s *power.Study) *rule.Case {
	return &rule.Case{L: s.C.Layout, C: s.C, T: s.T, Power: s, Shared: &rule.Verdicts{}}
}

// judged are the cautions and faults of the rules that depend on wire. Where first is set the first is enough.
func (b *bar) judged(s *power.Study, first bool) []Shortfall {
	var out []Shortfall
	k := b.caseOf(s)
	k.Shared.Apart = true // or one that is set aside would hide others at its culprit
	for _, id := range judging {
		k.Rule, k.Findings = catalogue.ByID(id), nil
		k.Rule.Check(k)
		for i := range k.Findings {
			f := &k.Findings[i]
			x := shortfallOf(s, f)
			if f.Severity == finding.Note || b.waived[x.key()] {
				continue
			}
			if out = append(out, x); first {
				return out
			}
		}
	}
	return out
}

// shortfallOf is a finding as a shortfall.
func shortfallOf(s *power.Study, f *finding.Finding) Shortfall {
	x := Shortfall{Limit: f.Rule, Place: f.Place.Text, Text: f.Message, Advice: f.Fix, track: -1}
	if len(f.Numbers) > 0 {
		n := &f.Numbers[0]
		x.Value, x.Bound, x.Source = n.Text, n.Limit, n.Source
	}
	x.matter, _, _ = strings.Cut(f.Place.Text, " @")
	if f.Place.HasAt {
		for t := range s.C.Layout.Tracks {
			if s.C.Layout.Tracks[t].Name != f.Place.Piece {
				continue
			}
			if p, ok := s.PointOn(int32(t), f.Place.AtM); ok {
				x.stand(s, &p)
			}
		}
	}
	return x
}

// stand notes where on a track a shortfall is, and behind which guard.
func (s *Shortfall) stand(study *power.Study, p *power.Point) {
	s.track = -1
	if g := p.Guard; g >= 0 && int(g) < len(p.Head.Weak.Guards) {
		s.matter = p.Head.Weak.Guards[g].Name
	}
	if p.Way >= 0 {
		if piece := &study.C.Layout.Pieces[study.C.Ways[p.Way].Piece]; piece.Kind == layout.TrackPiece {
			s.track, s.at = piece.Index, p.At
		}
	}
}

// margins are the shorts that trip, but not by the margin asked for: by direct current, or in the mean under DCC.
func (b *bar) margins(ctx context.Context, s *power.Study) ([]Shortfall, error) {
	h := s.Heads[0]
	if b.ask.Margin <= 0 {
		return nil, nil
	}
	var out []Shortfall
	for g, p := range h.Weakest {
		if p == nil || b.need[g] == 0 || p.Short.Lo >= b.need[g] {
			continue
		}
		if t, _ := h.Trip(int32(g)); p.Short.Lo >= t.At.Hi { // below that the rules say so
			out = append(out, b.margin(s, p, g, "short-margin", "draws at least", p.Short.Lo))
		}
	}
	deciding, open := h.DecidingAt(ctx, 1+b.ask.Margin)
	if open != nil {
		return append(out, Shortfall{Limit: "not-computed", Place: b.c.C.Sources[h.Source].Name, Text: open.Why, track: -1}), ctx.Err()
	}
	for g := range deciding {
		d := &deciding[g]
		if d.Left > 0 {
			out = append(out, Shortfall{Limit: "not-computed", Place: h.Weak.Guards[g].Name, Text: fmt.Sprintf("the short current under DCC at %d places was not computed: the bound on work was reached", d.Left), track: -1})
		}
		if d.Worst == nil || b.need[g] == 0 || h.Weakest[g] != nil && h.Weakest[g].Short.Lo < b.asked[g] || d.Worst.Short.MeanAbs >= b.need[g] {
			continue // direct current has too little already, or there is enough
		}
		if t, _ := h.Trip(int32(g)); d.Worst.Short.MeanAbs >= t.At.Hi {
			out = append(out, b.margin(s, &d.Worst.Point, g, "short-margin-dcc", "under DCC draws a mean of at least", d.Worst.Short.MeanAbs))
		}
	}
	return slices.DeleteFunc(out, func(x Shortfall) bool { return b.waived[x.key()] }), nil
}

// margin words one of them.
func (b *bar) margin(s *power.Study, p *power.Point, guard int, limit, draws string, amps float64) Shortfall {
	h := s.Heads[0]
	t, _ := h.Trip(int32(guard))
	place := b.caseOf(s).PointPlace(p).Text
	x := Shortfall{
		Limit: limit, Place: place,
		Text:  fmt.Sprintf("a short at %s %s %s, and %s should trip at %s with %s to spare", place, draws, quantity.FormatCurrent(amps), h.Weak.Guards[t.Guard].Name, t.At, quantity.FormatPercent(100*b.ask.Margin)),
		Value: quantity.FormatCurrent(amps), Bound: "at least " + quantity.FormatCurrent(b.need[guard]), Source: b.marginSource(),
		Advice: "a trip of at most " + quantity.FormatCurrent(amps/(1+b.ask.Margin)) + ", or a source nearer",
	}
	x.stand(s, p)
	return x
}

// marginSource says whose the margin is.
func (b *bar) marginSource() string {
	if b.ask.Margin == DefaultMargin {
		return "margin: " + rule.CommonPractice
	}
	return "yours"
}

// lost are the limits that fail once one feeder has broken.
func (b *bar) lost(s *power.Study, losses []power.Loss) []Shortfall {
	var out []Shortfall
	h, k := s.Heads[0], b.caseOf(s)
	seen := map[string]bool{}
	for i := range losses {
		l := &losses[i]
		if l.Dead || l.Point.Way < 0 {
			continue
		}
		place := k.PointPlace(&l.Point).Text
		wire := k.CulpritName(rule.Culprit{Kind: k.C.Conductors[l.Conductor].Kind, Ref: k.C.Conductors[l.Conductor].Ref})
		x := Shortfall{Limit: "feeder-lost", Place: place}
		x.stand(s, &l.Point)
		t, ok := h.Trip(l.Point.Guard)
		if ok && !t.Held && l.Short < t.At.Hi {
			x.Text = fmt.Sprintf("without %s a short at %s draws only %s, and %s trips at %s", wire, place, quantity.FormatCurrent(l.Short), h.Weak.Guards[t.Guard].Name, t.At)
			x.Value, x.Bound, x.Source = quantity.FormatCurrent(l.Short), "at least "+t.At.String(), h.Weak.Guards[t.Guard].Name+", yours"
			if !seen[x.key()] && !b.waived[x.key()] {
				seen[x.key()] = true
				out = append(out, x)
			}
		}
	}
	return out
}
