package rules_test

import (
	"slices"
	"strings"
	"testing"

	"gapwise/rules"
	"gapwise/rules/finding"
)

// TestCrossedSignalIsMarked: where both halves of a path read "leg A", the one whose signal
// wires are crossed says so, and the other does not.
func TestCrossedSignalIsMarked(t *testing.T) {
	f := oneFinding(t, "catalogue/testdata/boosters-out-of-phase/raises-one-of-three.yaml", "boosters-out-of-phase")
	var sides []string
	for _, s := range f.Witness {
		if strings.HasPrefix(s.Text, "on ") {
			sides = append(sides, s.Text)
		}
	}
	want := []string{"on one side: booster one, leg A", "on the other side: booster two, leg A (its signal wires are crossed)"}
	if !slices.Equal(sides, want) {
		t.Errorf("the sides are %q, want %q", sides, want)
	}
}

// TestOnlyTheNumberThatFails: a reverser that is late by its current is not told its time, nor
// the other way round.
func TestOnlyTheNumberThatFails(t *testing.T) {
	for file, want := range map[string]string{"raises-needs-more-current": "A", "raises-as-slow": "s", "raises-same-current": "A"} {
		f := oneFinding(t, "catalogue/testdata/reverser-trips-late/"+file+".yaml", "reverser-trips-late")
		if len(f.Numbers) != 1 || f.Numbers[0].Unit != want {
			t.Errorf("%s: the numbers are %+v, want one in %s", file, f.Numbers, want)
		}
	}
}

// oneFinding is the first finding of a rule in a layout.
func oneFinding(t *testing.T, file, id string) *finding.Finding {
	t.Helper()
	findings := checkFile(t, file, rules.Options{}).Findings
	n := slices.IndexFunc(findings, func(f finding.Finding) bool { return f.Rule == id })
	if n < 0 {
		t.Fatalf("%s raises no %s", file, id)
	}
	return &findings[n]
}
