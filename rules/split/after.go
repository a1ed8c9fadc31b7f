package split

import (
	"context"
	"errors"
	"math"
	"strings"

	"gapwise/netlist/amend"
	"gapwise/netlist/quantity"

	"gapwise/districts/power"
	"gapwise/rules"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// check reads the layout with the division written in, and checks it. The error is ctx's only.
func (a *Answer) check(ctx context.Context, before *rules.Report) error {
	if a.plan.w == nil || len(a.Refused) > 0 {
		return nil
	}
	l, problems, err := a.plan.w.Reread(ctx)
	var refused *amend.RefusedError
	switch {
	case errors.As(err, &refused):
		for _, r := range refused.Refusals {
			a.plan.refuse("%s: %s", r.Change, r.Why)
		}
		return nil
	case err != nil:
		return err
	case len(problems) > 0:
		for i := range problems {
			a.plan.refuse("what would be written does not read: %s", problems[i].Message)
		}
		return nil
	}
	a.plan.verify(l)
	if len(a.Refused) > 0 {
		return nil
	}
	if a.After, err = rules.Check(ctx, l, rules.Options{}); err != nil {
		return err
	}
	was, is := findings(before), findings(a.After)
	for i := range a.After.Findings {
		f := &a.After.Findings[i]
		switch old, had := was[key(f)]; {
		case !counts(f):
		case !had || worse(old, f):
			a.Brought = append(a.Brought, *f)
		default:
			a.Stay++
		}
	}
	for i := range before.Findings {
		if f := &before.Findings[i]; counts(f) && is[key(f)] == nil {
			a.Gone++
		}
	}
	a.figures()
	return nil
}

func counts(f *finding.Finding) bool { return f.Severity > finding.Note && !f.Accepted }

func key(f *finding.Finding) string { return f.Rule + " " + f.Place.Text }

func findings(r *rules.Report) map[string]*finding.Finding {
	out := map[string]*finding.Finding{}
	for i := range r.Findings {
		if f := &r.Findings[i]; counts(f) {
			out[key(f)] = f
		}
	}
	return out
}

// worse reports whether a finding is graver than it was, or its first figure is farther from its limit: by more than a hundredth, which
// is no more than another way of laying the same wires.
func worse(was, is *finding.Finding) bool {
	switch {
	case is.Severity != was.Severity:
		return is.Severity > was.Severity
	case len(was.Numbers) == 0 || len(is.Numbers) == 0 || was.Numbers[0].Name != is.Numbers[0].Name:
		return false
	}
	old, now := was.Numbers[0].SI, is.Numbers[0].SI
	if strings.HasPrefix(is.Numbers[0].Limit, "at least") {
		old, now = now, old
	}
	return now > old*1.01
}

// figures reads the weakest short and the worst drop of each district from the check.
func (a *Answer) figures() {
	c := &rule.Case{L: a.After.Layout, C: a.After.Trace.C, T: a.After.Trace, Power: a.After.Power}
	for i := range a.Districts {
		d := &a.Districts[i]
		weakest, most := math.Inf(1), math.Inf(-1)
		for _, h := range a.After.Power.Heads {
			if !h.Known() {
				continue
			}
			for g := range h.Weak.Guards {
				if !headedBy(h, g, d.Device.Name) {
					continue
				}
				if p := h.Weakest[g]; p != nil && p.Short.Lo < weakest {
					weakest = p.Short.Lo
					d.Short = Figure{rule.RangeText(p.Short, quantity.FormatCurrent), c.PointPlace(p).Text, p.Short.Lo}
				}
				if x := h.Drops[g]; x != nil && x.Amps > 0 && x.Wiring.Hi > most {
					most = x.Wiring.Hi
					d.Drop = Figure{rule.RangeText(x.Wiring, quantity.FormatVoltage), c.PointPlace(&x.Point).Text, x.Wiring.Hi}
				}
			}
		}
	}
}

// headedBy reports whether a guard is a district's device, or stands behind it.
func headedBy(h *power.Head, guard int, name string) bool {
	for _, g := range h.Weak.Above(int32(guard)) {
		if h.Weak.Guards[g].Name == name {
			return true
		}
	}
	return false
}

// Save writes the layout with the division: one file, or with includes a folder. The error is an *AskError where
// it cannot be written at all, else amend's.
func (a *Answer) Save(out string, overwrite bool) ([]string, error) {
	switch {
	case a.plan == nil:
		return nil, refuse("there is no division to write")
	case len(a.Refused) > 0:
		return nil, refuse("%s", a.Refused[0])
	}
	return a.plan.w.Save(out, overwrite)
}
