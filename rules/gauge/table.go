package gauge

import (
	"cmp"
	"context"
	"slices"

	"gapwise/netlist/conductor"
	"gapwise/netlist/dcc"
	"gapwise/netlist/quantity"

	"gapwise/rules/rule"
)

// Table is what each size of wire does on one run, and which is the thinnest that meets every limit.
type Table struct {
	Ask    TableAsk
	Taken  []Taken // what was taken for what the ask does not say
	Limits []Limit
	Trip   float64 // amperes
	Need   float64 // amperes that a short has to draw
	Rows   []Row   // AWG and mm², those asked for first, each thin first
	Choice int     // the thinnest of the first system that passes, -1 for none
	Other  int     // the same of the second

	Impossible []Impossible // why there is no choice
	Remedies   []Remedy     // what would have to give; with a choice, what lets it be thinner
	Ringing    *Ringing     // when the run is long enough to ring, with the choice, or with the thickest
}

// Impossible is a limit that no size of the first system meets; with no Limit, that they meet none together.
type Impossible struct{ Limit, Text string }

// Ringing is what ends the echoes on a run that is longer than From, in metres.
type Ringing struct {
	From float64
	dcc.Terminator
}

// NewTable works out the sizes that shops keep for one run. The error is of an ask that makes no sense, or the context's.
func NewTable(ctx context.Context, a TableAsk) (*Table, error) {
	s, taken, err := a.settle()
	if err != nil {
		return nil, err
	}
	t := &Table{Ask: a, Taken: taken, Limits: s.limits(&a), Trip: s.trip, Need: s.need()}
	t.Ask.Laid = s.laid
	first, second := rule.ShopSizes(a.Metric), rule.ShopSizes(!a.Metric)
	if len(a.Sizes) > 0 {
		first, second = slices.Clone(a.Sizes), nil
		slices.SortStableFunc(first, func(x, y quantity.Wire) int {
			return -cmp.Compare(conductor.WireOhms(x, s.celsius).Hi, conductor.WireOhms(y, s.celsius).Hi)
		})
	}
	for _, w := range slices.Concat(first, second) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		t.Rows = append(t.Rows, s.row(w))
	}
	t.Choice = thinnest(t.Rows[:len(first)])
	if t.Other = thinnest(t.Rows[len(first):]); t.Other >= 0 {
		t.Other += len(first)
	}
	at := t.Choice
	if at < 0 {
		at = len(first) - 1
		t.Impossible = s.impossible(t.Rows[:len(first)])
	}
	t.Ringing = s.ringing(t.Rows[at].Wire)
	t.Remedies = s.remedies(t.Rows[:len(first)], t.Choice)
	return t, nil
}

// Thinner is the row of the next thinner size of the same system, -1 when there is none.
func (t *Table) Thinner(i int) int {
	if i <= 0 || len(t.Ask.Sizes) == 0 && t.Rows[i-1].Wire.HasGauge != t.Rows[i].Wire.HasGauge {
		return -1
	}
	return i - 1
}

// First are the rows of the system asked for, or of the sizes that were.
func (t *Table) First() []Row {
	n := slices.IndexFunc(t.Rows, func(r Row) bool { return r.Wire.HasGauge != t.Rows[0].Wire.HasGauge })
	if n < 0 || len(t.Ask.Sizes) > 0 {
		n = len(t.Rows)
	}
	return t.Rows[:n]
}

// thinnest is the first row that passes, -1 when none does.
func thinnest(rows []Row) int {
	return slices.IndexFunc(rows, func(r Row) bool { return r.Passes() })
}

// ringing is what a run of a wire needs at its far end, nil when it is too short to ring.
func (s *single) ringing(w quantity.Wire) *Ringing {
	l, f := conductor.LaidInductance(w, s.laid), conductor.LaidCapacitance(w, s.laid)
	pair := dcc.Pair{Henries: l.Mid(), Farads: f.Mid()}
	from := pair.RingsFrom(dcc.FastEdge)
	if s.length.Hi <= from {
		return nil
	}
	return &Ringing{from, dcc.Terminate(pair.SurgeOhms(), s.volts.Hi)}
}
