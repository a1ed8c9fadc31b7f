package fixes

import (
	"context"
	"fmt"
	"strings"

	"gapwise/netlist/amend"
	"gapwise/netlist/layout"

	"gapwise/rules"
	"gapwise/rules/finding"
)

// play makes changes in the text of a layout; mark is the comment that changed lines get, "" for none.
func play(l *layout.Layout, changes []finding.Change, mark string) *amend.Writer {
	w := amend.New(l, rules.ReaderOptions())
	w.Mark = mark
	for i := range changes {
		c := &changes[i]
		keys := make([]amend.Key, len(c.Keys))
		for k, x := range c.Keys {
			keys[k] = amend.Key{Name: x.Name, Value: x.Value}
		}
		switch c.Op {
		case finding.OpSet:
			w.Set(c.Section, c.Name, keys...)
		case finding.OpSetFeeder:
			w.SetFeeder(c.Ref, keys...)
		case finding.OpMoveFeeder:
			w.MoveFeeder(c.Ref, c.Where)
		case finding.OpSetGap:
			w.SetGap(c.Ref, keys...)
		case finding.OpMoveGap:
			w.MoveGap(c.Ref, c.Where)
		case finding.OpCloseGap:
			w.CloseGap(c.Ref)
		case finding.OpSetItem:
			w.SetItem(c.Section, c.Ref, keys...)
		case finding.OpSetJoint:
			w.SetJoint(c.Ref, keys...)
		case finding.OpPlace:
			w.AddPlaced(c.Section, c.Piece, c.Where, c.Value)
		case finding.OpAdd:
			w.Add(c.Section, c.Name, c.Value)
		case finding.OpAddItem:
			w.AddList(c.Section, c.Value)
		case finding.OpUnset:
			names := make([]string, len(keys))
			for k := range keys {
				names[k] = keys[k].Name
			}
			w.Unset(c.Section, c.Name, names...)
		case finding.OpRemoveItem:
			w.RemoveItem(c.Section, c.Ref)
		}
	}
	return w
}

// tried is a layout with changes made and checked.
type tried struct {
	writer *amend.Writer
	layout *layout.Layout
	report *rules.Report
	why    string // why it could not be made or read, "" when it was
}

// try makes changes on a copy and checks it whole. The error is ctx's only.
func (b *budget) try(ctx context.Context, l *layout.Layout, m *finding.Mend, mark string) (tried, error) {
	t := tried{writer: play(l, m.Changes, mark)}
	again, problems, err := t.writer.Reread(ctx)
	switch {
	case ctx.Err() != nil:
		return t, ctx.Err()
	case err != nil:
		t.why = "it cannot be written into the file: " + err.Error()
		return t, nil
	case len(problems) > 0:
		t.why = "the file would not be understood: " + problems[0].Message
		return t, nil
	}
	if !keeps(l, again) {
		t.why = "it would take a piece, a feeder, a device or a train away, or accept more"
		return t, nil
	}
	t.layout = again
	if t.report, err = rules.Check(ctx, again, rules.Options{}); err != nil {
		return t, err
	}
	b.left -= len(t.report.Trace.C.Conductors)
	return t, nil
}

// withCopies is the text of a mend with what changes along: entries that the file says are like one that is changed.
func withCopies(l *layout.Layout, m *finding.Mend) string {
	text, w := m.Text, amend.New(l, rules.ReaderOptions())
	for i := range m.Changes {
		c := &m.Changes[i]
		if c.Op != finding.OpSet {
			continue
		}
		names := make([]string, len(c.Keys))
		for k := range c.Keys {
			names[k] = c.Keys[k].Name
		}
		if also := w.Copies(c.Section, c.Name, names...); len(also) > 0 {
			text += fmt.Sprintf("; the file says that %s is like %s, so do the same there", strings.Join(also, ", "), c.Name)
		}
	}
	return text
}

// budget bounds the work of trying: conductors of the circuits that may still be checked.
type budget struct{ left int }

// mostConductors is a budget: about three minutes on one core.
const mostConductors = 20_000_000

func newBudget() *budget { return &budget{left: mostConductors} }

func (b *budget) spent() bool { return b.left <= 0 }
