package rules_test

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gapwise/rules"
	"gapwise/rules/catalogue"
)

// soundFolder holds layouts that look wrong and are not.
const soundFolder = "testdata/sound"

// leastSound is how many of them there are at the least.
const leastSound = 45

// cryWolf lists the rules that have to keep silent where the layout means what it does. Some
// come with a later issue; their layouts are here before them.
var cryWolf = []string{
	"gap-one-rail", "rail-dead", "feeder-missing-at-turnout-side", "block-shorter-than-train",
	"sidings-not-insulated", "bus-closed-ring", "boosters-without-common-reference",
	"reversing-sections-touch", "gap-staggered", "gap-unfilled", "expansion-gap-missing",
	"gap-polarity-mismatch", "reverser-missing",
}

func soundFiles(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(soundFolder, "*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// nearMissOf is the rule that a layout's second line names, "" when it names none.
func nearMissOf(text string) string {
	_, rest, _ := strings.Cut(text, "\n")
	second, _, _ := strings.Cut(rest, "\n")
	id, found := strings.CutPrefix(second, "# Near miss of: ")
	if !found {
		return ""
	}
	return id
}

// TestSoundLayouts holds every rule to silence, notes included, on layouts that are sound.
// Accepted findings count: none of these layouts needs one.
func TestSoundLayouts(t *testing.T) {
	files := soundFiles(t)
	if len(files) < leastSound {
		t.Errorf("%d layouts, want at least %d", len(files), leastSound)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".yaml"), func(t *testing.T) {
			r := checkFile(t, file, rules.Options{})
			for _, f := range r.Findings {
				t.Errorf("line %d: %s %s: %s", f.Pos.Line, f.Severity, f.Rule, f.Message)
			}
			if r.Incomplete() {
				t.Error("the check gave up before it was complete")
			}
			if len(r.Layout.Feeders) == 0 || len(r.Layout.Tracks) == 0 {
				t.Error("a layout without track or feeders is silent whatever the rules do")
			}
		})
	}
}

// soundReason is one sentence that says why a layout is sound.
var soundReason = regexp.MustCompile(`^# Sound: \S.{30,}\.$`)

// TestSoundLayoutsSayWhy holds the first lines of the layouts to their form, and every name of
// a layout to be its own.
func TestSoundLayoutsSayWhy(t *testing.T) {
	seen := map[string]string{}
	for _, file := range soundFiles(t) {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		first, _, _ := strings.Cut(string(text), "\n")
		if !soundReason.MatchString(first) {
			t.Errorf("%s does not say in one sentence why it is sound", file)
		}
		if other := seen[first]; other != "" {
			t.Errorf("%s and %s are sound for the same reason", other, file)
		}
		seen[first] = file
		id := nearMissOf(string(text))
		if strings.Contains(string(text), "# Near miss") != (id != "") {
			t.Errorf("%s names its near miss elsewhere than on the second line", file)
		}
		if id != "" && catalogue.ByID(id) == nil && !slices.Contains(cryWolf, id) {
			t.Errorf("%s is a near miss of %s, which is no rule", file, id)
		}
	}
}

// TestEveryWolfHasItsSheep asks for a sound layout beside each rule that may cry wolf.
func TestEveryWolfHasItsSheep(t *testing.T) {
	var covered []string
	for _, file := range soundFiles(t) {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		covered = append(covered, nearMissOf(string(text)))
	}
	for _, id := range cryWolf {
		if !slices.Contains(covered, id) {
			t.Errorf("no sound layout is a near miss of %s", id)
		}
	}
}
