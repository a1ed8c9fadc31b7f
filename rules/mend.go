package rules

import (
	"context"
	"slices"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/rules/finding"
)

// mostTries bounds how many changes are tried for one finding.
const mostTries = 8

// PlanFixes tries, for every finding that comes with changes, the smallest first on a copy of the layout in memory, and checks the
// copy whole. The first that takes the finding away, and brings nothing above a note that was not there, becomes its fix, marked as
// checked. The error is ctx's only.
func PlanFixes(ctx context.Context, l *layout.Layout, r *Report) error {
	for i := range r.Findings {
		f := &r.Findings[i]
		if len(f.Mends) == 0 || f.Accepted {
			continue
		}
		tries := f.Mends[:min(len(f.Mends), mostTries)]
		checked := false
		for k := range tries {
			again, err := Check(ctx, mended(l, &tries[k]), Options{})
			if err != nil {
				return err
			}
			if checked = mends(r, again, f); checked {
				f.Fix, f.FixChecked = tries[k].Text, true
				break
			}
		}
		if !checked {
			f.Fix += "; no single change that was tried is enough by itself"
		}
	}
	return nil
}

// mended is a copy of a layout with one change; what the change does not touch is shared.
func mended(l *layout.Layout, m *finding.Mend) *layout.Layout {
	out := *l
	wire := quantity.Wire{Value: quantity.Exact(m.SquareM), Gauge: m.Gauge, HasGauge: m.HasGauge}
	switch m.Kind {
	case finding.MendBusWire:
		out.Buses = slices.Clone(l.Buses)
		out.Buses[m.Ref].Wire = wire
	case finding.MendFeederWire:
		out.Feeders = slices.Clone(l.Feeders)
		out.Feeders[m.Ref].Wire = wire
	case finding.MendBondWire:
		out.Bonds = slices.Clone(l.Bonds)
		out.Bonds[m.Ref].Wire = wire
	case finding.MendTwist:
		out.Buses = slices.Clone(l.Buses)
		out.Buses[m.Ref].Laid = layout.Laid{Kind: layout.LaidTwisted}
	case finding.MendFeeder:
		out.Feeders = append(slices.Clip(l.Feeders), FeederLike(l, m.Ref, m.AtM))
	}
	return &out
}

// FeederLike is a feeder like another one, at metres elsewhere on its track, from the bus as much farther along as the bus goes.
func FeederLike(l *layout.Layout, feeder int32, at float64) layout.Feeder {
	f := l.Feeders[feeder]
	f.Entry.Name, f.Row = "", layout.Row{}
	along := at - f.Place.At.Mid()
	f.Place.At = quantity.Length{Value: quantity.Exact(at)}
	f.Place.End, f.Place.FromEnd = -1, false
	for leg := range f.From {
		tap := &f.From[leg]
		if tap.Bus < 0 || !l.Buses[tap.Bus].Length.Known() {
			continue
		}
		tap.At = quantity.Length{Value: quantity.Exact(min(l.Buses[tap.Bus].Length.Mid(), max(0, tap.At.Mid()+along)))}
	}
	return f
}

// mends reports whether a change took a finding away without bringing another above a note.
func mends(before, after *Report, f *finding.Finding) bool {
	same := func(x, y *finding.Finding) bool {
		return x.Rule == y.Rule && x.Pos == y.Pos && x.Place.Piece == y.Place.Piece
	}
	for i := range after.Findings {
		g := &after.Findings[i]
		if same(g, f) {
			return false
		}
		if g.Severity == finding.Note || g.Accepted {
			continue
		}
		if !slices.ContainsFunc(before.Findings, func(x finding.Finding) bool { return same(&x, g) && x.Severity >= g.Severity }) {
			return false
		}
	}
	return true
}
