package reports

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"unicode"

	"gapwise/netlist/reader"

	"gapwise/rules"
)

// gapsOf reads a layout and works out its gaps; text is read in place of the file when given.
func gapsOf(t *testing.T, path, text string) *GapsView {
	t.Helper()
	open := func(name string) ([]byte, error) {
		if text != "" {
			return []byte(text), nil
		}
		return os.ReadFile(filepath.Join("..", name))
	}
	l, ps, err := reader.Read(context.Background(), open, path, rules.ReaderOptions())
	if err != nil {
		t.Fatal(err)
	}
	if len(ps) > 0 {
		var b strings.Builder
		if err := l.Files.Render(&b, ps); err != nil {
			t.Fatal(err)
		}
		t.Fatal(b.String())
	}
	c, err := rules.Trace(context.Background(), l)
	if err != nil {
		t.Fatal(err)
	}
	return NewGapsView(path, c)
}

func gapsText(t *testing.T, v *GapsView, width int) string {
	t.Helper()
	var b strings.Builder
	if err := (Text{Out: &b, Width: width}).Gaps(v); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestGapsGolden compares the whole text about the gaps of the Tin Harbour demo.
func TestGapsGolden(t *testing.T) {
	golden(t, "testdata/gaps-sound.txt", gapsText(t, gapsOf(t, "testdata/tin-harbour/sound.yaml", ""), 80))
}

// TestGapsFit: no line is wider than asked for, and none has a colour.
func TestGapsFit(t *testing.T) {
	for _, width := range []int{60, 80, 120} {
		for line := range strings.Lines(gapsText(t, gapsOf(t, "testdata/tin-harbour/upper.yaml", ""), width)) {
			if cells(strings.TrimRight(line, "\n")) > width || strings.Contains(line, "\x1b") {
				t.Errorf("width %d: %q", width, line)
			}
		}
	}
}

const mixedGaps = `gapwise: 1
layout: Mixed
defaults:
  turnout: {wiring: dead-frog, jumpers: yes, length: 9 in}
  joint: {kind: soldered}
tracks:
  line: {from: end, to: end, length: 40 ft}
gaps:
  line:
    - {at: 5 ft, name: gate, rails: both, kind: insulated, fill: none, width: 1 mm}
    - {at: 10 ft, rails: both, kind: insulated}
    - {at: 15 ft, rails: both, kind: insulated, fill: styrene}
    - {at: 20 ft, rails: left, kind: insulated, fill: none}
    - {at: 25 ft, rails: both, kind: expansion, joint: cut, fill: none}
    - {at: 35 ft, rails: both, kind: insulated, fill: unknown}
    - {at: 39 ft, rails: both, kind: insulated, fill: styrene}
supplies:
  brick: {volts: 18 V, rating: 6 A, listed: yes}
boosters:
  one: {supply: brick, volts: 15 V, trips-at: 5 A, trip-time: 40 ms}
breakers:
  k: {from: main @ 1 ft, trips-at: 3 A}
  j: {from: main @ 2 ft, trips-at: 3 A}
reversers:
  loop: {from: main @ 3 ft, switching: by-hand}
detectors:
  watch: {from: k @ 9 ft, leg: A}
buses:
  main: {from: booster one, wire: 14 AWG, length: 40 ft}
  k: {from: breaker k, wire: 14 AWG, length: 40 ft}
  j: {from: breaker j, wire: 14 AWG, length: 40 ft}
  loop: {from: reverser loop, wire: 14 AWG, length: 40 ft}
  watch: {from: detector watch, legs: A, wire: 14 AWG, length: 30 ft}
feeders:
  line:
    A: left
    3 ft: main @ 3 ft
    7 ft: k @ 7 ft
    12 ft: {from: k @ 12 ft, A-from: watch @ 3 ft}
    17 ft: {from: k @ 17 ft, A-from: watch @ 8 ft}
    22 ft: {from: k @ 22 ft, A-from: watch @ 13 ft}
    27 ft: j @ 27 ft
    37 ft: loop @ 37 ft
`

// TestGapVerdicts holds the words, the names and the order of a layout with every kind of
// filling.
func TestGapVerdicts(t *testing.T) {
	v := gapsOf(t, "mixed.yaml", mixedGaps)
	type told struct {
		at, wheel, closing, parts, advice string
		watch                             int
	}
	var got []told
	for i := range v.Gaps {
		g := &v.Gaps[i]
		at, _, _ := strings.Cut(g.title(), " (")
		advice, _, _ := strings.Cut(g.Advice, ":")
		got = append(got, told{at, g.Wheel.Verdict, g.Closing.Verdict, g.Parts.Text, advice, g.Watch})
	}
	want := []told{
		{"gate", "joins-districts", "ties-districts", "booster one from breaker k", "not filled", 2},
		{"line @ 10 ft", "passes-detector", "unseen-train", "no detector from detector watch", "the layout does not say whether it is filled", 4},
		{"line @ 15 ft", "nothing", "nothing", "nothing: one district, one block", "filled with styrene", 0},
		{"line @ 20 ft", "nothing", "nothing", "nothing: one district, one block", "not filled", 0},
		{"line @ 25 ft", "joins-districts", "ties-districts", "breaker k from breaker j, detector watch from no detector", "an expansion gap has to stay open", 3},
		{"line @ 35 ft", "reverser-by-hand", "closes-reversing-loop", "a reversing section: breaker j from reverser loop", "the layout does not say whether it is filled", 1},
		{"line @ 39 ft", "nothing", "feeds-dead-rail", "reverser loop from dead rail", "filled with styrene", 0},
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%+v\nwant\n%+v", got, want)
	}
	if g := &v.Gaps[4]; len(g.ClosingAlso) != 1 || g.ClosingAlso[0].Text != "unseen train: current goes past detector watch" {
		t.Errorf("the expansion gap also does %v", g.ClosingAlso)
	}
	if g := &v.Gaps[0]; g.WidthM == nil || *g.WidthM != 0.001 || g.Rails != "both" || v.Gaps[3].Rails != "left" || v.Gaps[4].Joint != "cut" {
		t.Errorf("width, rails or joint are lost: %+v", g)
	}
}

// TestGapsOfNothing: a layout without gaps says so.
func TestGapsOfNothing(t *testing.T) {
	v := gapsOf(t, "bare.yaml", "gapwise: 1\nlayout: Bare\ntracks:\n  line: {from: end, to: end, length: 4 ft}\n")
	if got := gapsText(t, v, 80); got != "Bare: 0 gaps, 0 of them insulated; 0 to fill and watch\n" {
		t.Errorf("%q", got)
	}
}

func decodedGaps(t *testing.T, v *GapsView) map[string]any {
	t.Helper()
	var b strings.Builder
	if err := WriteGapsJSON(&b, v); err != nil {
		t.Fatal(err)
	}
	var d map[string]any
	if err := json.Unmarshal([]byte(b.String()), &d); err != nil {
		t.Fatal(err)
	}
	return d
}

// TestGapsSchema holds the documents of the demo, and of a layout with every kind of gap,
// against the published schema.
func TestGapsSchema(t *testing.T) {
	text, err := os.ReadFile("gaps.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	var s schema
	if err := json.Unmarshal(text, &s); err != nil {
		t.Fatal(err)
	}
	documents := map[string]map[string]any{"mixed": decodedGaps(t, gapsOf(t, "mixed.yaml", mixedGaps))}
	for _, path := range tinHarbour {
		documents[path] = decodedGaps(t, gapsOf(t, path, ""))
	}
	for name, d := range documents {
		for _, b := range s.breaches(&s, name, d) {
			t.Error(b)
		}
		if len(d["gaps"].([]any)) == 0 {
			t.Errorf("%s has no gaps to hold against the schema", name)
		}
	}
	spoilt := documents["mixed"]
	spoilt["gaps"].([]any)[0].(map[string]any)["closing"].(map[string]any)["verdict"] = "safe"
	if len(s.breaches(&s, "spoilt", spoilt)) == 0 {
		t.Error("a verdict that there is not is not seen")
	}
}

// TestEveryVerdictHasAName: whatever meets has a word in the schema.
func TestEveryVerdictHasAName(t *testing.T) {
	text, err := os.ReadFile("gaps.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, list := range []map[string]bool{verdictSet(reflect.ValueOf(wheelVerdicts)), verdictSet(reflect.ValueOf(closingVerdicts))} {
		if len(list) < 7 {
			t.Errorf("only %d verdicts", len(list))
		}
		for v := range list {
			if !strings.Contains(string(text), `"`+v+`"`) {
				t.Errorf("%s is not in the schema", v)
			}
		}
	}
}

func verdictSet(m reflect.Value) map[string]bool {
	out := map[string]bool{}
	for _, k := range m.MapKeys() {
		out[m.MapIndex(k).String()] = true
	}
	return out
}

// TestHostileGaps: whatever a layout says, a terminal gets letters, signs and ends of lines.
func TestHostileGaps(t *testing.T) {
	v := &GapsView{}
	fill(reflect.ValueOf(v).Elem(), hostile)
	v.Watch = []int{1, 0}
	for i := range v.Gaps {
		for s := range 2 {
			v.Gaps[i].Parts.Districts[s] = []string{hostile}
		}
	}
	for _, r := range gapsText(t, v, 80) {
		if r != '\n' && !unicode.IsPrint(r) {
			t.Fatalf("%U reaches the terminal", r)
		}
	}
	var b strings.Builder
	if err := WriteGapsJSON(&b, v); err != nil {
		t.Fatal(err)
	}
	for _, r := range b.String() {
		if r != '\n' && !unicode.IsPrint(r) {
			t.Fatalf("%U reaches the document", r)
		}
	}
}
