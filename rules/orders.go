package rules

import (
	"context"
	"fmt"
	"slices"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/rules/finding"
)

// maxOrders is up to how many uncertain orders every combination is tried; beyond, each
// is tried by itself and the check says that it is incomplete.
const maxOrders = 4

// otherOrders are copies of a layout in which measures that leave open which of two
// things comes first are read the other way round, each with the words for what it assumes.
// all is false when not every combination is among them.
func otherOrders(l *layout.Layout) (variants []variant, all bool) {
	var pairs []layout.UncertainOrder
	for _, u := range l.UncertainOrders {
		if u.First.Kind != layout.OrderBody && u.Second.Kind != layout.OrderBody {
			pairs = append(pairs, u)
		}
	}
	all = len(pairs) <= maxOrders
	if all {
		for set := 1; set < 1<<len(pairs); set++ {
			var chosen []layout.UncertainOrder
			for i := range pairs {
				if set&(1<<i) != 0 {
					chosen = append(chosen, pairs[i])
				}
			}
			variants = append(variants, newVariant(l, chosen))
		}
		return variants, true
	}
	for i := range pairs {
		variants = append(variants, newVariant(l, pairs[i:i+1]))
	}
	return variants, false
}

// variant is a layout read in one order of its uncertain measures.
type variant struct {
	layout  *layout.Layout
	assumed string
}

func newVariant(l *layout.Layout, swapped []layout.UncertainOrder) variant {
	c := *l
	c.Gaps, c.Feeders, c.Joints = slices.Clone(l.Gaps), slices.Clone(l.Feeders), slices.Clone(l.Joints)
	v := variant{layout: &c}
	for _, u := range swapped {
		first, second := orderPlace(&c, u.First), orderPlace(&c, u.Second)
		lo, hi := max(first.At.Lo, second.At.Lo), min(first.At.Hi, second.At.Hi)
		// both lie in what their measures share, the second before the first; Text and Pos stay
		first.At.Value, second.At.Value = exactly(first.At.Value, lo+(hi-lo)*2/3), exactly(second.At.Value, lo+(hi-lo)/3)
		if v.assumed != "" {
			v.assumed += "; "
		}
		v.assumed += fmt.Sprintf("%s comes before %s", orderName(&c, u.Second), orderName(&c, u.First))
	}
	return v
}

func exactly(v quantity.Value, si float64) quantity.Value {
	v.Lo, v.Hi = si, si
	return v
}

func orderPlace(l *layout.Layout, o layout.OrderItem) *layout.Place {
	switch o.Kind {
	case layout.OrderGap:
		return &l.Gaps[o.Index].Place
	case layout.OrderJoint:
		return &l.Joints[o.Index].Place
	default:
		return &l.Feeders[o.Index].Place
	}
}

func orderName(l *layout.Layout, o layout.OrderItem) string {
	word := map[layout.OrderKind]string{layout.OrderGap: "the gap", layout.OrderJoint: "the joint", layout.OrderFeeder: "the feeder"}[o.Kind]
	return word + " at " + orderPlace(l, o).Text
}

// tryOrders checks every other reading of uncertain measures and adds what only they find.
func (r *Report) tryOrders(ctx context.Context, l *layout.Layout, o Options) error {
	variants, all := otherOrders(l)
	for _, v := range variants {
		other, err := check(ctx, v.layout, o)
		if err != nil {
			return err
		}
		for _, f := range other.Findings {
			if !slices.ContainsFunc(r.Findings, func(x finding.Finding) bool { return x.Rule == f.Rule && x.Pos == f.Pos }) {
				f.Assumed = v.assumed
				r.Findings = append(r.Findings, f)
			}
		}
	}
	if !all {
		r.NotChecked = append(r.NotChecked, finding.NotChecked{
			What:       fmt.Sprintf("every combination of %d pairs of measures that leave their order open", len(variants)),
			Why:        "each pair was turned round by itself only; measure some of them closer",
			Incomplete: true,
		})
	}
	return nil
}
