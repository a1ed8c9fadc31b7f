package audit

import (
	"context"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/rules/catalogue"
	"gapwise/rules/finding"
)

const harbour = "../../testdata/tin-harbour/"

func demo(t *testing.T, name string) *layout.Layout {
	t.Helper()
	l, ok := readFile(t, harbour+name+".yaml")
	if !ok {
		t.Fatal(name)
	}
	return l
}

// TestUpperDeck: the upper deck as found brings one fault, in order before what is less grave; put right it brings none.
func TestUpperDeck(t *testing.T) {
	a := run(t, demo(t, "sound"), demo(t, "upper"))
	if a.Count(finding.Fault) != 1 || a.Findings[0].After.Rule != "reverser-missing" || a.Findings[0].Outcome != New {
		t.Errorf("%s", moved(a))
	}
	var stages []Stage
	for _, s := range a.Steps {
		stages = append(stages, s.Stage)
	}
	if !slices.IsSorted(stages) || stages[0] != Polarity || stages[len(stages)-1] != PowerUp {
		t.Errorf("steps in order %v", stages)
	}
	changed := map[string]bool{}
	for i := range a.Districts {
		changed[a.Districts[i].Name] = a.Districts[i].Changed()
	}
	for name, want := range map[string]bool{"breaker deck": true, "booster front": true, "reverser loop": true, "breaker yard": false, "booster back": false} {
		if got, found := changed[name]; !found || got != want {
			t.Errorf("%s changed: %t, %t", name, got, found)
		}
	}
	order := 0
	for _, want := range []string{"booster front: ", "booster upper by itself", "breaker up: ", "breaker deck: "} {
		i := slices.IndexFunc(a.Steps[order:], func(s Step) bool { return strings.HasPrefix(s.Text, want) })
		if i < 0 {
			t.Fatalf("no step %q in its order", want)
		}
		order += i
	}
	if a := run(t, demo(t, "sound"), demo(t, "upper-sound")); a.Count(finding.Fault) > 0 || a.Count(finding.Caution) > 0 {
		t.Errorf("put right:\n%s", moved(a))
	}
}

// TestStanding: a fault that stood before does not count as new, and is told before power goes on.
func TestStanding(t *testing.T) {
	l := demo(t, "as-found")
	l.Trains = slices.Clone(l.Trains)
	l.Trains[0].Current = quantity.Current{Value: quantity.Exact(1.1)}
	a := run(t, demo(t, "as-found"), l)
	if a.Count(finding.Fault) > 0 || len(a.Steps) == 0 || !strings.Contains(a.Steps[0].Text, "still do: ") {
		t.Errorf("%s%v", moved(a), a.Steps)
	}
}

// TestWeigh: severity first, then the first number with a limit, then as it was.
func TestWeigh(t *testing.T) {
	number := func(si float64, limit string) []finding.Number {
		return []finding.Number{{Name: "place", SI: 7}, {Name: "x", SI: si, Unit: "A", Limit: limit}}
	}
	for _, c := range []struct {
		name     string
		old, now finding.Finding
		want     Outcome
	}{
		{"graver", finding.Finding{Severity: finding.Note}, finding.Finding{Severity: finding.Caution}, Worse},
		{"less grave", finding.Finding{Severity: finding.Fault}, finding.Finding{Severity: finding.Caution}, Better},
		{"accepted now", finding.Finding{Severity: finding.Caution}, finding.Finding{Severity: finding.Caution, Accepted: true}, Better},
		{"no more accepted", finding.Finding{Severity: finding.Caution, Accepted: true}, finding.Finding{Severity: finding.Caution}, Worse},
		{"below its least", finding.Finding{Numbers: number(4, "at least 5 A")}, finding.Finding{Numbers: number(3, "at least 5 A")}, Worse},
		{"nearer its least", finding.Finding{Numbers: number(3, "at least 5 A")}, finding.Finding{Numbers: number(4, "at least 5 A")}, Better},
		{"above its most", finding.Finding{Numbers: number(4, "at most 3 A")}, finding.Finding{Numbers: number(5, "at most 3 A")}, Worse},
		{"above a plain limit", finding.Finding{Numbers: number(4, "below 3 A")}, finding.Finding{Numbers: number(5, "below 3 A")}, Worse},
		{"by less than joints make", finding.Finding{Numbers: number(4, "at most 3 A")}, finding.Finding{Numbers: number(4.03, "at most 3 A")}, Same},
		{"a limit on both sides", finding.Finding{Numbers: number(4, "8.5 to 22 V")}, finding.Finding{Numbers: number(5, "8.5 to 22 V")}, Same},
		{"no limit", finding.Finding{Numbers: number(4, "")}, finding.Finding{Numbers: number(5, "")}, Same},
	} {
		if got := weigh(&c.old, &c.now); got.Outcome != c.want {
			t.Errorf("%s: %s", c.name, got.Outcome)
		}
	}
}

// TestStages: every rule of the table is one of the catalogue, and all that can be faults come before mere running.
func TestStages(t *testing.T) {
	for id := range stages {
		if catalogue.ByID(id) == nil {
			t.Errorf("no rule %s", id)
		}
	}
	for _, r := range catalogue.All() {
		if r.Severity == finding.Fault && stageOf(r.ID) == Running {
			t.Errorf("%s can be a fault and has no stage", r.ID)
		}
	}
}

// TestMeasure: of what is unknown the value that settles most is named, with where to put the meter.
func TestMeasure(t *testing.T) {
	for _, c := range []struct {
		name   string
		forget func(*layout.Layout)
		what   string
		how    []string
	}{
		{"the wire of a bus", func(l *layout.Layout) {
			edit(&l.Buses, 5).Wire = quantity.Wire{Value: quantity.Value{State: quantity.Unknown}}
		}, "the wire of bus mine", []string{"pull the supplies' plugs", "Join its two legs at the far end", "122 ft (37.19 m)", "0.302 Ω .. 0.322 Ω is 14 AWG"}},
		{"what a feeder hangs from", func(l *layout.Layout) {
			for leg := range l.Feeders[5].From {
				edit(&l.Feeders, 5).From[leg] = layout.Tap{Bus: -1, Unknown: true}
			}
		}, "where the feeder at S2 @ 3 ft hangs", []string{"pull the supplies' plugs", "off the rails", "near 0 is the one it hangs from"}},
		{"the currents of trains", func(l *layout.Layout) {
			edit(&l.Trains, 0).Current = quantity.Current{Value: quantity.Value{State: quantity.Unknown}}
		}, "the current of train ore", []string{"do not break into a wire with the power on"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := demo(t, "sound")
			for p := range l.Pieces { // they settle a line too, and come first where several settle as many
				if k := l.Pieces[p].Kind; k >= layout.TurnoutPiece && k <= layout.CrossingPiece {
					setFrog(l, layout.PieceID(p), exact(0.02))
				}
			}
			c.forget(l)
			m := run(t, demo(t, "sound"), l).Measure
			if m == nil || m.What != c.what || m.Decides < 1 || m.Tried < 1 {
				t.Fatalf("%+v", m)
			}
			for _, want := range c.how {
				if !strings.Contains(strings.Join(m.How, " "), want) {
					t.Errorf("does not say %q: %q", want, m.How)
				}
			}
		})
	}
	if a := run(t, demo(t, "sound"), demo(t, "sound")); a.Measure != nil && a.Measure.Decides == 0 {
		t.Errorf("%+v settles nothing", a.Measure)
	}
}

// TestUnknowns: with everything unknown that may be, nothing is made up and nothing fails.
func TestUnknowns(t *testing.T) {
	l := demo(t, "upper")
	nothing := quantity.Value{State: quantity.Unknown}
	for i := range l.Buses {
		l.Buses[i].Wire, l.Buses[i].Length = quantity.Wire{Value: nothing}, quantity.Length{Value: nothing}
	}
	for i := range l.Feeders {
		l.Feeders[i].Wire, l.Feeders[i].Length = quantity.Wire{Value: nothing}, quantity.Length{Value: nothing}
		l.Feeders[i].From = [2]layout.Tap{{Bus: -1, Unknown: true}, {Bus: -1, Unknown: true}}
	}
	for i := range l.Boosters {
		l.Boosters[i].Volts, l.Boosters[i].TripsAt = quantity.Voltage{Value: nothing}, quantity.Current{Value: nothing}
	}
	for i := range l.Trains {
		l.Trains[i].Current, l.Trains[i].Length = quantity.Current{Value: nothing}, quantity.Length{Value: nothing}
	}
	for i := range l.Tracks {
		l.Tracks[i].Rail = layout.RailStock{}
	}
	for _, pair := range [][2]*layout.Layout{{demo(t, "upper"), l}, {l, demo(t, "upper")}, {l, l}} {
		a := run(t, pair[0], pair[1])
		for i := range a.Districts {
			if d := a.Districts[i].After; d != nil && pair[1] == l && d.Computed {
				t.Errorf("%s is computed", a.Districts[i].Name)
			}
		}
		if pair[0] != l && len(a.NotChecked) == 0 {
			t.Error("nothing is told to be open")
		}
	}
}

// TestBound: a bound on the work is told.
func TestBound(t *testing.T) {
	l := demo(t, "upper")
	for i := range l.Buses {
		l.Buses[i].Wire = quantity.Wire{Value: quantity.Value{State: quantity.Unknown}}
	}
	a := run(t, demo(t, "upper"), l)
	if a.Measure == nil || a.Measure.Tried+a.Measure.Left < len(l.Buses) {
		t.Errorf("%+v", a.Measure)
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Run(ctx, l, l); err == nil {
		t.Error("goes on when stopped")
	}
}
