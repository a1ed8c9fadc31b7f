package rules_test

import (
	"fmt"
	"path/filepath"
	"slices"
	"testing"

	"gapwise/rules"
)

const tinHarbour = "../testdata/tin-harbour"

// TestTinHarbour holds the demo to exactly its findings, each once, at its line.
func TestTinHarbour(t *testing.T) {
	for file, want := range map[string][]string{
		"as-found.yaml": {
			`48 fault frog-shorts-when-set T9`,
			`62 fault loop-gap-one-rail BL @ 12 ft 10 in (3.91 m)`,
			`90 fault short-too-weak-to-trip MN1 @ 3 ft (914 mm)`,
			`102 fault feeder-crossed S2 @ 3 ft (914 mm)`,
			`54 caution block-differs-from-meant M1 @ 4 ft (1.22 m)`,
			`58 caution rail-dead M3 @ 5 ft 9 in (1.75 m)`,
			`117 caution gap-missing-between-districts Y3 @ 1 ft (305 mm)`,
			`79 note reverser-trips-late reverser loop`,
		},
		"upper.yaml": {
			`78 fault reverser-missing HB @ 8 in (203 mm)`,
			`38 caution gap-missing-between-districts HA @ 34 ft .. 40 ft 8 in (10.36 m to 12.40 m)`,
			`100 caution district-overloaded breaker deck`,
			`124 caution detector-bypassed M1 @ 1 ft (305 mm)`,
			`102 note reverser-trips-late reverser loop`,
		},
		"sound.yaml":       {},
		"upper-sound.yaml": {},
	} {
		t.Run(file, func(t *testing.T) {
			got := []string{}
			for _, f := range checkFile(t, filepath.Join(tinHarbour, file), rules.Options{}).Findings {
				got = append(got, fmt.Sprintf("%d %s %s %s", f.Pos.Line, f.Severity, f.Rule, f.Place.Text))
			}
			if !slices.Equal(got, want) {
				t.Errorf("found\n%q\nwant\n%q", got, want)
			}
		})
	}
}
