package split

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gapwise/netlist/layout"

	"gapwise/districts/partition"
)

// oneEach asks for breakers that carry one train of the small layout each.
func oneEach(t *testing.T) Ask {
	t.Helper()
	a := usual()
	a.Ratings, a.With, a.Margin = []float64{2}, Breakers, 0
	return a
}

// larger is a layout with its present booster large enough for breakers behind it.
func larger(text string) string {
	return strings.Replace(text, "rating: 3 A, trips-at: 3 A", "rating: 8 A, trips-at: 8 A", 1)
}

func TestRefusals(t *testing.T) {
	r := read(t, small)
	with := func(change func(*Ask)) Ask {
		a := usual()
		change(&a)
		return a
	}
	silent := read(t, strings.Replace(small, "rating: 3 A, trips-at: 3 A, ", "", 1))
	for want, got := range map[string]string{
		"lists no trains":                     refusal(t, read(t, strings.Replace(small, "trains: {goods: {length: 4 ft, current: 1.5 A, at-once: 3}}\n", "", 1)), usual()),
		"without the current of train goods;": refusal(t, read(t, strings.Replace(small, "current: 1.5 A, ", "", 1)), usual()),
		"nothing to keep whole is named wst":  refusal(t, r, with(func(a *Ask) { a.Whole = []string{"wst"} })),
		"nearest: west":                       refusal(t, r, with(func(a *Ask) { a.Whole = []string{"wst"} })),
		"what a booster is rated for":         refusal(t, silent, usual()),
		"at what current the new breakers":    refusal(t, r, with(func(a *Ask) { a.With = Breakers })),
		"--at: V @ 1 ft is not on track that": refusal(t, r, with(func(a *Ask) { a.At = place(t, r.Layout, "V @ 1 ft") })),
		"no track that hangs from a booster":  refusal(t, read(t, "gapwise: 1\nlayout: None\ntrains: {goods: {current: 1 A}}\n"), usual()),
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%q does not say %q", got, want)
		}
	}
}

// place is a place of a layout; of a track that it does not have, one beyond everything that is divided.
func place(t *testing.T, l *layout.Layout, text string) *layout.Place {
	t.Helper()
	p, err := l.FindPlace(text)
	if err != nil {
		p = layout.Place{Piece: 0, End: -1, Text: text}
		p.At.Lo, p.At.Hi = 1e6, 1e6
	}
	return &p
}

// TestLeftOut: tracks that are not to be cut are named with the reason, and so are places without room.
func TestLeftOut(t *testing.T) {
	text := strings.Replace(small, "gaps: {P: [end]}", `  L: {from: end, to: end, length: 5 ft, lift-out: yes}
  C: {from: end, to: end, length: 5 ft, cab: yes}
  G: {from: end, to: end, length: 5 ft, use: programming}
  R: {from: end, to: end, length: 5 ft}
  N: {from: end, to: end, length: 10 ft}
common-rail: [{rail: left, of: R}]
gaps: {P: [end]}`, 1)
	text = strings.Replace(text, "feeders: {", "feeders: {N: {4 ft 8 in: main @ 2 ft, 5 ft: main @ 2 ft, 5 ft 4 in: main @ 2 ft}, ", 1)
	text = strings.Replace(text, "blocks: {", "blocks: {n1: {covers: N @ 0 .. 5 ft}, n2: {covers: N @ 5 ft .. end}, ", 1)
	r := read(t, text)
	var got []string
	for _, l := range newGround(r.Layout, r.Trace).left {
		got = append(got, l.Where+": "+l.Why)
	}
	same(t, "left out", strings.Join(got, "\n"), strings.Join([]string{
		"track L: it is on a lift-out",
		"track C: a cab can be switched to it",
		"track G: it is for programming",
		"track R: a rail of it is declared common",
		"N near 5 ft (1.52 m): no place there is 3 in (76 mm) clear of feeders, gaps and track work",
	}, "\n"))
}

// TestOrphan: track that the cut leaves without a feeder gets one at its middle, from its own district's bus.
func TestOrphan(t *testing.T) {
	text := larger(strings.Replace(small, ", 18 ft: main @ 28 ft", "", 1))
	a := divide(t, read(t, text), oneEach(t))
	if len(a.Feeders) != 1 || len(a.Cuts) != 1 {
		t.Fatalf("%+v", a)
	}
	f := a.Feeders[0]
	same(t, "feeder", fmt.Sprint(f.Place, " ", f.From, " ", f.A, " ", f.Wire), "Q @ 15 ft 1 in (4.60 m) main-"+f.District+" @ 20 ft left 20 AWG (0.518 mm²)")
	if len(a.Brought) > 0 || len(a.Refused) > 0 {
		t.Errorf("%v %v", a.Brought, a.Refused)
	}
}

// TestReverserFollows: a reversing section stays in one piece, and its reverser hangs from its district's bus.
func TestReverserFollows(t *testing.T) {
	ask := usual()
	ask.Ratings = []float64{3.4}
	a := divide(t, readFile(t, "tin-harbour/sound.yaml"), ask)
	if a.After == nil || len(a.Brought) > 0 {
		t.Fatal(a.Refused, a.Brought)
	}
	home := ""
	for _, d := range a.Districts {
		for _, b := range d.Blocks {
			if b == "B9" {
				home = d.Device.Name
			}
		}
	}
	found := false
	for s := range a.After.Trace.C.Sources {
		src := &a.After.Trace.C.Sources[s]
		if src.Name == "reverser loop" {
			found = true
			same(t, "the reverser hangs from", a.After.Trace.C.Sources[src.Parent].Name, home)
		}
	}
	if !found {
		t.Error("the reverser is gone")
	}
	// The block behind the reverser keeps its district as meant.
	for _, d := range a.After.Layout.Districts {
		if d.Name == "loop" && len(d.Blocks) != 1 {
			t.Errorf("district loop has %d blocks", len(d.Blocks))
		}
	}
}

// TestSetAside: a breaker that heads no district makes way, so that no breaker stands behind another.
func TestSetAside(t *testing.T) {
	ask := usual()
	ask.With, ask.Ratings = Breakers, []float64{2}
	a := divide(t, readFile(t, "tarn-fold/sound.yaml"), ask)
	if len(a.Districts) != 1 || a.Districts[0].Device.New() || len(a.Brought) > 0 {
		t.Fatalf("%+v", a.Districts)
	}
	for _, b := range a.After.Layout.Breakers {
		if b.From.Kind == layout.FromBreaker {
			t.Errorf("breaker %s hangs from another", b.Name)
		}
	}
	if len(a.Notes) != 2 || !strings.HasPrefix(a.Notes[0], "breaker ") {
		t.Errorf("%q", a.Notes)
	}
}

// TestBridgeAndFrog: what else is fed from a bus hangs from its district's.
func TestBridgeAndFrog(t *testing.T) {
	text := larger(strings.NewReplacer(
		"to: end, length: 20 ft}", "to: T points, length: 20 ft}\n  S: {from: T straight, to: TT a, length: 4 ft}\n  U: {from: T curved, to: end, length: 4 ft}\n  V: {from: TT b, to: end, length: 2 ft}",
		"gaps:", "turnouts: {T: {hand: left, length: 10 in, wiring: {blades: stock, closures: blade, frog: metal, isolated: both, frog-from: contacts, jumpers: yes}, frog-length: 1 in, frog-from: main @ 29 ft, frog-gets: {straight: B, curved: A}}}\n"+
			"turntables: {TT: {bridge: 12 in, tracks: {a: 0 deg, b: 180 deg}, feed: plain, from: main @ 30 ft, A: left}}\ngaps:",
		"18 ft: main @ 28 ft}}", "18 ft: main @ 28 ft}, S: {2 ft: main @ 29 ft}, U: {2 ft: main @ 29 ft}, V: {1 ft: {from: main @ 30 ft, A: right}}}",
		"east: {covers: Q @ 10 ft .. end}", "east: {covers: [Q @ 10 ft .. end, T, S, U, V]}",
	).Replace(small))
	a := divide(t, read(t, text), oneEach(t))
	if len(a.Districts) != 3 || len(a.Refused) > 0 {
		t.Fatal(a.Why, a.Refused)
	}
	device := ""
	for _, d := range a.Districts {
		if strings.Join(d.Blocks, " ") == "east" {
			device = d.Device.Name
		}
	}
	l := a.After.Layout
	frog, bridge := l.Turnouts[0].FrogTap, l.Turntables[0].From.Tap
	same(t, "the frog's bus", "breaker "+l.Breakers[l.Buses[frog.Bus].From.Index].Name, device)
	same(t, "the bridge's bus", "breaker "+l.Breakers[l.Buses[bridge.Bus].From.Index].Name, device)
}

// TestHeld: what cannot be written is refused before anything is.
func TestHeld(t *testing.T) {
	text := larger(strings.NewReplacer(
		"buses: {main: {from: booster main, wire: 14 AWG, length: 30 ft, laid: twisted}}",
		"buses: {main: {from: booster main, wire: 14 AWG, length: 30 ft, laid: twisted}, far: {from: booster main, to: main @ 13 ft, wire: 14 AWG, length: 30 ft, laid: twisted}}",
		"18 ft: main @ 28 ft", "18 ft: far @ 28 ft",
	).Replace(small))
	a := divide(t, read(t, text), oneEach(t))
	if a.Feasible != partition.Found || len(a.Refused) != 1 || !strings.Contains(a.Refused[0], "bus far comes back to bus main") {
		t.Errorf("%d %q", a.Feasible, a.Refused)
	}
	if _, err := a.Save(t.TempDir()+"/x.yaml", false); err == nil || !strings.Contains(err.Error(), "comes back") {
		t.Errorf("written all the same: %v", err)
	}
	if _, err := (&Answer{}).Save("x", false); err == nil {
		t.Error("nothing was divided, and it was written")
	}
}

// TestBoundsMove: blocks end at the cuts that were made for them, and what is cut off goes to the neighbour.
func TestBoundsMove(t *testing.T) {
	a := divide(t, read(t, larger(small)), oneEach(t))
	if a.After == nil {
		t.Fatal(a.Refused)
	}
	for _, b := range a.After.Layout.Blocks {
		c := b.Covers[0]
		want := map[string][2]float64{"west": {0, 3.048}, "mid": {0, 3.0988}, "east": {3.0988, 6.096}}[b.Name]
		if c.Whole {
			continue
		}
		if d := c.From.Mid() - want[0]; d*d > 1e-6 {
			t.Errorf("%s begins at %.4f", b.Name, c.From.Mid())
		}
		if d := c.To.Mid() - want[1]; d*d > 1e-6 {
			t.Errorf("%s ends at %.4f", b.Name, c.To.Mid())
		}
	}
}

// TestExplains: what stands in the way is told for each kind of reason.
func TestExplains(t *testing.T) {
	r := read(t, small)
	tell := func(change func(*Ask), found *partition.Result) string {
		ask := usual()
		ask.Districts, ask.Ratings, ask.Work = 1, []float64{3}, partition.DefaultWork
		change(&ask)
		g := newGround(r.Layout, r.Trace)
		x, err := newInstance(newAtoms(g, wholes{make([]bool, 20), make([]bool, len(r.Layout.Blocks))}), &ask)
		if err != nil {
			t.Fatal(err)
		}
		s := &search{ctx: t.Context(), x: x, ask: &ask, ratings: ask.Ratings}
		out := &Answer{Ask: ask, Most: 1, Total: 4500}
		if found == nil {
			if found, err = s.with(1, 0, ask.Work); err != nil {
				t.Fatal(err)
			}
		}
		if err := s.explain(out, found); err != nil {
			t.Fatal(err)
		}
		return strings.Join(out.Why, "; ") + " | " + strings.Join(out.Give, "; ")
	}
	none := func(*Ask) {}
	same(t, "too few", tell(none, nil), "no division into 1 district keeps each in one piece and within what it may draw, 2.4 A (3 A less 20 %) at the most | 3 districts, each further one rated for 3 A; 1 district, each rated for 6 A")
	same(t, "too small", tell(func(a *Ask) { a.Ratings = []float64{1.6} }, nil), "block west cannot be divided, and may draw 1.5 A with 1 train at once; no district may draw more than 1.28 A (1.6 A less 20 %): 0.22 A too much | a district rated for 1.9 A; a margin of 6 %: --margin 6%")
	same(t, "given up", tell(none, &partition.Result{Feasible: partition.Unknown}), "no division into 1 district was found before the bound on work was reached | 3 districts, each further one rated for 3 A; 1 district, each rated for 6 A")
}

// TestNotes: what makes a division doubtful is said beside it.
func TestNotes(t *testing.T) {
	text := larger(strings.NewReplacer(
		"buses: {", "loads: [{at: lamps @ 3 ft, draws: 1 A}, {at: P @ 1 ft, kind: lamp, name: lit}]\nbuses: {lamps: {from: main @ 29 ft, use: lighting, wire: 18 AWG, length: 4 ft}, ",
		"9 ft 11 in: main @ 20 ft", "9 ft 11 in: {from: main @ 20 ft, A: right}",
	).Replace(small))
	ask := usual()
	ask.With, ask.Ratings = Breakers, []float64{4}
	a := divide(t, read(t, text), ask)
	want := []string{"not counted, for want of `draws`: lit", "a check finds 1 fault in the layout"}
	if len(a.Notes) != len(want) {
		t.Fatalf("%q", a.Notes)
	}
	for i := range want {
		if !strings.HasPrefix(a.Notes[i], want[i]) {
			t.Errorf("%q, want %q", a.Notes[i], want[i])
		}
	}
	if a.Total != 5500 { // three trains, and the lamps on the bus behind the bus
		t.Errorf("%d mA in all", a.Total)
	}
}

// TestSeveralBoosters: breakers behind several boosters are held against each booster.
func TestSeveralBoosters(t *testing.T) {
	r := readFile(t, "tin-harbour/sound.yaml")
	ask := usual()
	ask.Ratings, ask.With, ask.Margin = []float64{3}, Breakers, 0.1
	a := divide(t, r, ask)
	for _, n := range a.Notes {
		if strings.Contains(n, "may draw 3.9 A together") {
			t.Errorf("%q, though 4.5 A may be carried", n)
		}
	}
	ask.Ratings, ask.Margin = []float64{3.9}, 0.3
	a = divide(t, r, ask)
	found := false
	for _, n := range a.Notes {
		found = found || n == "the districts behind booster front may draw 3.9 A together, more than the 3.5 A that it may carry"
	}
	if !found {
		t.Errorf("%q %v", a.Notes, a.Why)
	}
}

// TestFolder: a layout of several files is written into a folder, and files that nothing changes stay byte for byte.
func TestFolder(t *testing.T) {
	a := divide(t, readFile(t, "quillow-meet/sound.yaml"), usual())
	dir := t.TempDir() + "/out"
	files, err := a.Save(dir, false)
	if err != nil || len(files) != 6 {
		t.Fatal(files, err)
	}
	for _, f := range files {
		was, err := os.ReadFile(filepath.Join("..", "..", "testdata", "quillow-meet", filepath.Base(f)))
		if err != nil {
			t.Fatal(err)
		}
		is, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if same := bytes.Equal(was, is); same == (filepath.Base(f) == "sound.yaml") {
			t.Errorf("%s: the same %t", f, same)
		}
	}
	if _, err := a.Save(dir, false); err == nil {
		t.Error("written over what is there")
	}
}
