package reports

import (
	"strings"
	"testing"

	"gapwise/rules/catalogue"
)

// TestRuleTable: one row a rule, of four cells, with its name and title.
func TestRuleTable(t *testing.T) {
	var b strings.Builder
	if err := RuleTable(&b); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
	all := catalogue.All()
	if len(lines) != len(all)+2 {
		t.Fatalf("%d lines for %d rules", len(lines), len(all))
	}
	for i, r := range all {
		cells := strings.Split(strings.ReplaceAll(lines[i+2], `\|`, ""), "|")
		if len(cells) != 6 || !strings.Contains(cells[1], "`"+r.ID+"`") || !strings.Contains(cells[2], r.Severity.String()) || !strings.Contains(cells[3], r.Practice) {
			t.Errorf("row of %s is %q", r.ID, lines[i+2])
		}
	}
}

// TestRule: the explanation of every rule says all that its doc says, within its width.
func TestRule(t *testing.T) {
	for _, r := range catalogue.All() {
		var b strings.Builder
		if err := (Text{Out: &b, Width: 80}).Rule(r); err != nil {
			t.Fatal(err)
		}
		got := strings.Join(strings.Fields(b.String()), " ")
		for _, part := range append([]string{r.ID, r.Title, r.Doc.What, r.Doc.Why, r.Doc.Fix, r.Doc.Example, r.Practice}, r.Sources...) {
			if part = strings.Join(strings.Fields(part), " "); !strings.Contains(got, part) {
				t.Errorf("%s: %q is not in\n%s", r.ID, part, b.String())
			}
		}
		if r.CannotAccept != strings.Contains(got, "no reason excuses it") {
			t.Errorf("%s: wrong about accepting it", r.ID)
		}
	}
}

// TestRules: the list names every rule once, in a line of its own.
func TestRules(t *testing.T) {
	var b strings.Builder
	if err := (Text{Out: &b, Width: 80}).Rules(); err != nil {
		t.Fatal(err)
	}
	for _, r := range catalogue.All() {
		if n := strings.Count(b.String(), " "+r.ID+":"); n != 1 {
			t.Errorf("%s is listed %d times", r.ID, n)
		}
	}
}
