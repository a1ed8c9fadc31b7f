package reports

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"gapwise/netlist/quantity"

	"gapwise/rules/gauge"
	"gapwise/rules/rule"
)

// GaugeView is the choice of wire for one layout, ready to be written.
type GaugeView struct {
	File, Name string
	By         string // copper, price
	Notes      []string
	Limits     []GaugeLimit
	Heads      []GaugeHead
	Undecided  []string // what of the limits could not be decided, and why
	Brought    []string // faults and cautions that the wire chosen brings to the whole layout
	Found      bool     // wire was chosen for every source
	Met        bool     // every limit is met everywhere
	GaveUp     bool     // a bound on work was reached before anything was found
}

// GaugeLimit is one limit in words, with its source.
type GaugeLimit struct {
	Limit  string `json:"limit"`
	Text   string `json:"text"`
	Source string `json:"source"`
}

// GaugeHead is one source with the wire that hangs from it.
type GaugeHead struct {
	Source  string         `json:"source"`
	Open    string         `json:"open"` // why nothing was chosen, "" when it was
	Found   bool           `json:"found"`
	Proven  bool           `json:"proven"`
	Cost    *float64       `json:"cost"`  // kilograms, or money
	Bound   *float64       `json:"bound"` // no choice that meets the limits costs less
	Present *float64       `json:"present_cost"`
	Looks   int            `json:"looks"`
	Wires   []GaugeWire    `json:"wires"`
	Kept    []GaugeKept    `json:"kept"`
	Lacks   []GaugeFalls   `json:"present_does_not_meet"`
	Never   []GaugeFalls   `json:"no_size_meets"`
	Instead []GaugeInstead `json:"instead"`

	cost, bound, present string
}

// GaugeWire is one run of wire.
type GaugeWire struct {
	Wire    string       `json:"wire"`
	Metres  float64      `json:"conductor_m"`
	Present string       `json:"present"`
	Choice  string       `json:"choice"`
	AreaMM2 *float64     `json:"choice_mm2"`
	Cost    *float64     `json:"cost"`
	Thinner []GaugeFalls `json:"next_thinner_would_break"`
	Unsaid  int          `json:"feeders_of_unknown_length"`

	length, cost, why string
}

// GaugeKept is wire that was left as it is, and why.
type GaugeKept struct {
	Wire string `json:"wire"`
	Why  string `json:"why"`
}

// GaugeFalls is a limit that is not met.
type GaugeFalls struct {
	Limit  string `json:"limit"`
	Place  string `json:"place"`
	Text   string `json:"text"`
	Value  string `json:"value"`
	Bound  string `json:"bound"`
	Source string `json:"source"`
	Advice string `json:"advice"`
}

// GaugeInstead is something else than thicker wire.
type GaugeInstead struct {
	Text  string   `json:"text"`
	Cost  float64  `json:"cost"`
	Mends int      `json:"limits_met_besides"`
	Wires []string `json:"wires_then"`

	cost string
}

// NewGaugeView prepares a choice for writing. file is what the user named.
func NewGaugeView(file string, c *gauge.Choice) *GaugeView {
	v := &GaugeView{File: file, Name: c.Layout.Name, By: "copper", Notes: some(c.PriceNotes()), Limits: gaugeLimits(&c.Ask), Heads: []GaugeHead{}, Undecided: []string{}, Brought: []string{}, Found: true, Met: len(c.Brought) == 0}
	money := quantity.FormatMass
	if c.Ask.ByPrice {
		v.By, money = "price", func(x float64) string { return strconv.FormatFloat(x, 'f', 2, 64) }
	}
	for i := range c.Heads {
		h := gaugeHead(&c.Heads[i], money)
		v.Found = v.Found && (h.Found || len(h.Wires) == 0 && h.Open == "")
		v.Met = v.Met && h.Open == "" && h.Found == (len(h.Wires) > 0) && len(h.Never) == 0
		v.GaveUp = v.GaveUp || len(h.Wires) > 0 && !h.Found
		v.Heads = append(v.Heads, h)
	}
	for _, n := range c.Open {
		v.Undecided = append(v.Undecided, n.What+": "+n.Why)
	}
	v.Met = v.Met && len(v.Undecided) == 0
	for i := range c.Brought {
		v.Brought = append(v.Brought, c.Brought[i].Severity.String()+" "+c.Brought[i].Rule+": "+c.Brought[i].Message)
	}
	return v
}

// Broken reports whether some limit is known not to be met.
func (v *GaugeView) Broken() bool {
	for i := range v.Heads {
		if h := &v.Heads[i]; len(h.Never) > 0 || len(h.Wires) > 0 && !h.Found {
			return true
		}
	}
	return false
}

func gaugeHead(h *gauge.Head, money func(float64) string) GaugeHead {
	out := GaugeHead{
		Source: h.Source, Open: h.Open, Found: h.Found, Proven: h.Proven, Cost: finite(h.Cost), Bound: finite(h.Bound), Looks: h.Work,
		Wires: []GaugeWire{}, Kept: []GaugeKept{}, Instead: []GaugeInstead{}, Lacks: falls(h.Present), Never: falls(h.Impossible),
		cost: money(h.Cost), bound: money(h.Bound),
	}
	present, known := 0.0, true
	for i := range h.Runs {
		r := &h.Runs[i]
		w := GaugeWire{Wire: r.Name, Metres: r.Metres, Present: presentWires(r), Thinner: falls(r.Breaks), Unsaid: r.Unsaid, length: quantity.FormatLength(r.Metres), cost: "-", why: "-"}
		if r.PresentCost.Known() {
			present += r.PresentCost.Mid()
		} else {
			known = false
		}
		if r.Size >= 0 {
			size := &r.Sizes[r.Size]
			w.Choice, w.Cost, w.cost = rule.WireText(size.Wire), finite(size.Cost), money(size.Cost)
			w.AreaMM2 = finite(size.Wire.Lo * 1e6)
			switch {
			case !r.Thinner:
				w.why = "the thinnest there is"
			case len(r.Breaks) == 0:
				w.why = "meet the limits too, and cost no less"
			default:
				w.why = breakText(r.Breaks)
			}
		}
		out.Wires = append(out.Wires, w)
	}
	if known && len(h.Runs) > 0 {
		out.Present, out.present = finite(present), money(present)
	}
	for _, k := range h.Kept {
		out.Kept = append(out.Kept, GaugeKept{k.Name, k.Why})
	}
	for i := range h.Others {
		o := &h.Others[i]
		out.Instead = append(out.Instead, GaugeInstead{Text: o.Text, Cost: o.Cost, Mends: o.Mends, Wires: some(o.Wires), cost: money(o.Cost)})
	}
	return out
}

// breakText says what a thinner size breaks: the first limit in figures, the others by name.
func breakText(breaks []gauge.Shortfall) string {
	b := &breaks[0]
	text := b.Limit
	if b.Value != "" {
		text += ": " + b.Value
	}
	text += " at " + b.Place
	if b.Bound != "" {
		text += "; " + b.Bound
	}
	var more []string
	for i := range breaks[1:] {
		if l := breaks[i+1].Limit; l != b.Limit && !slices.Contains(more, l) {
			more = append(more, l)
		}
	}
	if len(more) > 0 {
		text += "; and " + strings.Join(more, ", ")
	}
	return text
}

func presentWires(r *gauge.Chosen) string {
	var out []string
	for _, w := range r.Present {
		if w.Known() {
			out = append(out, rule.WireText(w))
		} else {
			out = append(out, "unknown")
		}
	}
	return strings.Join(out, ", ")
}

func falls(ss []gauge.Shortfall) []GaugeFalls {
	out := []GaugeFalls{}
	for i := range ss {
		s := &ss[i]
		out = append(out, GaugeFalls{s.Limit, s.Place, s.Text, s.Value, s.Bound, s.Source, s.Advice})
	}
	return out
}

// gaugeLimits says what was asked of the wire.
func gaugeLimits(a *gauge.Ask) []GaugeLimit {
	var out []GaugeLimit
	for _, l := range gauge.Limits(a) {
		out = append(out, GaugeLimit{l.Name, l.Text, l.Source})
	}
	return append(out, GaugeLimit{"the rules " + strings.Join(gauge.Judging(), ", "), "no fault and no caution by any of them", "`gapwise explain` says what each looks at"})
}

// headline says in a line what came of the choice for one source.
func (h *GaugeHead) headline() string {
	switch {
	case h.Open != "":
		return "nothing chosen: " + h.Open
	case len(h.Wires) == 0:
		return "no wire to choose"
	case !h.Found && h.Proven:
		return "no choice of these sizes meets the limits"
	case !h.Found:
		return fmt.Sprintf("nothing found that meets the limits before the bound on work was reached (%d choices looked at)", h.Looks)
	}
	text := h.cost
	switch {
	case h.present != "" && len(h.Lacks) == 0:
		text += " instead of " + h.present + " as it is, which meets every limit too"
	case h.present != "":
		text += " instead of " + h.present + " as it is"
	}
	if len(h.Never) > 0 {
		text += "; not every limit can be met, and this comes near"
	}
	if h.Proven {
		return fmt.Sprintf("%s; proved the cheapest (%d choices looked at)", text, h.Looks)
	}
	return fmt.Sprintf("%s; the cheapest of %d choices looked at; none costs less than %s", text, h.Looks, h.bound)
}
