package amend

import (
	"os"
	"path/filepath"
	"testing"

	"gapwise/netlist/source"
	"gapwise/netlist/tree"

	"pgregory.net/rapid"
)

// TestRestyled tries the styles themselves.
func TestRestyled(t *testing.T) {
	files, _ := filepath.Glob("../../testdata/*/*.yaml")
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom(files).Draw(t, "file")
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		out := restyled(t, text)
		a, _ := tree.Parse(0, &source.File{Text: text})
		b, problems := tree.Parse(0, &source.File{Text: []byte(out)})
		if len(problems) > 0 {
			t.Fatalf("%v\n%s", problems, out)
		}
		if !same(a, b) {
			t.Fatalf("differs\n%s", out)
		}
	})
}
