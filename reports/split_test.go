package reports

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"unicode"

	"gapwise/netlist/reader"

	"gapwise/rules"
	"gapwise/rules/split"
)

// splitOf divides a demo layout.
func splitOf(t *testing.T, path string, ask split.Ask) *SplitView {
	t.Helper()
	open := func(name string) ([]byte, error) { return os.ReadFile(filepath.Join("..", name)) }
	l, ps, err := reader.Read(context.Background(), open, path, rules.ReaderOptions())
	if err != nil || len(ps) > 0 {
		t.Fatal(err, ps)
	}
	r, err := rules.Check(context.Background(), l, rules.Options{})
	if err != nil {
		t.Fatal(err)
	}
	a, err := split.Split(context.Background(), r, ask)
	if err != nil {
		t.Fatal(err)
	}
	return NewSplitView(path, a)
}

func splitText(t *testing.T, v *SplitView, width int) string {
	t.Helper()
	var b strings.Builder
	if err := (Text{Out: &b, Width: width}).Split(v); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// divided is what the command asks for by itself.
var divided = split.Ask{Margin: split.DefaultMargin, Whole: split.DefaultWhole}

// tooSmall asks for districts smaller than a piece that stays whole.
func tooSmall() split.Ask {
	a := divided
	a.Ratings = []float64{2}
	return a
}

// TestSplitGolden compares the whole text about two divisions, and holds its widths.
func TestSplitGolden(t *testing.T) {
	found := splitOf(t, "testdata/larch-fell/unsplit.yaml", divided)
	golden(t, "testdata/split-found.txt", splitText(t, found, 80))
	never := splitOf(t, "testdata/cinder-gorge/sound.yaml", tooSmall())
	golden(t, "testdata/split-impossible.txt", splitText(t, never, 80))
	for _, v := range []*SplitView{found, never} {
		for _, width := range []int{60, 80, 120} {
			for line := range strings.Lines(splitText(t, v, width)) {
				if cells(strings.TrimRight(line, "\n")) > width || strings.Contains(line, "\x1b") {
					t.Errorf("width %d: %q", width, line)
				}
			}
		}
	}
}

// TestSplitBreakers: what is added, laid and moved stands in the order of work, and a new caution is told with its fix.
func TestSplitBreakers(t *testing.T) {
	a := divided
	a.With, a.Ratings, a.Margin = split.Breakers, []float64{2}, 0
	v := splitOf(t, "testdata/larch-fell/unsplit.yaml", a)
	v.Brought = []SplitFinding{{Severity: "caution", Rule: "short-too-weak-to-trip", Message: "a short is weak", Fix: "thicker wire"}}
	text := splitText(t, v, 200)
	last := 0
	for _, part := range []string{
		"add breaker d2, behind booster main, set to trip at 2 A", "lay bus ", "cut both rails at ", "take feeder ", "take bus ",
		"1 fault or caution is new or worse:", "  fix: thicker wire", "run gapwise gauge OUT",
	} {
		at := strings.Index(text[last:], part)
		if at < 0 {
			t.Fatalf("%q is not in its place:\n%s", part, text)
		}
		last += at
	}
}

// TestSplitJSON holds the documents against their schema, and keeps unseen characters out of them.
func TestSplitJSON(t *testing.T) {
	file, err := os.ReadFile("split.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	var s schema
	if err := json.Unmarshal(file, &s); err != nil {
		t.Fatal(err)
	}
	hostileView := &SplitView{Outcome: "found"}
	fill(reflect.ValueOf(hostileView).Elem(), hostile)
	for _, v := range []*SplitView{splitOf(t, "testdata/larch-fell/unsplit.yaml", divided), splitOf(t, "testdata/cinder-gorge/sound.yaml", tooSmall())} {
		var b strings.Builder
		if err := WriteSplitJSON(&b, v); err != nil {
			t.Fatal(err)
		}
		var d any
		if err := json.Unmarshal([]byte(b.String()), &d); err != nil {
			t.Fatal(err)
		}
		for _, x := range s.breaches(&s, "", d) {
			t.Error(x)
		}
	}
	var b strings.Builder
	if err := WriteSplitJSON(&b, hostileView); err != nil {
		t.Fatal(err)
	}
	found := *hostileView
	found.Outcome, found.Checked = "found", true
	for _, r := range b.String() + splitText(t, hostileView, 80) + splitText(t, &found, 80) {
		if r != '\n' && !unicode.IsPrint(r) {
			t.Errorf("%U is written as it is", r)
		}
	}
}
