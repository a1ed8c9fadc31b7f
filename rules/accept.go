package rules

import (
	"fmt"
	"math"
	"slices"

	"gapwise/netlist/layout"

	"gapwise/rules/catalogue"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// accept marks the findings that the layout accepts, and reports acceptances that match
// none although their rule ran.
func (r *Report) accept(l *layout.Layout) {
	k := &rule.Case{L: l, C: r.Trace.C, T: r.Trace}
	for i := range l.Accepts {
		a := &l.Accepts[i]
		used := false
		for f := range r.Findings {
			x := &r.Findings[f]
			known := catalogue.ByID(x.Rule)
			if x.Rule == a.Finding && known != nil && !known.CannotAccept && matches(k, x, &a.Target) {
				x.Accepted, x.Because, used = true, a.Because, true
			}
		}
		if used || !slices.Contains(r.Ran, a.Finding) || !slices.Contains(r.Ran, "acceptance-stale") {
			continue
		}
		r.Findings = append(r.Findings, finding.Finding{
			Rule:     "acceptance-stale",
			Severity: finding.Caution,
			Pos:      a.Pos,
			Place:    finding.Place{Text: a.At},
			Message:  fmt.Sprintf("the acceptance of %s at %s matches no finding", a.Finding, a.At),
			Why:      "an acceptance that nobody needs hides the next real finding there",
			Fix:      "take the entry out",
			Mends: []finding.Mend{{
				Text:    "take this acceptance out of the file",
				Work:    finding.Work{Settings: 1},
				Changes: []finding.Change{{Op: finding.OpRemoveItem, Section: "accept", Ref: int32(i)}},
			}},
		})
	}
}

// near is how far apart two readings of one place may be, in metres: 1/16 in.
const near = 0.0016

// matches reports whether a finding is about the thing an acceptance names.
func matches(k *rule.Case, f *finding.Finding, t *layout.Target) bool {
	if t.Pos.IsValid() && t.Pos == f.Pos {
		return true
	}
	switch t.Kind {
	case layout.TargetPlace:
		p := k.Place(t.Place)
		return samePlace(&p, &f.Place)
	case layout.TargetGap:
		p := k.GapPlace(t.Index)
		return samePlace(&p, &f.Place)
	case layout.TargetFeeder:
		p := k.FeederPlace(t.Index)
		return samePlace(&p, &f.Place)
	case layout.TargetPiece:
		return f.Place.Piece == k.L.Pieces[t.Index].Name && !f.Place.HasAt
	case layout.TargetBlock:
		return f.Place.Text == k.BlockName(t.Index)
	case layout.TargetBus:
		return f.Place.Text == "bus "+k.L.Buses[t.Index].Name
	default:
		return f.Place.Text == t.Text
	}
}

func samePlace(x, y *finding.Place) bool {
	if x.HasAt && y.HasAt {
		return x.Piece == y.Piece && math.Abs(x.AtM-y.AtM) < near
	}
	return x.Text == y.Text
}
