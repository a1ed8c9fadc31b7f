package fixes

import (
	"context"
	"strings"

	"gapwise/rules"
	"gapwise/rules/finding"
)

// mostTries bounds how many mends are tried for one finding.
const mostTries = 8

// Each tries the mends of every finding of a report, the smallest first, each by itself. The first that takes its finding away, and brings
// nothing above a note and nothing unchecked that was not there, becomes the finding's fix, marked as checked. Where none does, the
// finding keeps its advice and says so. It reports whether all was tried: work is bounded. The error is ctx's only.
func Each(ctx context.Context, r *rules.Report) (all bool, err error) {
	before, err := whole(ctx, r)
	if err != nil {
		return false, err
	}
	return newBudget().each(ctx, before, r)
}

func (b *budget) each(ctx context.Context, before, r *rules.Report) (all bool, err error) {
	for i := range r.Findings {
		f := &r.Findings[i]
		if len(f.Mends) == 0 || f.Accepted {
			continue
		}
		if b.spent() {
			return false, nil
		}
		m, also, err := b.first(ctx, before, f)
		switch {
		case err != nil:
			return false, err
		case m != nil:
			f.Fix, f.FixChecked, f.FixAlso = withCopies(before.Layout, m), true, also
		default:
			f.Fix += "; no single change that was tried is enough by itself"
		}
	}
	return true, nil
}

// first is the first mend of a finding that mends it, nil where none does, and what else it mends.
func (b *budget) first(ctx context.Context, before *rules.Report, f *finding.Finding) (*finding.Mend, []string, error) {
	for k := range f.Mends[:min(len(f.Mends), mostTries)] {
		t, err := b.try(ctx, before.Layout, &f.Mends[k], "")
		if err != nil {
			return nil, nil, err
		}
		if t.mends(before, f) {
			return &f.Mends[k], titles(gone(before, t.report), f), nil
		}
	}
	return nil, nil, nil
}

// mends reports whether a change that was tried takes a finding away and does no harm.
func (t *tried) mends(before *rules.Report, f *finding.Finding) bool {
	return t.report != nil && !holds(t.report, before, f) && len(fresh(before, t.report)) == 0 && !opens(before, t.report)
}

// titles are the titles of findings but one, each once.
func titles(fs []finding.Finding, but *finding.Finding) []string {
	var out []string
	for i := range fs {
		if title := Title(&fs[i]); title != Title(but) && !strings.Contains(strings.Join(out, "\n"), title) {
			out = append(out, title)
		}
	}
	return out
}

// whole is a report of all rules: r itself where it is one.
func whole(ctx context.Context, r *rules.Report) (*rules.Report, error) {
	if r.All {
		return r, nil
	}
	return rules.Check(ctx, r.Layout, rules.Options{})
}
