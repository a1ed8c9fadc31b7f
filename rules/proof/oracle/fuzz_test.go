package oracle

import (
	"os"
	"path/filepath"
	"testing"
)

// No text may make the oracle panic or hang.
func FuzzRead(f *testing.F) {
	files, err := filepath.Glob(filepath.Join(root, "rules/catalogue/testdata/*/raises-*.yaml"))
	if err != nil || len(files) == 0 {
		f.Fatalf("no seeds: %v", err)
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	f.Add(base + table + "turntables: {TT: {bridge: 12 in, tracks: {lead: 0 deg, stall: 180 deg}, feed: split-ring, from: main @ 7 ft, A: right, split-at: 90 deg}}")
	f.Fuzz(func(t *testing.T, text string) {
		l, err := Read("x", func(string) ([]byte, error) { return []byte(text), nil })
		if err != nil {
			return
		}
		_, _ = l.Hazards(64)
		if len(l.pieces) > 3 || len(l.tracks) > 12 || len(l.hung) > 40 {
			return
		}
		_, _ = l.Shorts()
		_, _ = l.Trains()
		_, _ = l.Watch()
	})
}
