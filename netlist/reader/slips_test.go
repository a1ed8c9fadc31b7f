package reader

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"testing"
)

// One slip of the pen in a sound file is told once: what follows from it is not blamed.
func TestOneSlipOneProblem(t *testing.T) {
	for _, c := range []struct {
		name string
		slip *regexp.Regexp // group 1 is replaced
		with func(string) string
	}{
		{"a key misspelt", regexp.MustCompile(`[{,] ?([a-z]+-?[a-z]{3,}):`), func(s string) string { return s[:1] + s[2:3] + s[1:2] + s[3:] }},
		{"a unit left out", regexp.MustCompile(`(?:length|rating|volts|trips-at): [0-9.]+( ft| in| A| V)[,}]`), func(string) string { return "" }},
		{"a reference misspelt", regexp.MustCompile(`(?:from|to): ([A-Z]+[0-9]+) (?:straight|curved|points|[a-d]\b)`), func(s string) string { return s + "x" }},
		{"an end misspelt", regexp.MustCompile(`(straight|curved|points)[,}]`), func(s string) string { return s[:3] + s[4:] }},
		{"a name left out", regexp.MustCompile(`(?m)^  ([A-Z]+[0-9]+) *:`), func(string) string { return "?" }},
		{"a tap's bus misspelt", regexp.MustCompile(`([a-z]+) @ [0-9]+ ft`), func(s string) string { return s + "x" }},
	} {
		tried := 0
		for _, file := range []string{"as-found.yaml", "upper.yaml"} {
			data, err := os.ReadFile(filepath.Join("testdata", "language", file))
			if err != nil {
				t.Fatal(err)
			}
			for i, at := range c.slip.FindAllSubmatchIndex(data, -1) {
				if i%3 != 0 { // a third of them is enough to see
					continue
				}
				old := string(data[at[2]:at[3]])
				if c.with(old) == old {
					continue
				}
				text := string(data[:at[2]]) + c.with(old) + string(data[at[3]:])
				l, problems, err := Read(context.Background(), func(string) ([]byte, error) { return []byte(text), nil }, "layout.yaml", Options{})
				if err != nil {
					t.Fatal(err)
				}
				tried++
				if len(problems) != 1 {
					t.Errorf("%s: %q in %s: %d problems\n%s", c.name, data[at[0]:at[1]], file, len(problems), report(l, problems))
				}
			}
		}
		if tried < 10 {
			t.Errorf("%s: only %d tried", c.name, tried)
		}
	}
}
