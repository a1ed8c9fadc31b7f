package rules_test

import (
	"context"
	"testing"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"

	"gapwise/rules"
	"gapwise/rules/catalogue"
	"gapwise/rules/finding"
)

// TestPracticeDecides checks the layouts that raise a rule of thumb with its practice listed and
// without: a caution where it is listed, else a note, or nothing from a rule that speaks only for
// owners who list it.
func TestPracticeDecides(t *testing.T) {
	for _, r := range catalogue.All() {
		if r.Practice == "" {
			continue
		}
		unlisted := 0
		files := ruleLayouts(t, r.ID, "raises")
		for _, file := range files {
			t.Run(name(file), func(t *testing.T) {
				for _, listed := range []bool{true, false} {
					l, problems, err := reader.ReadFile(context.Background(), file, rules.ReaderOptions())
					if err != nil || len(problems) > 0 {
						t.Fatal(err, problems)
					}
					var others []layout.Practice
					for _, p := range l.Practices {
						if p.Name != r.Practice {
							others = append(others, p)
						}
					}
					l.Practices = others
					if listed {
						l.Practices = append(l.Practices, layout.Practice{Name: r.Practice})
					}
					report, err := rules.Check(context.Background(), l, rules.Options{Only: []string{r.ID}})
					if err != nil {
						t.Fatal(err)
					}
					want := finding.Note
					if listed {
						want = finding.Caution
					}
					n := 0
					for _, f := range report.Findings {
						if f.Accepted {
							continue
						}
						n++
						if f.Severity > want {
							t.Errorf("listed %t: %s: %s", listed, f.Severity, f.Message)
						}
					}
					if listed && n == 0 {
						t.Error("silent although its practice is listed")
					}
					if !listed {
						unlisted += n
					}
				}
			})
		}
		if r.OnlyListed != (unlisted == 0) {
			t.Errorf("%s gives %d notes in %d layouts that do not list its practice", r.ID, unlisted, len(files))
		}
	}
}
