package rules_test

import (
	"context"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/reader"

	"gapwise/rules"
	"gapwise/rules/finding"
)

// checkText checks a layout given as text, which must be readable.
func checkText(t *testing.T, text string) []finding.Finding {
	t.Helper()
	open := func(string) ([]byte, error) { return []byte(text), nil }
	l, problems, err := reader.Read(context.Background(), open, "turned.yaml", rules.ReaderOptions())
	if err != nil || len(problems) > 0 {
		t.Fatalf("not read: %v %v\n%s", err, problems, text)
	}
	r, err := rules.Check(context.Background(), l, rules.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r.Findings
}

// lines is what must not change when a layout is turned into its like: which rule speaks
// how gravely on which line.
func lines(findings []finding.Finding) []string {
	var out []string
	for _, f := range findings {
		out = append(out, fmt.Sprintf("%d %s %s", f.Pos.Line, f.Severity, f.Rule))
	}
	slices.Sort(out)
	return out
}

// TestLikeLayouts turns every layout into others that are wired alike but for names, and
// expects the same findings on the same lines.
func TestLikeLayouts(t *testing.T) {
	for _, turn := range []struct {
		name string
		fits func(string) bool
		text func(string) string
	}{
		{"legs exchanged", func(s string) bool { return !strings.Contains(s, "frog-from: main") }, exchangeLegs},
		{"mirrored", func(s string) bool { return true }, mirror},
	} {
		t.Run(turn.name, func(t *testing.T) {
			turned := 0
			for _, file := range allLayouts(t) {
				text, err := os.ReadFile(file)
				if err != nil {
					t.Fatal(err)
				}
				if !turn.fits(string(text)) {
					continue
				}
				turned++
				want, got := lines(checkText(t, string(text))), lines(checkText(t, turn.text(string(text))))
				if !slices.Equal(got, want) {
					t.Errorf("%s: found %q, want %q", name(file), got, want)
				}
			}
			if turned < 80 {
				t.Errorf("only %d layouts turned", turned)
			}
		})
	}
}

var aRail = regexp.MustCompile(`\bA: (left|right)\b`)

// legKey matches what else names a leg.
var legKey = regexp.MustCompile(`\b(opens: |legs?: |rails: |[AB]-from)?([AB])\b(-from)?`)

// exchangeLegs hangs every feeder and every bridge the other way round, and gives every device
// and gap that names a leg the other one.
func exchangeLegs(text string) string {
	text = legKey.ReplaceAllStringFunc(text, func(s string) string {
		switch {
		case strings.HasSuffix(s, "-from"):
			return strings.NewReplacer("A", "B", "B", "A").Replace(s)
		case strings.Contains(s, ": "):
			return strings.NewReplacer(": A", ": B", ": B", ": A").Replace(s)
		default:
			return s
		}
	})
	return aRail.ReplaceAllStringFunc(text, func(s string) string { return "A: " + otherSide(s[3:]) })
}

var side = regexp.MustCompile(`\b(left|right)\b`)

// mirror exchanges left and right everywhere.
func mirror(text string) string { return side.ReplaceAllStringFunc(text, otherSide) }

func otherSide(s string) string {
	if s == "left" {
		return "right"
	}
	return "left"
}
