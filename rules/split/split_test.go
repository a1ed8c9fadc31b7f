package split

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gapwise/netlist/reader"

	"gapwise/districts/partition"
	"gapwise/rules"
)

// read checks a layout given as text.
func read(t *testing.T, text string) *rules.Report {
	t.Helper()
	return readWith(t, "t.yaml", func(string) ([]byte, error) { return []byte(text), nil })
}

// readFile checks a demo layout.
func readFile(t *testing.T, name string) *rules.Report {
	t.Helper()
	return readWith(t, filepath.Join("..", "..", "testdata", name), os.ReadFile)
}

func readWith(t *testing.T, name string, open func(string) ([]byte, error)) *rules.Report {
	t.Helper()
	l, problems, err := reader.Read(context.Background(), open, name, rules.ReaderOptions())
	if err != nil || len(problems) > 0 {
		t.Fatal(name, err, problems)
	}
	r, err := rules.Check(context.Background(), l, rules.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// divide divides it.
func divide(t *testing.T, r *rules.Report, ask Ask) *Answer {
	t.Helper()
	a, err := Split(context.Background(), r, ask)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// refusal is what is said where nothing can be divided.
func refusal(t *testing.T, r *rules.Report, ask Ask) string {
	t.Helper()
	_, err := Split(context.Background(), r, ask)
	var asked *AskError
	if !errors.As(err, &asked) {
		t.Fatalf("no refusal: %v", err)
	}
	return asked.Message
}

// usual is what the command asks by itself.
func usual() Ask { return Ask{Margin: DefaultMargin, Whole: DefaultWhole} }

// TestDividesADemo divides a demo that has one booster too few: two cuts where blocks are meant to end, a bus re-hung, a
// feeder moved, and nothing new for the check to find.
func TestDividesADemo(t *testing.T) {
	a := divide(t, readFile(t, "larch-fell/unsplit.yaml"), usual())
	if a.Feasible != partition.Found || !a.Fewest || len(a.Districts) != 2 || a.With != Boosters {
		t.Fatalf("%+v", a)
	}
	for _, term := range a.Terms {
		if !term.Proven {
			t.Errorf("%s is not proved", term.Term)
		}
	}
	var cuts, buses, moves []string
	for _, c := range a.Cuts {
		cuts = append(cuts, c.Text+", "+c.Why)
	}
	for _, b := range a.Buses {
		buses = append(buses, b.Name+" from "+b.From)
	}
	for _, m := range a.Moves {
		moves = append(moves, m.What+" to "+m.To)
	}
	same(t, "cuts", strings.Join(cuts, "; "), "M2 @ 3 in (76 mm), beside T1; M2 @ 23 ft 9 in (7.24 m), beside T2")
	same(t, "buses", strings.Join(buses, "; "), "back from booster d2; front-d2 from booster d2")
	same(t, "moves", strings.Join(moves, "; "), "feeder M2 @ 1 ft to front-d2 @ 1 ft")
	if len(a.Refused)+len(a.Brought) > 0 || a.After == nil {
		t.Errorf("refused %v, brought %v", a.Refused, a.Brought)
	}
	for _, d := range a.Districts {
		if d.Short.Text == "" || d.Drop.Text == "" || d.Load > d.May {
			t.Errorf("district %s: %+v", d.Name, d)
		}
	}
}

func same(t *testing.T, what, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("%s: %q, want %q", what, got, want)
	}
}

// small is a layout of two blocks with a gap and one without, on one booster.
const small = `gapwise: 1
layout: Small
defaults:
  track: {rail: code 83 nickel silver}
  gap: {rails: both, kind: insulated}
  feeder: {A: left, wire: 20 AWG, length: 8 in}
  joint: {kind: soldered}
trains: {goods: {length: 4 ft, current: 1.5 A, at-once: 3}}
operations: {at-once: 3, pickup: 2 in, wheels: metal}
tracks:
  P: {from: end, to: Q start, length: 10 ft}
  Q: {from: P end, to: end, length: 20 ft}
gaps: {P: [end]}
supplies: {wall: {volts: 18 V, rating: 4 A, listed: yes}}
boosters: {main: {supply: wall, volts: 15 V, rating: 3 A, trips-at: 3 A, trip-time: 30 ms, signal: c, signal-wired: straight}}
buses: {main: {from: booster main, wire: 14 AWG, length: 30 ft, laid: twisted}}
feeders: {P: {2 ft: main @ 2 ft, 8 ft: main @ 8 ft}, Q: {3 ft: main @ 13 ft, 9 ft 11 in: main @ 20 ft, 18 ft: main @ 28 ft}}
blocks: {west: {covers: P}, mid: {covers: Q @ 0 .. 10 ft}, east: {covers: Q @ 10 ft .. end}}
`

// TestInstanceByHand holds the pieces, berths, borders and distances of small layouts against what was worked out by hand.
func TestInstanceByHand(t *testing.T) {
	yard := strings.NewReplacer(
		"east: {covers: Q @ 10 ft .. end}", "east: {covers: Q @ 10 ft .. end, trains: shunter, use: yard}",
		"trains: {goods:", "loads: [{at: P @ 4 ft, draws: 250 mA}]\ntrains: {shunter: {length: 1 ft, current: 0.5 A}, goods:",
	).Replace(small)
	bare := small[:strings.Index(small, "blocks:")]
	for name, c := range map[string]struct {
		text  string
		nodes []partition.Node
		edges []partition.Edge
		cuts  []string
	}{
		"blocks": {
			small,
			[]partition.Node{{Berths: 1, Near: 0, Pin: -1}, {Berths: 1, Near: 2438, Pin: -1}, {Berths: 1, Near: 5537, Pin: -1}},
			[]partition.Edge{{A: 1, B: 2, Cuts: 1}, {A: 0, B: 1}},
			[]string{"10 ft 2 in"}, // the feeder at 9 ft 11 in keeps it off the bound
		},
		"a yard with a train of its own, and a load": {
			yard,
			[]partition.Node{{Berths: 1, Near: 0, Load: 250, Pin: -1}, {Berths: 1, Near: 2438, Pin: -1}, {Berths: 1, Near: 5537, Only: []int{0}, Pin: -1}},
			[]partition.Edge{{A: 1, B: 2, Cuts: 1}, {A: 0, B: 1}},
			[]string{"10 ft 2 in"},
		},
		"no blocks: by what fits, and in the middle of a long track": {
			bare,
			[]partition.Node{{Berths: 2, Near: 0, Pin: -1}, {Berths: 3, Near: 914, Pin: -1}, {Berths: 4, Near: 2438, Pin: -1}, {Berths: 3, Near: 5537, Pin: -1}},
			[]partition.Edge{{A: 0, B: 1, Cuts: 1}, {A: 2, B: 3, Cuts: 1}, {A: 1, B: 2}},
			[]string{"5 ft", "10 ft 2 in"},
		},
	} {
		r := read(t, c.text)
		g := newGround(r.Layout, r.Trace)
		ask := usual()
		w, err := newWholes(r.Layout, ask.Whole)
		if err != nil {
			t.Fatal(err)
		}
		x, err := newInstance(newAtoms(g, w), &ask)
		if err != nil {
			t.Fatal(name, err)
		}
		var cuts []string
		for _, p := range g.places {
			cuts = append(cuts, p.Where)
		}
		same(t, name+": places", strings.Join(cuts, ", "), strings.Join(c.cuts, ", "))
		if len(x.nodes) != len(c.nodes) {
			t.Errorf("%s: %+v", name, x.nodes)
			continue
		}
		for i, n := range x.nodes {
			m := c.nodes[i]
			if n.Berths != m.Berths || n.Load != m.Load || n.Pin != m.Pin || len(n.Only) != len(m.Only) || n.Near-m.Near > 60 || m.Near-n.Near > 60 {
				t.Errorf("%s: node %d is %+v, want %+v", name, i, n, m)
			}
		}
		if len(x.edges) != len(c.edges) {
			t.Errorf("%s: %+v", name, x.edges)
			continue
		}
		for i := range x.edges {
			if x.edges[i] != c.edges[i] {
				t.Errorf("%s: border %d is %+v, want %+v", name, i, x.edges[i], c.edges[i])
			}
		}
	}
}
