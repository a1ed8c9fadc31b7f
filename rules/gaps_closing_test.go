package rules_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"

	"gapwise/districts"
	"gapwise/rules"
	"gapwise/rules/finding"
)

// closed are the rules that may speak of a gap's metal put back, by what the facts say meets;
// where they say nothing of note, no rule may.
var closed = map[districts.GapMeeting][]string{
	districts.MeetsUnseen:   {"detector-bypassed", "rail-shared-by-detectors", "detector-on-wrong-leg"},
	districts.MeetsDistrict: {"gap-missing-between-districts", "gap-one-rail"},
	districts.MeetsBooster:  {"gap-missing-between-districts", "gap-one-rail"},
	districts.MeetsReverser: {"loop-ungapped", "loop-gap-missing-end", "loop-gap-one-rail", "gap-missing-between-districts"},
	districts.MeetsShort:    {"leg-to-leg-short", "frog-shorts-when-set", "leg-back-fed", "loop-gap-missing-end", "feeder-crossed"},
}

// TestClosingIsRemoval takes every gap of the demo out of its text, one at a time, and holds
// what a check then finds against what the facts say of its closing. Blocks and districts
// as meant are left out, so that the wiring alone decides.
func TestClosingIsRemoval(t *testing.T) {
	for _, file := range []string{"sound.yaml", "upper-sound.yaml"} {
		text := withoutMeant(t, filepath.Join(tinHarbour, file))
		l := readLayout(t, text)
		c, err := rules.Trace(context.Background(), l)
		if err != nil {
			t.Fatal(err)
		}
		before := found(t, text)
		seen := map[districts.GapMeeting]bool{}
		facts, faulty := c.T.GapFacts()
		if faulty {
			t.Errorf("%s: something is wrong", file)
		}
		for _, f := range facts {
			gap := &l.Gaps[f.Gap]
			meets := districts.MeetsItself
			if len(f.Joins) > 0 {
				meets = f.Joins[0].Meets
			}
			seen[meets] = true
			var news []string
			for rule := range found(t, removeGap(t, text, gap)) {
				if !before[rule] {
					news = append(news, rule)
				}
			}
			slices.Sort(news)
			told := slices.ContainsFunc(news, func(r string) bool { return slices.Contains(closed[meets], r) })
			if told != (closed[meets] != nil) || (closed[meets] == nil && len(news) > 0) {
				t.Errorf("%s: %s meets %d, and without it a check finds %q", file, gap.Place.Text, meets, news)
			}
		}
		for _, m := range []districts.GapMeeting{districts.MeetsItself, districts.MeetsUnseen, districts.MeetsDistrict, districts.MeetsReverser} {
			if !seen[m] {
				t.Errorf("%s: no gap meets %d", file, m)
			}
		}
	}
}

// withoutMeant is a layout's text without what is meant and practised, and with no reference to
// it.
func withoutMeant(t *testing.T, file string) string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	head, _, ok := strings.Cut(string(text), "\nblocks:\n")
	if !ok {
		t.Fatalf("%s has no blocks", file)
	}
	return regexp.MustCompile(`, under: (block \w+|\{[^}]*block[^}]*\}|\[[^\]]*block[^\]]*\])`).ReplaceAllString(head, "") + "\n"
}

func readLayout(t *testing.T, text string) *layout.Layout {
	t.Helper()
	open := func(string) ([]byte, error) { return []byte(text), nil }
	l, problems, err := reader.Read(context.Background(), open, "layout.yaml", rules.ReaderOptions())
	if err != nil {
		t.Fatal(err)
	}
	if len(problems) > 0 {
		var b strings.Builder
		if err := l.Files.Render(&b, problems); err != nil {
			t.Fatal(err)
		}
		t.Fatal(b.String())
	}
	return l
}

// found are the rules that find more than a note in a layout.
func found(t *testing.T, text string) map[string]bool {
	t.Helper()
	r, err := rules.Check(context.Background(), readLayout(t, text), rules.Options{})
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]bool{}
	for _, f := range r.Findings {
		if f.Severity > finding.Note {
			out[f.Rule] = true
		}
	}
	return out
}

// removeGap takes one gap out of the list it stands in, and the list with its last.
func removeGap(t *testing.T, text string, gap *layout.Gap) string {
	t.Helper()
	lines := strings.Split(text, "\n")
	n := int(gap.Place.Pos.Line) - 1
	line, comment, _ := strings.Cut(lines[n], " #")
	key, list, ok := strings.Cut(line, "[")
	if !ok || !strings.HasSuffix(strings.TrimSpace(list), "]") {
		t.Fatalf("line %d is no list of gaps: %s", n+1, lines[n])
	}
	items := regexp.MustCompile(`\s*\{[^}]*\}|[^,\]]+`).FindAllStringIndex(list, -1)
	var kept []string
	for _, at := range items {
		item := list[at[0]:at[1]]
		from := len([]rune(key)) + 1 + at[0] + 1
		if col := int(gap.Place.Pos.Col); strings.TrimSpace(item) != "" && (col < from || col >= from+len([]rune(item))) {
			kept = append(kept, strings.TrimSpace(item))
		}
	}
	switch {
	case len(kept) == 0:
		lines[n] = "#" + comment
	default:
		lines[n] = fmt.Sprintf("%s[%s]", key, strings.Join(kept, ", "))
	}
	return strings.Join(lines, "\n")
}
