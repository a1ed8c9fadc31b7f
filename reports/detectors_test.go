package reports

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gapwise/netlist/reader"

	"gapwise/rules"
)

// detectorsOf reads a layout and follows its detectors.
func detectorsOf(t *testing.T, path string) *DetectorsView {
	t.Helper()
	open := func(name string) ([]byte, error) { return os.ReadFile(filepath.Join("..", name)) }
	l, ps, err := reader.Read(context.Background(), open, path, rules.ReaderOptions())
	if err != nil || len(ps) > 0 {
		t.Fatal(err, ps)
	}
	c, err := rules.Trace(context.Background(), l)
	if err != nil {
		t.Fatal(err)
	}
	return NewDetectorsView(path, c)
}

// TestDetectorsGolden compares the whole text about the detectors of a demo; it fits the width.
func TestDetectorsGolden(t *testing.T) {
	var b strings.Builder
	if err := (Text{Out: &b, Width: 80}).DetectorMap(detectorsOf(t, "testdata/tin-harbour/upper.yaml"), false); err != nil {
		t.Fatal(err)
	}
	golden(t, "testdata/detectors-upper.txt", b.String())
	for line := range strings.Lines(b.String()) {
		if cells(strings.TrimRight(line, "\n")) > 80 || strings.Contains(line, "\x1b") {
			t.Errorf("%q", line)
		}
	}
}

// TestDetectorsSchema holds the JSON of all demos against its schema, and their lengths against the track.
func TestDetectorsSchema(t *testing.T) {
	text, err := os.ReadFile("detectors.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	var s schema
	if err := json.Unmarshal(text, &s); err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("../testdata/*/*sound.yaml")
	if err != nil || len(files) < 6 {
		t.Fatal(err, files)
	}
	for _, file := range files {
		v := detectorsOf(t, strings.TrimPrefix(file, "../"))
		var b strings.Builder
		if err := WriteDetectorsJSON(&b, v); err != nil {
			t.Fatal(err)
		}
		var x any
		if err := json.Unmarshal([]byte(b.String()), &x); err != nil {
			t.Fatal(err)
		}
		for _, breach := range s.breaches(&s, "document", x) {
			t.Errorf("%s: %s", file, breach)
		}
		sum := 0.0
		for i := range v.Track {
			sum += v.Track[i].ToM - v.Track[i].FromM
		}
		if d := sum - v.One - v.Several - v.Part - v.None; d > 1e-9 || d < -1e-9 || sum == 0 {
			t.Errorf("%s: %g m of track, %g m counted", file, sum, sum-d)
		}
	}
}
