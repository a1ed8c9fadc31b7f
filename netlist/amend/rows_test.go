package amend

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gapwise/netlist/quantity"
	"gapwise/netlist/reader"
	"gapwise/netlist/source"

	"pgregory.net/rapid"
)

// rowLayout has a row of feeders on an open track or a ring, in one of many spellings, and a
// second row that copies what stands before it.
func rowLayout(t *rapid.T) string {
	pick := func(from ...string) string { return rapid.SampledFrom(from).Draw(t, "part") }
	every := pick("8 ft", "7 ft 3 1/2 in", "2.1 m", "70 in", "33 cm", "6 1/3 ft")
	track := pick("Open", "Ring")
	stretch := pick("2 .. 34 ft", "start .. end", "2 .. 13 ft from end", "1.5 .. 9.2 m", "3 in .. 1 ft from end", "13 ft from end .. end", "7' 6½\" .. 30 ft", "100 .. 900 cm")
	if track == "Ring" {
		stretch = pick("2 .. 34 ft", "30 .. 9 ft", "1.5 .. 9.2 m", "3 in .. 1 ft from end")
	}
	tap := func() string {
		return pick("ring @ 3 ft", "bus ring @ 0.25 m", "ring @ start", "ring @ 2 .. 95 ft", "ring @ 30 .. 0.5 m", "ring @ 99 ft from end", "unknown", "ring @ 40 in")
	}
	keys := []string{"every: " + every, "from: " + tap()}
	if track == "Open" && rapid.Bool().Draw(t, "legs") {
		keys = append(keys, pick("A-from: ", "B-from: ")+tap())
	}
	for _, k := range []string{"name: r", "wire: 18 AWG", "length: 6 .. 9 in", "label: 'bay, left'", "broken: unknown", "A: right"} {
		if rapid.Bool().Draw(t, "key") {
			keys = append(keys, k)
		}
	}
	beside := pick("A: left", "A: left, wire: 20 AWG", "A: right, length: unknown, label: by the wall")
	row := "{" + strings.Join(rapid.Permutation(keys).Draw(t, "order"), ", ") + "}"
	if rapid.Bool().Draw(t, "copy") {
		row = "{like: first, from: " + tap() + pick("", ", every: "+every, ", wire: 14 AWG", ", name: again") + "}"
	}
	return "gapwise: 1\nlayout: Rows\n" +
		"tracks: {Open: {from: end, to: end, length: 40 ft}, Ring: {closed: yes, length: 38 ft}, First: {from: end, to: end, length: 40 ft}}\n" +
		"supplies: {front: {volts: 18 V}}\nboosters: {front: {volts: 15 V, supply: front}}\n" +
		"buses: {ring: {from: booster front, wire: 12 AWG, length: 100 ft}}\n" +
		"defaults: {feeder: {" + pick("length: 5 in", "wire: 22 AWG", "every: 9 ft") + "}}\n" +
		"feeders:\n" +
		"  First: {A: right, wire: 16 AWG, 1 .. 39 ft: {every: " + every + ", from: ring @ 1 ft, rails: left, name: first, broken: yes}}\n" +
		"  " + track + ": {" + beside + ", " + stretch + ": " + row + "}\n"
}

// TestRowsWrittenOut changes one feeder of a row: all others stay what they were, to two
// hundred-thousandths of a millimetre, and so does it but for what was asked.
func TestRowsWrittenOut(t *testing.T) {
	apart := 0
	rapid.Check(t, func(t *rapid.T) {
		typed := rowLayout(t)
		was, problems := readAny(t, map[string]string{"a.yaml": typed}, "a.yaml")
		last := len(was.Feeders) - 1
		if len(problems) > 0 || was.Feeders[last].Row.Count < 2 {
			return // no row of two or more
		}
		if rapid.Bool().Draw(t, "restyle") {
			was = readText(t, restyled(t, []byte(typed)))
		}
		member := int32(last - rapid.IntRange(0, was.Feeders[last].Row.Count-1).Draw(t, "member"))
		w := New(was, reader.Options{})
		w.SetFeeder(member, Key{"length", "33 in"}, Key{"from", "ring @ 77 ft"})
		is := reread(t, w)
		row := func(field string) string { return `Feeders\[\d+\]\.` + field }
		found := without(differences(was, is),
			row(`Row\..*`), row(`Place\.Text`), row(`Place\.At\.Text`), row(`Place\.FromEnd`), row(`From\[.\]\.Text`), row(`From\[.\]\.At\.Text`),
			fmt.Sprintf(`Feeders\[%d\]\.(Length|From).*`, member))
		if len(found) > 0 {
			t.Fatalf("also different: %s\n%s", strings.Join(found, "\n"), text(t, w))
		}
		f := &is.Feeders[member]
		if f.Length.Text != "33 in" || f.Row.Count != 0 {
			t.Fatalf("not changed: %+v", f)
		}
		apart++
	})
	if apart < 10 {
		t.Errorf("only %d rows tried", apart)
	}
}

// TestSpelled reads back what was written for a length.
func TestSpelled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		metres := rapid.Float64Range(0.02, 300).Draw(t, "metres")
		switch rapid.IntRange(0, 3).Draw(t, "round") {
		case 0:
			metres = float64(int(metres*1000)) / 1000
		case 1:
			metres = float64(int(metres/inch*64)) / 64 * inch
		case 2:
			metres = float64(int(metres/inch)) * inch
		}
		for _, like := range []string{"3 ft", "3 m", "4 in from end", "40 mm from end"} {
			var l quantity.Length
			l.Value = quantity.Exact(metres)
			text := spelled(l, like)
			got, bad := quantity.ParsePosition(text, source.Pos{})
			if bad != nil || math.Abs(got.Lo-metres) > 2e-8 {
				t.Fatalf("%v is spelled %s, read as %v, %v", metres, text, got.Lo, bad)
			}
		}
	})
	for metres, want := range map[float64]string{
		0: "0 in", 0.3048: "1 ft", 0.0254: "1 in", 0.3048 + 0.0254*6.5: "1 ft 6 1/2 in", 0.0254 / 64: "1/64 in",
		0.3048 / 3: "4 in", 0.3: "11.811024 in",
	} {
		if got := feetAndInches(metres); got != want {
			t.Errorf("%v is %s, not %s", metres, got, want)
		}
	}
	for metres, want := range map[float64]string{0: "0 cm", 0.25: "25 cm", 1.25: "1.25 m", 2: "2 m", 0.0008: "0.08 cm"} {
		if got := metric(metres); got != want {
			t.Errorf("%v is %s, not %s", metres, got, want)
		}
	}
}

// TestRowRefused has rows that cannot be taken apart.
func TestRowRefused(t *testing.T) {
	row := head + buses + "feeders: {M1: {2 .. 34 ft: {every: 8 ft, from: ring @ 3 ft, name: r}}, M2: {1 .. 20 ft: {like: r, from: ring @ 1 ft}}}\n"
	for _, c := range []struct {
		changes []change
		want    string
	}{
		{[]change{setFeeder(1, "wire", "12 AWG")}, "another feeder copies this row"},
		{[]change{setRow(6, "from", "ring @ 2 ft"), setFeeder(6, "wire", "12 AWG")}, "`from` cannot be both"},
	} {
		l := readText(t, row)
		w := New(l, reader.Options{})
		for _, change := range c.changes {
			change(w)
		}
		if _, err := w.Texts(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("want %s, got %v", c.want, err)
		}
	}
}
