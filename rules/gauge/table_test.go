package gauge

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/conductor"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// asked is the run of the help text: 15 V, 5 A, 40 ft.
func asked() TableAsk {
	a := TableAsk{Margin: DefaultMargin}
	a.Volts.Value, a.Amps.Value, a.Length.Value = quantity.Exact(15), quantity.Exact(5), quantity.Exact(40*foot)
	return a
}

const foot = 0.3048

func tableOf(t *testing.T, a TableAsk) *Table {
	t.Helper()
	x, err := NewTable(context.Background(), a)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func twist(a *TableAsk) { a.Laid = layout.Laid{Kind: layout.LaidTwisted} }

// TestTableChoice: 12 AWG carries 5 A for 40 ft at a loss of 1 V, and 14 AWG does not: 80 ft of 2.5254 Ω a kft (facts.md section 3) are
// 1.01 V cold and solid already.
func TestTableChoice(t *testing.T) {
	x := tableOf(t, asked())
	if x.Choice < 0 || x.Other < 0 || x.Rows[x.Choice].Wire.Gauge != 12 || x.Rows[x.Other].Wire.String() != "4 mm²" {
		t.Fatalf("choice %d, other %d", x.Choice, x.Other)
	}
	thinner := x.Rows[x.Thinner(x.Choice)]
	if thinner.Wire.Gauge != 14 || len(thinner.Misses) != 1 || thinner.Misses[0].Limit != LimitWireDrop {
		t.Errorf("one size thinner: %+v", thinner.Misses)
	}
	if x.Thinner(0) >= 0 || x.Thinner(9) >= 0 {
		t.Error("the first of a system has something thinner")
	}
	a := asked()
	a.Metric = true
	if m := tableOf(t, a); m.Rows[m.Choice].Wire != x.Rows[x.Other].Wire || m.Rows[m.Other].Wire != x.Rows[x.Choice].Wire {
		t.Errorf("metric: %d and %d", m.Choice, m.Other)
	}
}

// TestTableTaken: what was not said is named, and what was said is not.
func TestTableTaken(t *testing.T) {
	names := func(x *Table) (out []string) {
		for _, k := range x.Taken {
			if k.Text == "" || k.Source == "" {
				t.Errorf("%+v", k)
			}
			out = append(out, k.Name)
		}
		return out
	}
	if got := strings.Join(names(tableOf(t, asked())), ", "); got != "trip, trip time, spacing, ambient, inside, short, strands" {
		t.Errorf("taken: %s", got)
	}
	a := asked()
	a.Trip.Value, a.TripTime.Value, a.Ambient.Value = quantity.Exact(5), quantity.Exact(0.04), quantity.Exact(25)
	a.Inside.Value, a.Short.Value, a.Strands = quantity.Exact(0.1), quantity.Exact(0.2), Stranded
	twist(&a)
	if got := names(tableOf(t, a)); len(got) > 0 {
		t.Errorf("taken: %v", got)
	}
	a.Inside = quantity.Resistance{Value: quantity.Value{State: quantity.Unknown}}
	if got := names(tableOf(t, a)); !slices.Equal(got, []string{"inside"}) {
		t.Errorf("unknown is no value: %v", got)
	}
}

// TestTableRefuses what makes no sense.
func TestTableRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(*TableAsk)
		want  error
	}{
		"no volts":        {func(a *TableAsk) { a.Volts = quantity.Voltage{} }, ErrIncomplete},
		"no amps":         {func(a *TableAsk) { a.Amps = quantity.Current{} }, ErrIncomplete},
		"no length":       {func(a *TableAsk) { a.Length = quantity.Length{} }, ErrIncomplete},
		"unknown length":  {func(a *TableAsk) { a.Length.State = quantity.Unknown }, ErrIncomplete},
		"mains":           {func(a *TableAsk) { a.Volts.Hi = 120 }, ErrMains},
		"margin below 0":  {func(a *TableAsk) { a.Margin = -0.1 }, ErrLimits},
		"no number":       {func(a *TableAsk) { a.WireDrop = math.NaN() }, ErrLimits},
		"trips in use":    {func(a *TableAsk) { a.Trip.Value = quantity.Exact(3) }, nil},
		"may trip in use": {func(a *TableAsk) { a.Amps.Hi, a.Trip.Value = 6, quantity.Exact(5) }, nil},
	} {
		a := asked()
		c.spoil(&a)
		if _, err := NewTable(context.Background(), a); err == nil || c.want != nil && !errors.Is(err, c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := NewTable(ctx, asked()); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

// TestTableLaws: in either system thicker wire loses less, gets less warm and makes a short stronger; a run as long as a size reaches
// passes with it and one a little longer does not, for the limit named.
func TestTableLaws(t *testing.T) {
	for _, a := range manyAsks() {
		x := tableOf(t, a)
		for i := range x.Rows {
			r := &x.Rows[i]
			if k := x.Thinner(i); k >= 0 {
				if o := &x.Rows[k]; !(r.Drop < o.Drop && r.Short > o.Short && r.Pulsed.MeanAbs > o.Pulsed.MeanAbs && r.Celsius <= o.Celsius && r.PerMetre > o.PerMetre) {
					t.Errorf("%s does not beat %s: %+v", r.Wire, o.Wire, a)
				}
			}
			if !(r.Pulsed.MeanAbs <= r.Pulsed.RMS && r.Pulsed.RMS <= r.Pulsed.Peak && r.Pulsed.Peak <= r.Short*(1+1e-9)) {
				t.Errorf("%s: %+v of %g A", r.Wire, r.Pulsed, r.Short)
			}
			if r.Passes() != (r.Reach >= a.Length.Hi) && !a.TripTime.Known() {
				t.Errorf("%s passes: %t, reaches %g m of %g", r.Wire, r.Passes(), r.Reach, a.Length.Hi)
			}
			if r.Reach == 0 {
				continue
			}
			at := a
			at.Length.Value = quantity.Exact(r.Reach * (1 - 1e-6))
			if y := rowOf(t, &at, r.Wire); !y.Passes() {
				t.Errorf("%s does not pass where it reaches: %+v", r.Wire, y.Misses)
			}
			at.Length.Value = quantity.Exact(r.Reach * (1 + 1e-6))
			if m := rowOf(t, &at, r.Wire).Misses; !slices.ContainsFunc(m, func(m Miss) bool { return m.Limit == r.ReachBy }) {
				t.Errorf("%s goes farther than %g m: %+v, ends by %s", r.Wire, r.Reach, m, r.ReachBy)
			}
		}
	}
}

func rowOf(t *testing.T, a *TableAsk, w quantity.Wire) Row {
	t.Helper()
	s, _, err := a.settle()
	if err != nil {
		t.Fatal(err)
	}
	return s.row(w)
}

// manyAsks are runs of many kinds.
func manyAsks() []TableAsk {
	var out []TableAsk
	for _, c := range []struct{ volts, amps, trip, feet, seconds, drop float64 }{
		{15, 5, 5, 40, 0, 0},
		{15, 5, 5, 100, 0.04, 0},
		{12, 3, 3, 20, 0, 0},
		{8.5, 1, 4, 60, 0, 0},
		{8, 4, 8, 30, 0, 0},
		{18, 8, 8, 6, 1, 0},
		{22, 10, 10, 200, 0, 2},
		{15, 0.5, 5, 300, 0, 1.5},
	} {
		a := TableAsk{Margin: DefaultMargin, WireDrop: c.drop}
		a.Volts.Value, a.Amps.Value, a.Trip.Value, a.Length.Value = quantity.Exact(c.volts), quantity.Exact(c.amps), quantity.Exact(c.trip), quantity.Exact(c.feet*foot)
		if c.seconds > 0 {
			a.TripTime.Value = quantity.Exact(c.seconds)
		}
		out = append(out, a)
		twist(&a)
		out = append(out, a)
	}
	return out
}

// TestTableRanges: a range never passes where one of its ends does not.
func TestTableRanges(t *testing.T) {
	wide := asked()
	wide.Volts.Value = quantity.Value{Lo: 12, Hi: 16, State: quantity.Known}
	wide.Length.Value = quantity.Value{Lo: 30 * foot, Hi: 45 * foot, State: quantity.Known}
	wide.TripTime.Value = quantity.Exact(0.5)
	x := tableOf(t, wide)
	for _, volts := range []float64{12, 16} {
		for _, feet := range []float64{30, 45} {
			a := wide
			a.Volts.Value, a.Length.Value = quantity.Exact(volts), quantity.Exact(feet*foot)
			for i, r := range tableOf(t, a).Rows {
				if x.Rows[i].Passes() && !r.Passes() {
					t.Errorf("%s: the range passes, %g V and %g ft do not: %+v", r.Wire, volts, feet, r.Misses)
				}
			}
		}
	}
}

// TestTableImpossible names the limits that no size meets, and each remedy that is said to help does when asked for.
func TestTableImpossible(t *testing.T) {
	a := asked()
	a.Volts.Value, a.Trip.Value, a.Amps.Value = quantity.Exact(8), quantity.Exact(8), quantity.Exact(4)
	x := tableOf(t, a)
	if x.Choice >= 0 || len(x.Impossible) != 1 || x.Impossible[0].Limit != LimitShort || !strings.Contains(x.Impossible[0].Text, "nor would wire of no resistance") {
		t.Errorf("choice %d, %+v", x.Choice, x.Impossible)
	}
	a = asked()
	a.Length.Value = quantity.Exact(100 * foot)
	x = tableOf(t, a)
	if x.Choice >= 0 || len(x.Impossible) != 1 || x.Impossible[0].Limit != LimitShortDCC {
		t.Errorf("choice %d, %+v", x.Choice, x.Impossible)
	}
	if x.Ringing == nil || x.Ringing.From >= 100*foot || !(x.Ringing.Ohms > 0) {
		t.Errorf("ringing: %+v", x.Ringing)
	}
	twisted, middle, shorter, less := a, a, a, a
	twist(&twisted)
	middle.Length.Value = quantity.Exact(50 * foot)
	for i := range x.Remedies {
		r := &x.Remedies[i]
		var y *Table
		switch {
		case strings.HasPrefix(r.Text, "twist"):
			y = tableOf(t, twisted)
		case strings.HasPrefix(r.Text, "put the booster"):
			y = tableOf(t, middle)
		case strings.HasPrefix(r.Text, "make the run shorter"):
			shorter.Length.Value = quantity.Exact(Inches(slices.MaxFunc(x.Rows[:9], func(p, q Row) int {
				return map[bool]int{true: 1, false: -1}[p.Reach > q.Reach]
			}).Reach))
			y = tableOf(t, shorter)
		default:
			continue
		}
		if !r.Met || y.Choice < 0 || y.Rows[y.Choice].Wire != r.Wire {
			t.Errorf("%s: %+v, and asked for: %d", r.Text, r, y.Choice)
		}
	}
	// a trip that no run of this length is sure of, and one that is
	less.Trip.Value, less.Amps.Value = quantity.Exact(9), quantity.Exact(2)
	x = tableOf(t, less)
	at := slices.IndexFunc(x.Remedies, func(r Remedy) bool { return strings.HasPrefix(r.Text, "put a breaker") })
	if at < 0 || !x.Remedies[at].Met {
		t.Fatalf("no lower trip: %+v", x.Remedies)
	}
	_, amps, _ := strings.Cut(x.Remedies[at].Text, "trips at ")
	amps, _, _ = strings.Cut(amps, " A")
	trip, bad := quantity.ParseCurrent(amps+" A", less.Trip.Pos)
	if bad != nil {
		t.Fatal(bad)
	}
	less.Trip = trip
	if y := tableOf(t, less); y.Choice < 0 {
		t.Errorf("trip of %s: no choice", trip)
	}
	less.Trip.Value = quantity.Exact(trip.Hi + 0.2)
	if y := tableOf(t, less); y.Choice >= 0 {
		t.Errorf("a higher trip than %s would do", trip)
	}
}

// TestTableThinnerBy: with a choice, only what lets it be thinner is told.
func TestTableThinnerBy(t *testing.T) {
	x := tableOf(t, asked())
	for _, r := range x.Remedies {
		if !r.Met || r.Wire.Lo >= x.Rows[x.Choice].Wire.Lo {
			t.Errorf("%+v beside %s", r, x.Rows[x.Choice].Wire)
		}
	}
	if len(x.Remedies) == 0 || len(x.Impossible) > 0 {
		t.Errorf("%d remedies, %v", len(x.Remedies), x.Impossible)
	}
}

// TestTableSolid: solid AWG wire has the copper of its size, and metric sizes stay as the standard allows.
func TestTableSolid(t *testing.T) {
	a := asked()
	x := tableOf(t, a)
	a.Strands = Solid
	y := tableOf(t, a)
	for i := range x.Rows {
		if solid, stranded := y.Rows[i].Loop.Hi, x.Rows[i].Loop.Hi; x.Rows[i].Wire.HasGauge && solid >= stranded || !x.Rows[i].Wire.HasGauge && solid != stranded {
			t.Errorf("%s: solid %g, stranded %g", x.Rows[i].Wire, solid, stranded)
		}
	}
	if got, want := y.Rows[5].Loop.Hi, 2*40*foot*conductor.CopperResistivity(35)/quantity.AWGArea(14); math.Abs(got/want-1) > 1e-12 {
		t.Errorf("14 AWG: %g, want %g", got, want)
	}
}

// TestTableFewerTrains: where loss alone stands against the thickest, the amperes that are said to do so do.
func TestTableFewerTrains(t *testing.T) {
	a := asked()
	a.Volts.Value, a.Trip.Value, a.Length.Value = quantity.Exact(22), quantity.Exact(5), quantity.Exact(160*foot)
	twist(&a)
	x := tableOf(t, a)
	at := slices.IndexFunc(x.Remedies, func(r Remedy) bool { return strings.HasPrefix(r.Text, "run fewer trains") })
	if x.Choice >= 0 || at < 0 || !strings.HasSuffix(x.Remedies[at].Text, "no more than 4.5 A") {
		t.Fatalf("choice %d, %+v", x.Choice, x.Remedies)
	}
	a.Amps.Value = quantity.Exact(4.5)
	if y := tableOf(t, a); y.Choice < 0 || y.Rows[y.Choice].Wire != x.Remedies[at].Wire {
		t.Errorf("4.5 A: choice %d", y.Choice)
	}
	a.Amps.Value = quantity.Exact(4.6)
	if y := tableOf(t, a); y.Choice >= 0 {
		t.Error("4.6 A would do too")
	}
}

// TestTableTwoRuns: two runs side by side lose half and weigh twice; each has to stand the whole by itself, should the other come off.
func TestTableTwoRuns(t *testing.T) {
	a := asked()
	s, _, err := a.settle()
	if err != nil {
		t.Fatal(err)
	}
	one := s.row(awg(14))
	s.beside = 2
	two := s.row(awg(14))
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"loss", two.Drop, one.Drop / 2},
		{"copper", two.Kilograms, 2 * one.Kilograms},
		{"inductance", two.Henries, one.Henries / 2},
		{"warmth", two.Celsius, one.Celsius},
		{"dead short", two.Sudden, one.Sudden},
	} {
		if math.Abs(c.got-c.want) > 1e-12*c.want {
			t.Errorf("%s: %g, want %g", c.what, c.got, c.want)
		}
	}
	if two.Passes() == one.Passes() || two.Reach <= one.Reach {
		t.Errorf("one passes: %t, to %g m; two: %t, to %g m", one.Passes(), one.Reach, two.Passes(), two.Reach)
	}
}
