package fixes

import (
	"math"
	"slices"
	"strings"

	"gapwise/netlist/source"

	"gapwise/rules"
	"gapwise/rules/finding"
)

// near is how far apart two readings of one place may be, in metres: 1/16 in.
const near = 0.0016

// alike reports whether findings of two checks are one: of one rule, at one place or about one line of the files. Lines are compared
// by what they say, since a change may move them.
func alike(x *finding.Finding, in *rules.Report, y *finding.Finding, out *rules.Report) bool {
	if x.Rule != y.Rule {
		return false
	}
	if samePlace(&x.Place, &y.Place) {
		return true
	}
	a, b := lineAt(in, x.Pos), lineAt(out, y.Pos)
	return a != "" && a == b && x.Pos.Col == y.Pos.Col
}

func samePlace(x, y *finding.Place) bool {
	if x.HasAt && y.HasAt {
		return x.Piece == y.Piece && math.Abs(x.AtM-y.AtM) < near
	}
	return x.Text == y.Text
}

// lineAt is the line of a position without the comment that ends it.
func lineAt(r *rules.Report, p source.Pos) string {
	if !p.IsValid() || int(p.File) >= len(r.Layout.Files) {
		return ""
	}
	text, _, _ := strings.Cut(string(r.Layout.Files[p.File].Line(p.Line)), " #")
	return strings.TrimRight(text, " \t\r\n")
}

// counts reports whether a finding is one that has to go: above a note, and accepted by nobody.
func counts(f *finding.Finding) bool { return f.Severity > finding.Note && !f.Accepted }

// staleRule tells of acceptances without a finding.
const staleRule = "acceptance-stale"

// holds reports whether a check has a finding still.
func holds(after, before *rules.Report, f *finding.Finding) bool {
	return slices.ContainsFunc(after.Findings, func(x finding.Finding) bool {
		if !alike(f, before, &x, after) {
			return false
		}
		return samePlace(&f.Place, &x.Place) || !slices.ContainsFunc(before.Findings, func(g finding.Finding) bool { // one line may have several findings
			return g.Rule == x.Rule && samePlace(&g.Place, &x.Place)
		})
	})
}

// fresh lists what is above a note after a change and was not there before, or not as grave. An acceptance that matches
// nothing any more is no harm that a change does: what it accepted is gone.
func fresh(before, after *rules.Report) []finding.Finding {
	var out []finding.Finding
	for i := range after.Findings {
		x := &after.Findings[i]
		if counts(x) && x.Rule != staleRule && !slices.ContainsFunc(before.Findings, func(f finding.Finding) bool {
			return !f.Accepted && f.Severity >= x.Severity && alike(&f, before, x, after)
		}) {
			out = append(out, *x)
		}
	}
	return out
}

// gone lists what was above a note before a change and is not there any more.
func gone(before, after *rules.Report) []finding.Finding {
	var out []finding.Finding
	for i := range before.Findings {
		if f := &before.Findings[i]; counts(f) && !holds(after, before, f) {
			out = append(out, *f)
		}
	}
	return out
}

// opens reports whether a change leaves open what was checked before: a check that could not be made passes nothing.
func opens(before, after *rules.Report) bool {
	return slices.ContainsFunc(after.NotChecked, func(n finding.NotChecked) bool {
		return n.Rule != "" && !slices.ContainsFunc(before.NotChecked, func(o finding.NotChecked) bool { return o.Rule == n.Rule && (o.What == n.What || o.Why == n.Why) })
	})
}

// lighter reports whether one check has fewer faults than another, or as many and fewer cautions.
func lighter(x, y *rules.Report) bool {
	fx, fy := x.Count(finding.Fault), y.Count(finding.Fault)
	return fx < fy || fx == fy && x.Count(finding.Caution) < y.Count(finding.Caution)
}

// Title says in a few words which finding is meant: "frog-shorts-when-set at T9".
func Title(f *finding.Finding) string { return f.Rule + " at " + f.Place.Text }
