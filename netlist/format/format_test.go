package format

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"
	"gapwise/netlist/source"
)

// layoutFiles are all layout files of the repository.
func layoutFiles(t testing.TB) []string {
	t.Helper()
	var files []string
	err := filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && filepath.Ext(path) == ".yaml" {
			files = append(files, path)
		}
		return err
	})
	if err != nil || len(files) < 100 {
		t.Fatalf("%d layout files, %v", len(files), err)
	}
	return files
}

func readText(t testing.TB, file string) string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// told shows problems as a reader sees them.
func told(t testing.TB, files source.Files, problems []source.Problem) string {
	t.Helper()
	var b strings.Builder
	if err := files.Render(&b, problems); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

type fataler interface {
	Helper()
	Fatalf(format string, args ...any)
}

// formatted is the canonical text of a file that must have one.
func formatted(t fataler, text string) string {
	t.Helper()
	out, problems, err := Format(&source.File{Name: "layout.yaml", Text: []byte(text)})
	if err != nil || len(problems) > 0 {
		t.Fatalf("%v %v in\n%s", err, problems, text)
	}
	return string(out)
}

// TestCanonical shows the canonical form.
func TestCanonical(t *testing.T) {
	before := readText(t, "testdata/before.yaml")
	want := readText(t, "testdata/after.yaml")
	got := formatted(t, before)
	if got != want {
		t.Errorf("got:\n%s", got)
	}
	if windows := formatted(t, strings.ReplaceAll(before, "\n", "\r\n")); windows != strings.ReplaceAll(want, "\n", "\r\n") {
		t.Error("with the line ends of Windows it is another text")
	}
	if marked := formatted(t, source.ByteOrderMark+before); marked != source.ByteOrderMark+want {
		t.Error("with a byte order mark it is another text")
	}
}

// stays are texts that are canonical as they stand, each with why it is feared for.
var stays = map[string]string{
	"a comment that is of no one section":   "gapwise: 1\nlayout: x\n\n# power\n\nsupplies:\n  s: {volts: 15 V}\n\ntracks:\n  M: {length: 1 ft}\n",
	"a comment at the end":                  "gapwise: 1\nlayout: x\n\nsupplies:\n  s: {volts: 15 V}\n\ntracks:\n  M: {length: 1 ft}\n\n# to do: the yard\n",
	"a comment that heads the file":         "# Harbour, as of spring\nlayout: x\ngapwise: 1\n",
	"track work before tracks":              "gapwise: 1\nlayout: x\n\nturnouts:\n  T: {hand: left}\n\ntracks:\n  M: {length: 1 ft}\n\njoints:\n  M: [1 ft]\n\ngaps:\n  M: [1 ft]\n",
	"a key that is unknown":                 "layout: x\ngapwise: 1\ntrakcs: {}\n",
	"a key without a value":                 "tracks:\n  M: {to: , from: end}\n",
	"a text that looks like a quantity":     "label: 12ft  apart\n",
	"a material, and a name with a unit":    "gaps:\n  M: [{at: 1 ft, fill: 2mm styrene, name: 5A}]\n",
	"a quantity in quotes":                  "tracks:\n  M: {length: \"12ft\"}\n",
	"places that differ in blanks":          "feeders:\n  M: {A: left, 1ft: ring @ 1 ft, 1 ft: ring @ 2 ft}\n",
	"places that come to be one":            "feeders:\n  M: {A: left, 1 ft 1 in: r @ 1 ft, 1 ft 1in: r @ 2 ft, 1ft 1 in: r @ 2 ft}\n",
	"numbers that a blank would spoil":      "tracks:\n  M: {length: 12' 6½\"}\n  N: {length: 5'-6\"}\n  O: {length: 6-1/2 in}\n",
	"wire in square millimetres":            "buses:\n  b: {wire: 2.5 mm2}\n",
	"a whole layout in braces":              "{gapwise: 1, layout: x}\n",
	"lines in brackets":                     "tracks:\n  M: {\n    to: end,\n    from: end\n  }\n",
	"a comment in brackets":                 "gaps:\n  M: [\n    # by the door\n    1 ft, # cut twice\n    2 ft]\n",
	"comments in one column":                "gaps:\n  M: [1 ft]      # old\n  N: [11 ft 6 in] # new\n                  # and wide\n",
	"a mark at the start":                   "# mine\n--- # start\ngapwise: 1\n",
	"a hash that is no comment":             "layout: x#1\nlabel: \"a # b\"\n",
	"a value below its key":                 "layout:\n  x\n\nlabel:\n  # why\n  \"y\"\n",
	"a comma before a bracket":              "joins: [[A end, B end,],]\n",
	"no place":                              "gaps:\n  M: [1..2..3 ft]\n",
	"no quantity":                           "tracks:\n  M: {length: 3yards}\n\nlimits:\n  bus-drop: 5 volts\n",
	"an item below its dash":                "commons:\n  - {joins: [a, b]}\n  -\n    {joins: [c, d]}\n",
	"a list in a list":                      "joins:\n  - - A end\n    - B end\n  - [C end, D end]\n",
	"an entry without a value":              "practice:\n  -\n  - gaps-filled\n",
	"columns as far as the keys are alike":  "tracks:\n  M: {from: end,        to: end, length: 1 ft}\n  N: {from: T straight, to: end, use: main, label: x}\n",
	"a section with an entry on more lines": "feeders:\n  M:\n    A: left\n  Y22: {A: left}\n",
}

func TestStays(t *testing.T) {
	for why, text := range stays {
		if got := formatted(t, text); got != text {
			t.Errorf("%s:\n%sbecame\n%s", why, text, got)
		}
	}
}

// TestKeyWithoutValue: where a key without a value lies deeper, the keys around it move.
func TestKeyWithoutValue(t *testing.T) {
	const want = "turnouts:\n  T: {hand: left, frog-gets: {straight, curved: }}\n"
	if got := formatted(t, "turnouts:\n  T: {frog-gets: {straight, curved: }, hand: left}\n"); got != want {
		t.Error(got)
	}
}

// TestMistakes: what is wrong in the text is told, and there is no text then.
func TestMistakes(t *testing.T) {
	for _, text := range []string{"", "a: [1, 2\n", "a: 1\na: 2\n", "\ta: 1\n", "a: *b\n", "a: {b: 3,8 m}\n"} {
		out, problems, err := Format(&source.File{Text: []byte(text)})
		if out != nil || len(problems) == 0 || err != nil {
			t.Errorf("%q: %q, %v, %v", text, out, problems, err)
		}
	}
}

// TestRepository formats every layout file of the repository: once is enough, its meaning
// stays, and so do its comments. It was made for a file by hand or by other tests, so that it
// reads alone or with what includes it.
func TestRepository(t *testing.T) {
	texts := map[string][]byte{}
	for _, file := range layoutFiles(t) {
		text := readText(t, file)
		once := formatted(t, text)
		texts[filepath.Clean(file)] = []byte(once)
		if twice := formatted(t, once); twice != once {
			t.Errorf("%s: formatted again it is another text", file)
		}
		sameComments(t, text, once)
	}
	fresh := func(name string) ([]byte, error) {
		if text, ok := texts[filepath.Clean(name)]; ok {
			return text, nil
		}
		return nil, errors.New("not formatted")
	}
	sound := 0
	for file := range texts {
		was, problems, err := reader.ReadFile(context.Background(), file, reader.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if len(problems) > 0 && was.IsModule {
			continue // it is read with the file that includes it
		}
		is, after, err := reader.Read(context.Background(), fresh, file, reader.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if len(problems) != len(after) {
			t.Errorf("%s: mistakes\n%sbecame\n%s", file, told(t, was.Files, problems), told(t, is.Files, after))
		}
		if len(problems) == 0 {
			sound++
			sameLayout(t, was, is)
		}
	}
	if sound < 100 {
		t.Errorf("only %d layouts without mistakes", sound)
	}
}

// readOne reads a layout of one file that must have no mistakes.
func readOne(t fataler, text string) *layout.Layout {
	t.Helper()
	open := func(string) ([]byte, error) { return []byte(text), nil }
	l, problems, err := reader.Read(context.Background(), open, "layout.yaml", reader.Options{})
	if err != nil || len(problems) > 0 {
		t.Fatalf("%v %v in\n%s", err, problems, text)
	}
	return l
}
