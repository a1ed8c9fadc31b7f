package proof

import (
	"context"
	"fmt"

	"gapwise/netlist/layout"

	"gapwise/rules"
	"gapwise/rules/finding"
	"gapwise/rules/fixes"
)

// Mended says what became of a layout with a seeded fault when all its fixes were made together.
type Mended struct {
	Fault Fault
	// Told counts the faults and cautions of the seeded layout, Fixed those that come with a fix of their own that was
	// tried, Stays those that the layout has still with all fixes made.
	Told, Fixed, Stays int
	Steps              int
	// Feared are hazards that the oracle sees in the mended layout and not in the sound one, though nothing stays.
	Feared []string
	Left   []fixes.Left
	Text   string // the mended layout
}

// Mend seeds a fault and makes the fixes of what is found. ok is false where the layout could no longer be read.
func (b *Base) Mend(ctx context.Context, fault Fault) (out Mended, ok bool, err error) {
	out.Fault = fault
	text, err := Seed(func(text string) (*layout.Layout, error) { return Read(ctx, text) }, b.Text, fault)
	if err != nil {
		return out, false, err
	}
	l, err := Read(ctx, text)
	if err != nil {
		return out, false, ctx.Err()
	}
	r, err := rules.Check(ctx, l, rules.Options{})
	if err != nil {
		return out, false, err
	}
	if _, err := fixes.Each(ctx, r); err != nil {
		return out, false, err
	}
	for i := range r.Findings {
		f := &r.Findings[i]
		if f.Severity == finding.Note || f.Accepted {
			continue
		}
		out.Told++
		if f.FixChecked {
			out.Fixed++
		}
	}
	plan, err := fixes.Compose(ctx, r)
	if err != nil {
		return out, false, err
	}
	out.Steps, out.Left, out.Stays = len(plan.Steps), plan.Left, len(plan.Left)
	out.Text = string(plan.After.Layout.Files[0].Text)
	if out.Stays > 0 {
		return out, true, nil
	}
	now, err := hazards(out.Text)
	if err != nil {
		return out, true, err
	}
	for _, h := range now {
		if !b.hazards[h.Kind+" "+h.Place] && h.Kind != "unsure" {
			out.Feared = append(out.Feared, fmt.Sprintf("%s at %s: %s", h.Kind, h.Place, h.Detail))
		}
	}
	return out, true, nil
}
