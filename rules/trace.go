package rules

import (
	"context"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/districts/power"
	"gapwise/rules/rule"
)

// Trace follows a layout's wiring, and computes it, without judging it; marks are places that will be asked
// about. The case gives the words for what it found. The error is ctx's only.
func Trace(ctx context.Context, l *layout.Layout, marks ...layout.Place) (*rule.Case, error) {
	o := circuit.OptionsFor(l)
	o.Marks = marks
	c, err := circuit.Build(ctx, l, o)
	if err != nil {
		return nil, err
	}
	t, err := districts.Run(ctx, c)
	if err != nil {
		return nil, err
	}
	s, err := power.Run(ctx, t)
	if err != nil {
		return nil, err
	}
	return &rule.Case{L: l, C: t.C, T: t, Power: s}, nil
}
