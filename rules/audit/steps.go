package audit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts/difference"
	"gapwise/rules/finding"
)

// Step is one thing to do before power goes on.
type Step struct {
	Stage Stage
	Text  string
	Rule  string // of a finding that it mends, else ""
}

// steps lists what is to be done, in order: what is new or worse and grave, what stood before and is grave, what
// to measure, what to test with everything off, and how to put power on what changed.
func (a *Audit) steps() []Step {
	if a.Unchanged() {
		return nil
	}
	out := a.mending()
	if a.Measure != nil {
		out = append(out, Step{Stage: Measuring, Text: fmt.Sprintf("find out %s, which settles %d of what is not checked (%d in all); how, is told below", a.Measure.What, a.Measure.Decides, a.Measure.Open)})
	}
	if n := len(a.Unknown); n > 0 {
		names := make([]string, n)
		for i := range a.Unknown {
			names[i] = a.Unknown[i].What
		}
		out = append(out, Step{Stage: Measuring, Text: "find out " + listed(names, mostNamed) + "; how, is told below"})
	}
	out = append(out, a.takingDown()...)
	out = append(out, a.meterSteps()...)
	return append(out, a.powerSteps()...)
}

// mending lists what to mend: new and worse faults and cautions by stage, faults first; then faults that stood before.
func (a *Audit) mending() []Step {
	var out []Step
	var stood []string
	for stage := Polarity; stage <= Running; stage++ {
		for i := range a.Findings {
			f := &a.Findings[i]
			if f.After == nil || f.After.Accepted || f.After.Severity == finding.Note || stageOf(f.After.Rule) != stage {
				continue
			}
			if f.Outcome <= Worse {
				out = append(out, Step{Stage: stage, Text: f.After.Place.Text + ": " + firstOf(f.After.Fix, f.After.Message), Rule: f.After.Rule})
			} else if f.After.Severity == finding.Fault {
				stood = append(stood, f.After.Rule+" at "+f.After.Place.Text)
			}
		}
	}
	slices.SortStableFunc(out, func(x, y Step) int { return int(x.Stage) - int(y.Stage) })
	if len(stood) > 0 {
		out = append(out, Step{Stage: Polarity, Text: "faults that stood before the change and still do: " + listed(stood, mostNamed)})
		slices.SortStableFunc(out, func(x, y Step) int { return int(x.Stage) - int(y.Stage) })
	}
	return out
}

func firstOf(x, y string) string {
	if x != "" {
		return x
	}
	return y
}

// mostNamed is how many things one step names.
const mostNamed = 6

// listed names up to so many, and says how many there are more.
func listed(names []string, most int) string {
	if len(names) <= most+1 {
		return strings.Join(names, ", ")
	}
	return strings.Join(names[:most], ", ") + fmt.Sprintf(" and %d more", len(names)-most)
}

// everythingOff begins the tests with a meter.
const everythingOff = "switch everything off and pull the supplies' plugs; take every bus that changed off its booster, breaker or reverser; no engine or lit car on the rails (they conduct)"

// meterSteps are the tests of what changed with everything off.
func (a *Audit) meterSteps() []Step {
	k := a.new
	var gaps, feeders []finding.Place
	var districts []string
	touched := a.touched()
	for i := range k.L.Gaps {
		if k.L.Gaps[i].Kind == layout.Insulated && touched[difference.KindGap][int32(i)] {
			gaps = append(gaps, k.GapPlace(int32(i)))
		}
	}
	for i := range k.L.Feeders {
		if f := &k.L.Feeders[i]; touched[difference.KindFeeder][int32(i)] && !f.From[0].Unknown && !f.From[1].Unknown {
			feeders = append(feeders, k.FeederPlace(int32(i)))
		}
	}
	for i := range a.Districts {
		if d := &a.Districts[i]; d.After != nil && d.Changed() && d.After.Feeders > 0 {
			districts = append(districts, d.Name)
		}
	}
	if len(gaps)+len(feeders)+len(districts) == 0 {
		return nil
	}
	out := []Step{{Stage: MeterOff, Text: everythingOff}}
	if len(districts) > 0 {
		out = append(out, Step{Stage: MeterOff, Text: "ohms from rail to rail in " + listed(districts, mostNamed) + ": not near 0, with every turnout thrown one way and then the other (a network against ringing or a bumper that conducts reads what it is)"})
	}
	if len(gaps) > 0 {
		out = append(out, Step{Stage: MeterOff, Text: "ohms across each cut rail at " + placesText(gaps) + ": not near 0, unless both sides hang from one bus"})
	}
	if len(feeders) > 0 {
		out = append(out, Step{Stage: MeterOff, Text: "from each rail to the leg of the bus that the file says, at " + placesText(feeders) + ": near 0; and to the other leg not"})
	}
	return out
}

// placesText names places; where they are many, how many there are on which track.
func placesText(ps []finding.Place) string {
	if len(ps) <= mostNamed+1 {
		texts := make([]string, len(ps))
		for i := range ps {
			texts[i] = ps[i].Text
		}
		return strings.Join(texts, ", ")
	}
	var pieces []string
	count := map[string]int{}
	for _, p := range ps {
		if count[p.Piece]++; count[p.Piece] == 1 {
			pieces = append(pieces, p.Piece)
		}
	}
	for i, p := range pieces {
		pieces[i] = fmt.Sprintf("%s (%d)", p, count[p])
	}
	return fmt.Sprintf("all %d places, on %s", len(ps), strings.Join(pieces, ", "))
}

// touched is, by kind, which entries of the layout after are new or differ in more than their name.
func (a *Audit) touched() map[difference.Kind]map[int32]bool {
	out := map[difference.Kind]map[int32]bool{}
	for i := range a.Difference.Entries {
		e := &a.Difference.Entries[i]
		if e.Fate == difference.Renamed || e.Fate == difference.Turned {
			continue
		}
		if out[e.Kind] == nil {
			out[e.Kind] = map[int32]bool{}
		}
		for _, j := range e.After {
			out[e.Kind][j] = true
		}
	}
	return out
}

// onlyThen and coin begin the first power-up.
const (
	onlyThen = "only once no fault is left and the tests above passed: one part at a time, in the order below, the others off, no engine on. Where something hums or smells, switch off at once"
	coin     = "in each part volts from rail to rail as elsewhere on the layout; then a coin across the rails at its weakest place, given below, for no more than a second. It must trip at once (a reverser turns over first); if it does not, take the coin off and switch off"
)

// powerSteps put power on what changed, sources before what hangs from them.
func (a *Audit) powerSteps() []Step {
	var out []Step
	for _, s := range a.inOrder() {
		out = append(out, Step{Stage: PowerUp, Text: s.powerText()})
	}
	if len(out) == 0 {
		return nil
	}
	for i := range a.Sections {
		if s := &a.Sections[i]; s.After != nil && s.Changed() {
			out = append(out, Step{Stage: PowerUp, Text: fmt.Sprintf("%s: one engine slowly in and out over each of its %d ends; it may neither stop nor stutter", s.Name, s.After.Exits)})
		}
	}
	return append([]Step{{Stage: PowerUp, Text: onlyThen}, {Stage: PowerUp, Text: coin}}, out...)
}

// powerText is how to put power on a district for the first time.
func (d *District) powerText() string {
	if d.After == nil || d.After.Feeders == 0 {
		return d.Name + " by itself, everything it feeds taken off: it stays on"
	}
	if !d.After.Computed {
		return d.Name
	}
	text := fmt.Sprintf("%s: the coin at %s; a short there draws %s or more", d.Name, d.After.ShortAt, quantity.FormatCurrent(d.After.Short.Lo))
	if !math.IsInf(d.After.TripsAtA, 1) {
		text += ", and it trips at " + quantity.FormatCurrent(d.After.TripsAtA)
	}
	return text
}

// inOrder lists the districts that changed, and sources that are new or other, each behind what feeds it.
func (a *Audit) inOrder() []*District {
	k := a.new
	touched := a.touched()
	var out []*District
	done := map[string]bool{}
	var add func(source int32)
	add = func(source int32) {
		src := &k.C.Sources[source]
		if done[src.Name] {
			return
		}
		done[src.Name] = true
		if src.Parent >= 0 {
			add(src.Parent)
		}
		for i := range a.Districts {
			if d := &a.Districts[i]; d.Name == src.Name && d.After != nil {
				if d.Changed() {
					out = append(out, d)
				}
				return
			}
		}
		if src.Kind != circuit.SupplySource && touched[sourceKinds[src.Kind]][src.Ref] { // a supply is tested with what it feeds
			out = append(out, &District{Name: src.Name})
		}
	}
	for i := range k.C.Sources {
		add(int32(i))
	}
	return out
}
