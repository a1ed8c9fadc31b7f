package fixes

import (
	"context"
	"fmt"
	"slices"

	"gapwise/netlist/amend"

	"gapwise/rules"
	"gapwise/rules/finding"
)

// Step is one thing to do of a plan.
type Step struct {
	Text   string
	Rule   string        // of the finding it was made for
	For    finding.Place // where that finding is
	Mended []string      // the findings that went with it, by title, the one it was made for first
	Work   finding.Work
	hidden bool // at a place that is hard to reach
	piece  int  // of the layout, in the order of its file
}

// Left is a finding that stays when a plan is done, and why.
type Left struct {
	Finding finding.Finding
	Why     string
}

// Plan is all mends of a layout together: made in one copy of its text, which was read and checked whole after each.
type Plan struct {
	Steps  []Step        // in working order
	Before *rules.Report // of the layout as it is
	After  *rules.Report // of the layout with all steps done
	Left   []Left        // above a note
	All    bool          // everything was tried: the bound on work was not reached

	writer *amend.Writer
}

// Compose makes the mends of a layout's faults and cautions one after the other, faults first, on a copy that is read and checked anew
// after each. A mend is taken when its finding goes and nothing above a note is new; where no mend of any finding does
// that, one that leaves fewer faults, or as many and fewer cautions, is taken, so that mends which are enough only together come
// about. What is above a note gets less with each step, and so it ends. The error is ctx's only.
func Compose(ctx context.Context, r *rules.Report) (*Plan, error) {
	before, err := whole(ctx, r)
	if err != nil {
		return nil, err
	}
	return newBudget().compose(ctx, before)
}

func (b *budget) compose(ctx context.Context, before *rules.Report) (*Plan, error) {
	p := &Plan{Before: before, After: before, All: true, writer: amend.New(before.Layout, rules.ReaderOptions())}
	for {
		went, err := p.step(ctx, b, (*tried).mends)
		if err == nil && !went {
			went, err = p.step(ctx, b, func(t *tried, now *rules.Report, f *finding.Finding) bool {
				return t.report != nil && !holds(t.report, now, f) && lighter(t.report, now) && !opens(now, t.report)
			})
		}
		if err == nil && !went {
			went, err = p.step(ctx, b, func(t *tried, now *rules.Report, _ *finding.Finding) bool {
				return t.report != nil && lighter(t.report, now) && !opens(now, t.report)
			})
		}
		if err != nil {
			return nil, err
		}
		if !went || b.spent() {
			p.All = !b.spent()
			break
		}
	}
	p.leave()
	p.order()
	return p, nil
}

// step takes the first mend of the gravest finding that is good.
func (p *Plan) step(ctx context.Context, b *budget, good func(t *tried, now *rules.Report, f *finding.Finding) bool) (bool, error) {
	now := p.After
	for i := range now.Findings { // faults come first
		f := &now.Findings[i]
		if !counts(f) {
			continue
		}
		for k := range f.Mends[:min(len(f.Mends), mostTries)] {
			if b.spent() {
				return false, nil
			}
			m := &f.Mends[k]
			t, err := b.try(ctx, now.Layout, m, "fixed: "+f.Rule)
			if err != nil {
				return false, err
			}
			if good(&t, now, f) {
				went := gone(now, t.report)
				mended := titles(went, f)
				if !holds(t.report, now, f) {
					mended = append([]string{Title(f)}, mended...)
				}
				p.Steps = append(p.Steps, Step{Text: withCopies(now.Layout, m), Rule: f.Rule, For: f.Place, Mended: mended, Work: m.Work, hidden: hidden(now.Layout, m), piece: pieceNamed(now.Layout, f.Place.Piece)})
				p.After, p.writer = t.report, t.writer
				return true, nil
			}
		}
	}
	return false, nil
}

// leave lists what stays above a note, and why.
func (p *Plan) leave() {
	for i := range p.After.Findings {
		f := &p.After.Findings[i]
		if !counts(f) {
			continue
		}
		why := fmt.Sprintf("none of the %d changes that were tried takes it away without harm elsewhere", min(len(f.Mends), mostTries))
		switch {
		case len(f.Mends) == 0:
			why = "there is no change to the file that would mend it; " + f.Fix
		case !p.All:
			why = "the bound on work was reached before all its changes were tried"
		case len(f.Mends) == 1:
			why = "the one change that was tried does not take it away, or does harm elsewhere"
		}
		p.Left = append(p.Left, Left{Finding: *f, Why: why})
	}
}

// order puts the steps in working order: what needs no saw first, settings before wires before devices; cuts then, and what is hard to reach
// last; by place at last, so that a person walks along the layout once.
func (p *Plan) order() {
	slices.SortStableFunc(p.Steps, func(x, y Step) int { return compareSteps(&x, &y) })
}

// Saved reports whether a plan has steps, and so a copy to save.
func (p *Plan) Saved() bool { return len(p.Steps) > 0 }

// Save writes the layout with all steps done, changed lines marked, as the writer of layouts saves them.
func (p *Plan) Save(out string, overwrite bool) ([]string, error) {
	return p.writer.Save(out, overwrite)
}
