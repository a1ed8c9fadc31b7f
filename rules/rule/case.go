package rule

import (
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/source"

	"gapwise/districts"
	"gapwise/districts/power"
	"gapwise/rules/finding"
)

// Case is one traced layout before one rule. A rule reads L, C and T and reports.
type Case struct {
	L *layout.Layout
	C *circuit.Circuit
	T *districts.Trace

	Power  *power.Study // the layout in volts and amperes
	Shared *Verdicts    // what the electrical rules found, shared by the rules of one check

	Rule     *Rule
	Findings []finding.Finding
	Open     []finding.NotChecked

	doubts *doubts
}

// Report adds a finding; its rule, and its severity unless the rule has set one, are
// filled in by the case.
func (c *Case) Report(f finding.Finding) {
	f.Rule = c.Rule.ID
	c.Findings = append(c.Findings, f)
}

// LeaveOpen says what this rule could not check and why.
func (c *Case) LeaveOpen(what, why string, pos source.Pos) {
	c.Open = append(c.Open, finding.NotChecked{Rule: c.Rule.ID, What: what, Why: why, Pos: pos})
}

// GiveUp says what this rule stopped short of, at a bound on its work: the check is
// incomplete.
func (c *Case) GiveUp(what, why string, pos source.Pos) {
	c.Open = append(c.Open, finding.NotChecked{Rule: c.Rule.ID, What: what, Why: why, Pos: pos, Incomplete: true})
}

// PracticeSeverity is that of a rule of thumb: a caution where the owner lists its practice, else a note.
func (c *Case) PracticeSeverity() finding.Severity {
	if c.Listed(c.Rule.Practice) {
		return finding.Caution
	}
	return finding.Note
}

// Listed reports whether the owner lists a practice.
func (c *Case) Listed(practice string) bool {
	return slices.ContainsFunc(c.L.Practices, func(p layout.Practice) bool { return p.Name == practice })
}

// LongestTrain is the longest train of the layout with its name; ok is false when no train
// has a known length. Of a range the longer end counts: that is the careful one.
func (c *Case) LongestTrain() (name string, metres float64, ok bool) {
	return c.longest(func(int32) bool { return true })
}

// LongestMetalTrain is the longest train that does not say it rolls on plastic wheels, by
// itself or, when it says nothing, under operations.
func (c *Case) LongestMetalTrain() (name string, metres float64, ok bool) {
	return c.longest(func(t int32) bool {
		w := c.L.Trains[t].Wheels
		if w == layout.WheelsUnsaid {
			w = c.L.Operations.Wheels
		}
		return w != layout.PlasticWheels
	})
}

// LongestTrainIn is the longest train that comes to a block as meant.
func (c *Case) LongestTrainIn(block int32) (name string, metres float64, ok bool) {
	only := c.L.Blocks[block].Trains
	return c.longest(func(t int32) bool { return len(only) == 0 || slices.Contains(only, t) })
}

func (c *Case) longest(comes func(int32) bool) (name string, metres float64, ok bool) {
	for i := range c.L.Trains {
		t := &c.L.Trains[i]
		if comes(int32(i)) && t.Length.Known() && (!ok || t.Length.Hi > metres) {
			name, metres, ok = t.Name, t.Length.Hi, true
		}
	}
	return name, metres, ok
}
