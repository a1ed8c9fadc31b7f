package rules_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/reader"

	"gapwise/rules"
	"gapwise/rules/catalogue"
	"gapwise/rules/finding"
)

// layoutFolder holds a folder of layouts for each rule.
const layoutFolder = "catalogue/testdata"

// ruleLayouts lists the layouts of a rule that start with a word: raises or near-miss.
func ruleLayouts(t *testing.T, rule, word string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(layoutFolder, rule, word+"-*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// checkFile reads and checks a layout that must be readable.
func checkFile(t *testing.T, file string, o rules.Options) *rules.Report {
	t.Helper()
	l, problems, err := reader.ReadFile(context.Background(), file, rules.ReaderOptions())
	if err != nil {
		t.Fatal(err)
	}
	if len(problems) > 0 {
		var text strings.Builder
		if err := l.Files.Render(&text, problems); err != nil {
			t.Fatal(err)
		}
		t.Fatal(text.String())
	}
	r, err := rules.Check(context.Background(), l, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// words is all that a want may ask of a finding.
func words(f *finding.Finding) string {
	parts := []string{f.Message, "at " + f.Place.Text, "why: " + f.Why, "fix: " + f.Fix}
	for _, s := range f.Settings {
		parts = append(parts, "set: "+s)
	}
	for _, c := range f.Candidates {
		parts = append(parts, "or: "+c)
	}
	for _, a := range f.Also {
		parts = append(parts, "also: "+a)
	}
	return strings.Join(parts, "\n")
}

func (w want) metBy(f *finding.Finding) bool {
	return w.line == f.Pos.Line && w.rule == f.Rule && w.accepted == f.Accepted && strings.Contains(words(f), w.text)
}

// unmet compares wants with findings; what has no counterpart on either side is returned.
func unmet(wants []want, findings []finding.Finding) []string {
	var out []string
	for _, w := range wants {
		if !slices.ContainsFunc(findings, func(f finding.Finding) bool { return w.metBy(&f) }) {
			out = append(out, "not found: "+w.String())
		}
	}
	for i := range findings {
		f := &findings[i]
		if !slices.ContainsFunc(wants, func(w want) bool { return w.metBy(f) }) {
			out = append(out, fmt.Sprintf("not wanted: line %d: %s %s: %s", f.Pos.Line, f.Severity, f.Rule, f.Message))
		}
	}
	for i := range findings {
		for j := range findings[:i] {
			x, y := &findings[i], &findings[j]
			if x.Rule == y.Rule && x.Pos == y.Pos && x.Message == y.Message {
				out = append(out, fmt.Sprintf("said twice: line %d: %s: %s", x.Pos.Line, x.Rule, x.Message))
			}
		}
	}
	return out
}

func wantsOf(t *testing.T, file string) []want {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	wants, err := readWants(string(text))
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	return wants
}

// TestRaises checks every layout that must raise its rule, and nothing but what it wants.
func TestRaises(t *testing.T) {
	for _, r := range catalogue.All() {
		for _, file := range ruleLayouts(t, r.ID, "raises") {
			t.Run(name(file), func(t *testing.T) {
				wants := wantsOf(t, file)
				if !slices.ContainsFunc(wants, func(w want) bool { return w.rule == r.ID && !w.accepted }) {
					t.Errorf("does not want %s", r.ID)
				}
				for _, text := range unmet(wants, checkFile(t, file, rules.Options{}).Findings) {
					t.Error(text)
				}
			})
		}
	}
}

// TestNearMiss checks every layout that is sound: no finding at all, but accepted ones.
func TestNearMiss(t *testing.T) {
	for _, r := range catalogue.All() {
		for _, file := range ruleLayouts(t, r.ID, "near-miss") {
			t.Run(name(file), func(t *testing.T) {
				wants := wantsOf(t, file)
				if slices.ContainsFunc(wants, func(w want) bool { return !w.accepted }) {
					t.Error("a near miss wants nothing")
				}
				for _, text := range unmet(wants, checkFile(t, file, rules.Options{}).Findings) {
					t.Error(text)
				}
			})
		}
	}
}

// TestWantsBite switches each rule off in turn: a layout of its own must miss it.
func TestWantsBite(t *testing.T) {
	for _, r := range catalogue.All() {
		t.Run(r.ID, func(t *testing.T) {
			for _, file := range ruleLayouts(t, r.ID, "raises") {
				missed := unmet(wantsOf(t, file), checkFile(t, file, rules.Options{Without: []string{r.ID}}).Findings)
				if !slices.ContainsFunc(missed, func(text string) bool { return strings.HasPrefix(text, "not found:") }) {
					t.Errorf("%s does not miss the rule", file)
				}
			}
		})
	}
}

// TestFindingsAreWhole holds every finding of every layout to the parts a reader needs.
func TestFindingsAreWhole(t *testing.T) {
	for _, file := range allLayouts(t) {
		for _, f := range checkFile(t, file, rules.Options{}).Findings {
			switch {
			case f.Message == "" || f.Why == "" || f.Fix == "" || f.Place.Text == "" || !f.Pos.IsValid():
				t.Errorf("%s: %s lacks a part: %+v", file, f.Rule, f)
			case strings.HasSuffix(f.Message, "."):
				t.Errorf("%s: %s ends in a full stop: %s", file, f.Rule, f.Message)
			case f.Severity > catalogue.ByID(f.Rule).Severity:
				t.Errorf("%s: %s is graver than its rule says", file, f.Rule)
			case needsWitness(f.Rule) && len(f.Witness) == 0:
				t.Errorf("%s: %s has no path to follow: %s", file, f.Rule, f.Message)
			}
		}
	}
}

// needsWitness lists the rules whose findings are about a path of metal.
func needsWitness(rule string) bool {
	return slices.Contains([]string{
		"leg-to-leg-short", "feeder-crossed", "frog-shorts-when-set", "loop-ungapped", "loop-gap-one-rail",
		"loop-gap-missing-end", "reverser-missing", "gap-polarity-mismatch", "gap-missing-between-districts",
		"boosters-out-of-phase", "detector-bypassed",
	}, rule)
}

// TestSameFindingsEveryTime checks every layout twenty times over.
func TestSameFindingsEveryTime(t *testing.T) {
	for _, file := range allLayouts(t) {
		first := checkFile(t, file, rules.Options{})
		for range 19 {
			again, err := rules.Check(context.Background(), first.Layout, rules.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(first.Findings, again.Findings) || !reflect.DeepEqual(first.NotChecked, again.NotChecked) {
				t.Fatalf("%s: two runs differ", file)
			}
		}
	}
}

// TestLayoutsHaveRules refuses layouts in a folder that belongs to no rule, or with a name
// that nothing runs.
func TestLayoutsHaveRules(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(layoutFolder, "*", "*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		base := filepath.Base(file)
		if catalogue.ByID(filepath.Base(filepath.Dir(file))) == nil || filepath.Ext(base) != ".yaml" || (!strings.HasPrefix(base, "raises-") && !strings.HasPrefix(base, "near-miss-")) {
			t.Errorf("%s belongs to no rule", file)
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if first, _, _ := strings.Cut(string(text), "\n"); !strings.HasPrefix(first, "# ") || len(first) < 20 {
			t.Errorf("%s does not say in its first line what it shows", file)
		} else if strings.HasPrefix(base, "near-miss-") && !strings.HasPrefix(first, "# Sound: ") {
			t.Errorf("%s does not say why it is sound", file)
		}
	}
}

// allLayouts lists every layout of every rule.
func allLayouts(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(layoutFolder, "*", "*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	if len(files) < 2*len(catalogue.All()) {
		t.Fatalf("only %d layouts for %d rules", len(files), len(catalogue.All()))
	}
	return files
}

func name(file string) string {
	return filepath.Base(filepath.Dir(file)) + "/" + strings.TrimSuffix(filepath.Base(file), ".yaml")
}

// TestTyingACabIsAFault holds the one severity that no message shows.
func TestTyingACabIsAFault(t *testing.T) {
	r := checkFile(t, filepath.Join(layoutFolder, "gap-missing-between-districts", "raises-cab-not-cut-off.yaml"), rules.Options{})
	if n := r.Count(finding.Fault); n != 1 {
		t.Errorf("%d faults, want 1", n)
	}
}
