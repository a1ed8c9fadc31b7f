package amend

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"
)

// club has a module that is used twice, one used once under a prefix, and a file without a
// prefix.
var club = map[string]string{
	"d/root.yaml": `gapwise: 1
layout: Two of a kind
include:
  - {file: heath.yaml, as: east}
  - {file: heath.yaml, as: west}
  - {file: sub/bend.yaml, as: bend}
  - rest.yaml
supplies: {front: {volts: 18 V}}
boosters: {front: {volts: 15 V, supply: front}}
buses:
  ring: {from: booster front, wire: 12 AWG, length: 60 ft}
joins: [[east/in, west/out], [west/in, bend/out], [bend/in, east/out]]
feeders:
  east/H: {A: left, 1 ft: ring @ 2 ft}
`,
	"d/heath.yaml": `gapwise: 1
module: Heath
ends: {in: H start, out: H end}
defaults: {gap: {rails: both, kind: insulated}}
tracks:
  H: {from: in, to: out, length: 8 ft}
buses:
  under: {from: ring @ 4 ft, wire: 14 AWG, length: 8 ft}
feeders:
  H:
    A: left
    2 ft: under @ 2 ft
    3 .. 7 ft: {every: 1 ft, from: under @ 1 ft}
gaps:
  H:
  - 1 ft 8 in
  - {at: 3 ft 6 in .. 5 ft 6 in, every: 1 ft}
loads: {at: H @ 1 ft 4 in, draws: 1 A}
`,
	"d/sub/bend.yaml": `gapwise: 1
module: Bend
ends: {in: Bow start, out: Bow end}
tracks: {Bow: {from: in, to: out, length: 4 ft}}
buses: {under: {from: ring @ 5 ft, wire: 14 AWG, length: 4 ft}}
`,
	"d/rest.yaml": `gapwise: 1
layout: The rest
defaults: {gap: {rails: both, kind: insulated}}
tracks: {Lone: {from: end, to: end, length: 9 ft}}
gaps: {bend/Bow: {at: 2 ft, rails: left}}
`,
}

// clubLayout reads club; its text for the reader is as ends of modules are typed.
func clubLayout(t failer) *layout.Layout {
	t.Helper()
	return read(t, club, "d/root.yaml")
}

func feederOn(l *layout.Layout, place string) int32 {
	for i := range l.Feeders {
		if l.Feeders[i].Place.Text == place {
			return int32(i)
		}
	}
	return -1
}

func gapOn(l *layout.Layout, place string) int32 {
	return int32(slices.IndexFunc(l.Gaps, func(g layout.Gap) bool { return g.Place.Text == place }))
}

// TestModules changes entries by their names in the layout, in the files they stand in.
func TestModules(t *testing.T) {
	l := clubLayout(t)
	at := func(place string) int32 { return feederOn(l, place) }
	gap := func(place string) int32 { return gapOn(l, place) }
	for _, c := range []struct {
		name    string
		changes []change
		want    map[string]string // file: a line of it
		refused []string
	}{
		{
			"a module used once",
			[]change{set("buses", "bend/under", "wire", "12 AWG")},
			map[string]string{"d/sub/bend.yaml": "buses: {under: {from: ring @ 5 ft, wire: 12 AWG, length: 4 ft}}"},
			nil,
		},
		{
			"all uses alike",
			[]change{set("buses", "west/under", "wire", "12 AWG"), set("buses", "east/under", "wire", "12 AWG")},
			map[string]string{"d/heath.yaml": "  under: {from: ring @ 4 ft, wire: 12 AWG, length: 8 ft}"},
			nil,
		},
		{
			"one of two uses",
			[]change{set("buses", "west/under", "wire", "12 AWG")},
			nil,
			[]string{"buses west/under", "east/under and west/under stand once in d/heath.yaml"},
		},
		{
			"two uses in two ways",
			[]change{set("buses", "west/under", "wire", "12 AWG"), set("buses", "east/under", "wire", "10 AWG")},
			nil,
			[]string{"buses west/under", "buses east/under"},
		},
		{
			"the root's feeder on a module",
			[]change{setFeeder(at("east/H @ 1 ft"), "wire", "18 AWG")},
			map[string]string{"d/root.yaml": "  east/H: {A: left, 1 ft: {from: ring @ 2 ft, wire: 18 AWG}}"},
			nil,
		},
		{
			"feeders of all uses",
			[]change{setFeeder(at("west/H @ 2 ft"), "wire", "18 AWG"), setFeeder(at("east/H @ 2 ft"), "wire", "18 AWG")},
			map[string]string{"d/heath.yaml": "    2 ft: {from: under @ 2 ft, wire: 18 AWG}"},
			nil,
		},
		{
			"a feeder of one use",
			[]change{setFeeder(at("west/H @ 2 ft"), "wire", "18 AWG")},
			nil,
			[]string{"feeder west/H @ 2 ft", "east/H and west/H stand once in d/heath.yaml"},
		},
		{
			"a row of one use",
			[]change{setRow(at("west/H @ 4 ft"), "wire", "18 AWG")},
			nil,
			[]string{"feeder west/H @ 4 ft", "d/heath.yaml"},
		},
		{
			"rows of all uses",
			[]change{setRow(at("west/H @ 4 ft"), "wire", "18 AWG"), setRow(at("east/H @ 4 ft"), "wire", "18 AWG")},
			map[string]string{"d/heath.yaml": "    3 .. 7 ft: {every: 1 ft, from: under @ 1 ft, wire: 18 AWG}"},
			nil,
		},
		{
			"one of each row of all uses",
			[]change{setFeeder(at("west/H @ 4 ft"), "wire", "18 AWG"), setFeeder(at("east/H @ 4 ft"), "wire", "18 AWG")},
			map[string]string{"d/heath.yaml": "    4 ft: {from: under @ 2 ft, wire: 18 AWG}"},
			nil,
		},
		{
			"a gap on a module used twice goes to the root",
			[]change{addPlaced("gaps", "west/H", "6 in", "")},
			map[string]string{"d/root.yaml": "  west/H: [{at: 6 in, rails: both, kind: insulated}]"},
			nil,
		},
		{
			"a gap goes to the file that has some on the piece",
			[]change{addPlaced("gaps", "bend/Bow", "3 ft", "")},
			map[string]string{"d/rest.yaml": "gaps: {bend/Bow: [{at: 2 ft, rails: left}, 3 ft]}"},
			nil,
		},
		{
			"a gap goes to the file of the piece",
			[]change{addPlaced("gaps", "Lone", "3 ft", "")},
			map[string]string{"d/rest.yaml": "gaps: {bend/Bow: {at: 2 ft, rails: left}, Lone: [3 ft]}"},
			nil,
		},
		{
			"gaps of all uses",
			[]change{setGap(gap("west/H @ 1 ft 8 in"), "fill", "none"), closeGap(gap("west/H @ 4 ft 6 in")), setGap(gap("east/H @ 1 ft 8 in"), "fill", "none"), closeGap(gap("east/H @ 4 ft 6 in"))},
			map[string]string{"d/heath.yaml": "  - {at: 1 ft 8 in, fill: none}\n  - 3 ft 6 in\n  - 5 ft 6 in"},
			nil,
		},
		{
			"a gap of one use",
			[]change{moveGap(gap("west/H @ 1 ft 8 in"), "1 ft")},
			nil,
			[]string{"gap west/H @ 1 ft 8 in", "east/H and west/H stand once in d/heath.yaml"},
		},
		{
			"gaps of a row in two ways",
			[]change{closeGap(gap("west/H @ 4 ft 6 in")), closeGap(gap("east/H @ 5 ft 6 in"))},
			nil,
			[]string{"gap west/H @ 4 ft 6 in", "gap east/H @ 5 ft 6 in"},
		},
		{
			"feeders of all uses move",
			[]change{moveFeeder(at("west/H @ 2 ft"), "2 ft 3 in"), moveFeeder(at("east/H @ 2 ft"), "2 ft 3 in")},
			map[string]string{"d/heath.yaml": "    2 ft 3 in: under @ 2 ft"},
			nil,
		},
		{
			"a feeder of one use moves",
			[]change{moveFeeder(at("west/H @ 2 ft"), "2 ft 3 in")},
			nil,
			[]string{"feeder west/H @ 2 ft", "east/H and west/H stand once in d/heath.yaml"},
		},
		{
			"entries of a list of all uses",
			[]change{setItem("loads", 0, "draws", "2 A"), setItem("loads", 1, "draws", "2 A")},
			map[string]string{"d/heath.yaml": "loads: {at: H @ 1 ft 4 in, draws: 2 A}"},
			nil,
		},
		{
			"an entry of a list of one use",
			[]change{setItem("loads", 1, "draws", "2 A")},
			nil,
			[]string{"loads 1: east/loads 1 and west/loads 1 stand once in d/heath.yaml"},
		},
		{
			"a feeder goes to the module of its piece",
			[]change{addPlaced("feeders", "bend/Bow", "1 ft", "{A-from: bus bend/under @ 1 ft, B-from: ring @ 5 ft, A: left}"), addPlaced("feeders", "bend/Bow", "3 ft", "{from: 'bend/under @ 2 ft', A: left, label: 'a, b'}")},
			map[string]string{"d/sub/bend.yaml": "feeders:\n  Bow: {1 ft: {A-from: bus under @ 1 ft, B-from: ring @ 5 ft, A: left}, 3 ft: {from: under @ 2 ft, A: left, label: \"a, b\"}}"},
			nil,
		},
		{
			"a feeder with a name stays outside",
			[]change{addPlaced("feeders", "bend/Bow", "1 ft", "{from: bend/under @ 1 ft, A: left, name: mine}")},
			map[string]string{"d/root.yaml": "  bend/Bow: {1 ft: {from: bend/under @ 1 ft, A: left, name: mine}}"},
			nil,
		},
		{
			"a bus goes to the root",
			[]change{add("buses", "spur", "{from: booster front, wire: 14 AWG, length: 9 ft}")},
			map[string]string{"d/root.yaml": "  spur: {from: booster front, wire: 14 AWG, length: 9 ft}"},
			nil,
		},
		{
			"one of two uses cannot go",
			[]change{remove("buses", "west/under")},
			nil,
			[]string{"buses west/under", "d/heath.yaml"},
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := New(l, reader.Options{})
			for _, change := range c.changes {
				change(w)
			}
			texts, err := w.Texts()
			if len(c.refused) > 0 {
				var refused *RefusedError
				if !errors.As(err, &refused) {
					t.Fatalf("not refused: %v", err)
				}
				for _, want := range c.refused {
					if !strings.Contains(err.Error(), want) {
						t.Errorf("%q says nothing of %s", err, want)
					}
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			for i, f := range l.Files {
				line, changes := c.want[f.Name]
				switch {
				case changes && !strings.Contains("\n"+string(texts[i]), "\n"+line+"\n"):
					t.Errorf("no line %s in\n%s", line, texts[i])
				case !changes && string(texts[i]) != string(f.Text):
					t.Errorf("%s changed to\n%s", f.Name, texts[i])
				}
			}
			reread(t, w)
		})
	}
}

// TestModuleNames has a bus of one name inside a module and outside.
func TestModuleNames(t *testing.T) {
	files := map[string]string{
		"root.yaml": "include: {file: far.yaml, as: far}\n" + head + "buses: {ring: {from: booster front, length: 60 ft}}\n",
		"far.yaml":  "gapwise: 1\nmodule: Far\ntracks: {H: {from: end, to: end, length: 9 ft}}\nbuses: {ring: {from: booster front, wire: 14 AWG, length: 8 ft}}\n",
	}
	for _, c := range []struct{ tap, file, line string }{
		{"ring @ 1 ft", "root.yaml", "  far/H: {1 ft: {from: ring @ 1 ft, A: right}}"},
		{"far/ring @ 1 ft", "far.yaml", "  H: {1 ft: {from: ring @ 1 ft, A: right}}"},
	} {
		l := read(t, files, "root.yaml")
		w := New(l, reader.Options{})
		w.AddPlaced("feeders", "far/H", "1 ft", "{from: "+c.tap+", A: right}")
		texts, err := w.Texts()
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range l.Files {
			if has := strings.Contains(string(texts[i]), c.line+"\n"); has != (f.Name == c.file) {
				t.Errorf("%s: %s is\n%s", c.tap, f.Name, texts[i])
			}
		}
		is := reread(t, w)
		if got := is.Buses[is.Feeders[0].From[layout.A].Bus].Name + " @ 1 ft"; got != c.tap {
			t.Errorf("hangs from %s, not %s", got, c.tap)
		}
	}
}

// TestNested has a module in a module, and a file that stands both with a prefix and without.
func TestNested(t *testing.T) {
	const track = "ends: {in: H start, out: H end}\ntracks: {H: {from: in, to: out, length: 9 ft}}\n"
	files := map[string]string{
		"root.yaml":  "include: [{file: outer.yaml, as: far}, twice.yaml, {file: twice.yaml, as: again}]\njoins: [T/in, T/out]\n" + oneFile,
		"outer.yaml": "gapwise: 1\nmodule: Outer\ninclude: {file: inner.yaml, as: deep}\n",
		"inner.yaml": "gapwise: 1\nmodule: Inner\nbuses: {under: {from: ring @ 4 ft, wire: 14 AWG, length: 8 ft}}\n",
		"twice.yaml": "gapwise: 1\nmodule: Twice\n" + track,
	}
	l, _ := readAny(t, files, "root.yaml")
	w := New(l, reader.Options{})
	w.Set("buses", "far/deep/under", Key{"wire", "12 AWG"})
	w.AddPlaced("gaps", "H", "1 ft", "")
	w.AddList("joins", "[U/in, U/out]")
	texts, err := w.Texts()
	if err != nil {
		t.Fatal(err)
	}
	for i, f := range l.Files {
		want := map[string]string{
			"inner.yaml": "under: {from: ring @ 4 ft, wire: 12 AWG, length: 8 ft}", "twice.yaml": track,
			"root.yaml": "joins: [[T/in, T/out], [U/in, U/out]]\n", "outer.yaml": files["outer.yaml"],
		}[f.Name]
		if !strings.Contains(string(texts[i]), want) {
			t.Errorf("%s has no %s:\n%s", f.Name, want, texts[i])
		}
		if root := f.Name == "root.yaml"; strings.Contains(string(texts[i]), "H: [{at: 1 ft") != root {
			t.Errorf("the gap is in the wrong file:\n%s", texts[i])
		}
	}
}
