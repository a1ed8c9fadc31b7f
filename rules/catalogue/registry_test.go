package catalogue_test

import (
	"fmt"
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"gapwise/rules/catalogue"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var kebab = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)+$`)

// wrongRules says what the rules of a catalogue lack, each mistake in one line. layouts
// holds a folder for each rule.
func wrongRules(rules []*rule.Rule, layouts fs.FS) []string {
	var out []string
	ids, practices := map[string]bool{}, map[string]bool{}
	for i, r := range rules {
		bad := func(format string, args ...any) {
			name := r.ID
			if name == "" {
				name = fmt.Sprintf("rule %d", i)
			}
			out = append(out, name+": "+fmt.Sprintf(format, args...))
		}
		if !kebab.MatchString(r.ID) {
			bad("its id is not words-with-hyphens")
		}
		if ids[r.ID] {
			bad("its id is taken")
		}
		ids[r.ID] = true
		if r.Practice != "" && practices[r.Practice] {
			bad("its practice %s is taken", r.Practice)
		}
		practices[r.Practice] = true
		if r.Practice != "" && !kebab.MatchString(r.Practice) {
			bad("its practice is not words-with-hyphens")
		}
		for _, part := range []struct{ name, text string }{
			{"title", r.Title}, {"doc.what", r.Doc.What}, {"doc.why", r.Doc.Why}, {"doc.fix", r.Doc.Fix}, {"doc.example", r.Doc.Example},
		} {
			if strings.TrimSpace(part.text) == "" {
				bad("no %s", part.name)
			}
		}
		if len(r.Sources) == 0 || slices.Contains(r.Sources, "") {
			bad("no source")
		}
		if r.OnlyListed && r.Practice == "" {
			bad("only listed, but it has no practice")
		}
		if r.Practice != "" && (r.Severity > finding.Caution || !slices.Contains(r.Sources, rule.CommonPractice)) {
			bad("a rule of thumb is at most a caution, and its source is common practice")
		}
		if r.Check == nil {
			bad("no check")
		}
		for _, word := range []string{"raises", "near-miss"} {
			if found, err := fs.Glob(layouts, path.Join(r.ID, word+"-*.yaml")); err != nil || len(found) == 0 {
				bad("no layout %s-*.yaml", word)
			}
		}
	}
	return out
}

func TestCatalogueIsWhole(t *testing.T) {
	for _, text := range wrongRules(catalogue.All(), os.DirFS("testdata")) {
		t.Error(text)
	}
}

func TestByID(t *testing.T) {
	for _, r := range catalogue.All() {
		if catalogue.ByID(r.ID) != r {
			t.Errorf("%s is not found by its id", r.ID)
		}
	}
	if catalogue.ByID("no-such-rule") != nil {
		t.Error("a rule that does not exist is found")
	}
}

// TestWrongRules breaks a whole rule in one way at a time.
func TestWrongRules(t *testing.T) {
	whole := func() *rule.Rule {
		return &rule.Rule{
			ID: "rail-bent", Title: "a rail is bent", Severity: finding.Caution,
			Doc:     rule.Doc{What: "A rail is bent.", Why: "Trains fall off.", Fix: "Straighten it.", Example: "tracks:"},
			Sources: []string{rule.CommonPractice}, Practice: "rails-straight", Check: func(*rule.Case) {},
		}
	}
	layouts := fstest.MapFS{
		"rail-bent/raises-one.yaml":     {},
		"rail-bent/near-miss-one.yaml":  {},
		"rail-long/raises-one.yaml":     {},
		"rail-long/near-miss-one.yaml":  {},
		"rail-lone/raises-one.yaml":     {},
		"rail-quiet/near-miss-one.yaml": {},
	}
	if wrong := wrongRules([]*rule.Rule{whole()}, layouts); len(wrong) > 0 {
		t.Fatalf("a whole rule is refused: %q", wrong)
	}
	for _, c := range []struct {
		name   string
		damage func(*rule.Rule)
		want   string
	}{
		{"no id", func(r *rule.Rule) { r.ID = "" }, "rule 0: its id"},
		{"id in capitals", func(r *rule.Rule) { r.ID = "Rail-Bent" }, "its id is not words-with-hyphens"},
		{"id of one word", func(r *rule.Rule) { r.ID = "rail" }, "its id is not words-with-hyphens"},
		{"id with a blank", func(r *rule.Rule) { r.ID = "rail bent" }, "its id is not words-with-hyphens"},
		{"id with a hyphen at its end", func(r *rule.Rule) { r.ID = "rail-bent-" }, "its id is not words-with-hyphens"},
		{"no title", func(r *rule.Rule) { r.Title = "" }, "no title"},
		{"no what", func(r *rule.Rule) { r.Doc.What = " " }, "no doc.what"},
		{"no why", func(r *rule.Rule) { r.Doc.Why = "" }, "no doc.why"},
		{"no fix", func(r *rule.Rule) { r.Doc.Fix = "" }, "no doc.fix"},
		{"no example", func(r *rule.Rule) { r.Doc.Example = "\n" }, "no doc.example"},
		{"no source", func(r *rule.Rule) { r.Sources = nil }, "no source"},
		{"an empty source", func(r *rule.Rule) { r.Sources = []string{rule.CommonPractice, ""} }, "no source"},
		{"a grave rule of thumb", func(r *rule.Rule) { r.Severity = finding.Fault }, "a rule of thumb is at most a caution"},
		{"a rule of thumb with another source", func(r *rule.Rule) { r.Sources = []string{"a standard"} }, "a rule of thumb is at most a caution"},
		{"practice in capitals", func(r *rule.Rule) { r.Practice = "Straight" }, "its practice is not words-with-hyphens"},
		{"only listed without a practice", func(r *rule.Rule) { r.Practice, r.OnlyListed = "", true }, "only listed, but it has no practice"},
		{"no check", func(r *rule.Rule) { r.Check = nil }, "no check"},
		{"no layout that raises it", func(r *rule.Rule) { r.ID = "rail-quiet" }, "no layout raises-*.yaml"},
		{"no near miss", func(r *rule.Rule) { r.ID = "rail-lone" }, "no layout near-miss-*.yaml"},
	} {
		r := whole()
		c.damage(r)
		if wrong := wrongRules([]*rule.Rule{r}, layouts); len(wrong) == 0 || !strings.Contains(strings.Join(wrong, "\n"), c.want) {
			t.Errorf("%s: said %q, want %q", c.name, wrong, c.want)
		}
	}
	twice := []*rule.Rule{whole(), whole()}
	if wrong := wrongRules(twice, layouts); !slices.Contains(wrong, "rail-bent: its id is taken") || !slices.Contains(wrong, "rail-bent: its practice rails-straight is taken") {
		t.Errorf("two rules alike: said %q", wrong)
	}
	other := whole()
	other.ID = "rail-long"
	if wrong := wrongRules([]*rule.Rule{whole(), other}, layouts); !slices.Equal(wrong, []string{"rail-long: its practice rails-straight is taken"}) {
		t.Errorf("two rules with one practice: said %q", wrong)
	}
}
