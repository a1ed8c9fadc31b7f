package rules_test

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/reader"

	"gapwise/rules"
	"gapwise/rules/finding"
)

// TestPowerRulesLeaveOpen changes one word of a layout so that a rule about sources cannot
// tell, or has nothing to say, and holds what the rule then says under "not checked".
func TestPowerRulesLeaveOpen(t *testing.T) {
	for _, c := range []struct {
		name, file, old, now, open string
	}{
		{"switching unknown", "reversing-sections-touch/raises-dogbone", "lead: {from: main @ 10 ft, switching: automatic", "lead: {from: main @ 10 ft, switching: unknown", "whether reverser east and reverser lead chase each other"},
		{"volts unknown", "boosters-differ-in-volts/raises-two-volts-apart", "volts: 17 V", "volts: unknown", "whether booster one and booster two have the same volts"},
		{"common unknown", "boosters-without-common-reference/near-miss-nobody-asks", "common: forbidden", "common: unknown", "whether booster two needs a common wire"},
		{"common unsaid", "boosters-without-common-reference/near-miss-nobody-asks", ", common: forbidden", "", ""},
		{"opens unsaid beside one of a single leg", "breakers-open-different-legs/near-miss-one-opens-both", "opens: both", "opens: unknown", "whether a bridge between the track of breaker coal and of breaker ice meets one of them"},
		{"rating unsaid", "source-exceeds-limited-power/raises-beyond-class-2", "rating: 6 A, listed: unknown", "listed: unknown", "whether supply brick keeps within a limited-power class"},
		{"opens unsaid", "changeover-ties-sources/raises-one-leg", ", opens: A", "", "whether changeover north ties the sources"},
		{"throw unsaid", "changeover-ties-sources/raises-make-first", ", throw: make-first", "", "whether changeover north joins the sources of two positions in passing"},
		{"the leg that stays is a common rail", "changeover-ties-sources/raises-one-leg", "supplies:", "common-rail:\n  - {rail: right, of: [line, north]}\nsupplies:", ""},
		{"the leg that is opened is a common rail", "changeover-ties-sources/raises-one-leg", "supplies:", "common-rail:\n  - {rail: left, of: [line, north]}\nsupplies:", "finding"},
		{"slower than the formula holds", "wire-energy-let-through/near-miss-no-time", "inside: 0.1 Ω, rating: 5 A, trips-at: 3 A", "inside: 1.5 Ω, rating: 5 A, trips-at: 3 A, trip-time: 60 s", "whether the feeder at line @ 6 ft (1.83 m) stands a dead short until booster one trips"},
		{"household volts", "source-exceeds-limited-power/raises-big-listed-supply", "volts: 18 V", "volts: 120 V", ""},
		{"not listed", "source-exceeds-limited-power/raises-beyond-class-2", "listed: unknown", "listed: no", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			id := filepath.Dir(c.file)
			findings, open := checkChanged(t, c.file, c.old, c.now, id)
			if (len(findings) > 0) != (c.open == "finding") {
				t.Errorf("found %q", findings)
			}
			if c.open == "finding" {
				return
			}
			if c.open == "" && len(open) > 0 || c.open != "" && !slices.ContainsFunc(open, func(s string) bool { return strings.HasPrefix(s, c.open) }) {
				t.Errorf("not checked: %q, want %q", open, c.open)
			}
		})
	}
}

// checkChanged checks a layout of the catalogue with one piece of its text replaced, which
// must be there, and returns what one rule finds and what it leaves open.
func checkChanged(t *testing.T, file, old, now, rule string) (findings, open []string) {
	t.Helper()
	bytes, err := os.ReadFile(filepath.Join(layoutFolder, file+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(string(bytes), old, now, 1)
	if text == string(bytes) {
		t.Fatalf("%s has no %q", file, old)
	}
	l, problems, err := reader.Read(context.Background(), func(string) ([]byte, error) { return []byte(text), nil }, "changed.yaml", rules.ReaderOptions())
	if err != nil || len(problems) > 0 {
		t.Fatalf("not read: %v %v", err, problems)
	}
	r, err := rules.Check(context.Background(), l, rules.Options{Only: []string{rule}})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range r.Findings {
		findings = append(findings, f.Message)
	}
	for _, n := range slices.DeleteFunc(slices.Clone(r.NotChecked), func(n finding.NotChecked) bool { return n.Rule != rule }) {
		open = append(open, n.What)
	}
	return findings, open
}

// TestMeetingGapsAreNotes holds the severity that no message shows.
func TestMeetingGapsAreNotes(t *testing.T) {
	r := checkFile(t, filepath.Join(layoutFolder, "programming-track-joined", "raises-gap-without-changeover.yaml"), rules.Options{})
	if r.Count(finding.Note) != 1 || len(r.Findings) != 1 {
		t.Errorf("%d findings, %d notes; want one note", len(r.Findings), r.Count(finding.Note))
	}
}

// TestLaterPositionsAreListed holds what is said of a changeover's positions after its first.
func TestLaterPositionsAreListed(t *testing.T) {
	for file, want := range map[string]string{
		"branch-that-either-booster-may-feed":    "whether the track behind changeover branch has its legs the right way round in position second",
		"loop-whose-legs-follow-its-turnout":     "whether T1 throws changeover auto the right way round",
		"loop-on-a-changeover-with-crossed-legs": "",
	} {
		_, open := checkChanged(t, "../../testdata/sound/"+file, "scale: HO", "scale: N", "changeover-ties-sources")
		if want == "" && len(open) > 0 || want != "" && !slices.ContainsFunc(open, func(s string) bool { return strings.HasPrefix(s, want) }) {
			t.Errorf("%s: not checked: %q, want %q", file, open, want)
		}
	}
}
