package reports

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"unicode"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"
	"gapwise/netlist/source"

	"gapwise/rules"
	"gapwise/rules/audit"
)

// auditOf compares two layouts of the project by their paths from the project's top.
func auditOf(t *testing.T, before, after string) *AuditView {
	t.Helper()
	ctx := context.Background()
	files := [2]string{before, after}
	var ls [2]*layout.Layout
	for i, path := range files {
		open := func(name string) ([]byte, error) { return os.ReadFile(filepath.Join("..", name)) }
		l, ps, err := reader.Read(ctx, open, path, rules.ReaderOptions())
		if err != nil || len(ps) > 0 {
			t.Fatal(path, err, ps)
		}
		ls[i] = l
	}
	a, err := audit.Run(ctx, ls[0], ls[1])
	if err != nil {
		t.Fatal(err)
	}
	return NewAuditView(files, a)
}

const harbour = "testdata/tin-harbour/"

// TestAuditGolden compares the whole text of audits, and that no line is too long.
func TestAuditGolden(t *testing.T) {
	for _, tt := range []struct {
		golden, before, after string
		width                 int
	}{
		{"audit-upper.txt", "sound", "upper", 80},
		{"audit-mended-60.txt", "as-found", "sound", 60},
		{"audit-same.txt", "sound", "sound", 80},
	} {
		t.Run(tt.golden, func(t *testing.T) {
			var b strings.Builder
			v := auditOf(t, harbour+tt.before+".yaml", harbour+tt.after+".yaml")
			if err := (Text{Out: &b, Width: tt.width}).Audit(v); err != nil {
				t.Fatal(err)
			}
			golden(t, "testdata/"+tt.golden, b.String())
			for line := range strings.Lines(b.String()) {
				if cells(strings.TrimSuffix(line, "\n")) > tt.width && !strings.Contains(line, ".yaml:") {
					t.Errorf("too wide: %s", line)
				}
			}
		})
	}
}

// auditBreaches holds the JSON of an audit against the published schema.
func auditBreaches(t *testing.T, text string) []string {
	t.Helper()
	raw, err := os.ReadFile("audit.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	var s schema
	if err := json.Unmarshal(raw, &s); err != nil {
		t.Fatal(err)
	}
	var d map[string]any
	if err := json.Unmarshal([]byte(text), &d); err != nil {
		t.Fatal(err)
	}
	return s.breaches(&s, "document", d)
}

// TestAuditSchema: audits both ways, and of files with mistakes, are what the schema says, which is closed.
func TestAuditSchema(t *testing.T) {
	for _, p := range [][2]string{{"sound", "upper"}, {"upper", "sound"}, {"as-found", "upper"}} {
		var b strings.Builder
		if err := WriteAuditJSON(&b, auditOf(t, harbour+p[0]+".yaml", harbour+p[1]+".yaml")); err != nil {
			t.Fatal(err)
		}
		for _, x := range auditBreaches(t, b.String()) {
			t.Errorf("%v: %s", p, x)
		}
	}
	var b strings.Builder
	if err := WriteAuditProblems(&b, [2]*View{ViewOfUnread("none.yaml", "cannot read none.yaml"), ViewOfProblems("b.yaml", &layout.Layout{}, []source.Problem{{Message: "wrong"}})}); err != nil {
		t.Fatal(err)
	}
	for _, x := range auditBreaches(t, b.String()) {
		t.Error(x)
	}
	if len(auditBreaches(t, strings.Replace(b.String(), `"version": 1`, `"version": 2`, 1))) == 0 {
		t.Error("another version is not seen")
	}
}

// TestAuditHostile: whatever a layout says, a terminal gets letters, signs and ends of lines, and a document no more.
func TestAuditHostile(t *testing.T) {
	v := &AuditView{}
	fill(reflect.ValueOf(v).Elem(), hostile)
	f := Finding{}
	fill(reflect.ValueOf(&f).Elem(), hostile)
	for i, o := range []string{"worse", "gone"} {
		v.Findings[i].Outcome, v.Findings[i].Before, v.Findings[i].After = o, &f, &f
		v.NotChecked[i].Outcome = "new"
	}
	v.Changes[0].What, v.Changes[1].What = "added", "changed"
	state := &AuditState{DropAt: hostile, ShortAt: hostile}
	v.Districts[0].After, v.Districts[0].Changed = state, true
	v.Sections[0].After, v.Sections[0].Changed = &AuditSectionState{}, true
	v.Blocks[0].Changed = true
	v.Measure = &AuditMeasure{What: hostile, How: []string{hostile}}
	v.Verdict = Faults
	var b strings.Builder
	if err := (Text{Out: &b, Width: 80}).Audit(v); err != nil {
		t.Fatal(err)
	}
	seen(t, b.String())
	if n := strings.Count(unbroken(b.String()), `\x1b]0;owned\x07`); n < 12 {
		t.Errorf("the names are shown %d times", n)
	}
	b.Reset()
	if err := WriteAuditJSON(&b, v); err != nil {
		t.Fatal(err)
	}
	for _, r := range b.String() {
		if r != '\n' && !unicode.IsPrint(r) {
			t.Fatalf("%U is in the document", r)
		}
	}
}

// TestAuditHeadlines: the first line tells what is new or worse, and faults that stood before.
func TestAuditHeadlines(t *testing.T) {
	for _, c := range []struct {
		v    AuditView
		want string
	}{
		{AuditView{Verdict: Clean}, "nothing new or worse in what was checked|"},
		{AuditView{Verdict: Clean, Counts: AuditCounts{Notes: 1, Gone: 1, Better: 2}}, "nothing new or worse in what was checked|(1 note, 3 better or gone)"},
		{AuditView{Verdict: Clean, Counts: AuditCounts{FaultsStanding: 1}}, "nothing new or worse in what was checked|1 fault of before still there: do not switch on"},
		{AuditView{Verdict: Faults, Counts: AuditCounts{Faults: 2, Cautions: 1}}, "2 faults new or worse: do not switch on|(1 caution)"},
		{AuditView{Verdict: Cautions, Counts: AuditCounts{Cautions: 1, FaultsStanding: 2}}, "1 caution new or worse|2 faults of before still there: do not switch on"},
		{AuditView{Verdict: Incomplete}, "not complete: a check gave up; no fault new or worse in what was checked|"},
	} {
		if loud, rest := c.v.headline(); loud+"|"+rest != c.want {
			t.Errorf("got  %s|%s\nwant %s", loud, rest, c.want)
		}
	}
}

// TestAuditAlike: many entries with one and the same change take one line; few take one each, and so does what is different.
func TestAuditAlike(t *testing.T) {
	change := func(name, to string) AuditChange {
		return AuditChange{What: "changed", Kind: "feeder", Before: []string{name}, After: []string{name}, Keys: []AuditKey{{"wire", "20 AWG", to}}}
	}
	v := &AuditView{Changes: []AuditChange{change("S1 @ 1 ft", "18 AWG"), change("S2 @ 1 ft", "18 AWG")}}
	for i := range 16 {
		v.Changes = append(v.Changes, change(fmt.Sprintf("M%d @ 1 ft", i+1), "24 AWG"))
	}
	for _, name := range []string{"a", "b", "c"} {
		bus := change(name, "12 AWG")
		bus.Kind = "bus"
		v.Changes = append(v.Changes, bus)
	}
	renamed := change("d", "12 AWG")
	renamed.Kind, renamed.Renamed, renamed.After = "bus", true, []string{"e"}
	v.Changes = append(v.Changes, renamed)
	var b strings.Builder
	if err := (Text{Out: &b, Width: 200}).Audit(v); err != nil {
		t.Fatal(err)
	}
	want := `
  changed feeder S1 @ 1 ft: wire 20 AWG -> 18 AWG
  changed feeder S2 @ 1 ft: wire 20 AWG -> 18 AWG
  changed feeder, 16 of them: wire 20 AWG -> 24 AWG: M1 @ 1 ft, M2 @ 1 ft, M3 @ 1 ft, M4 @ 1 ft and 12 more
  changed bus, 3 of them: wire 20 AWG -> 12 AWG: a, b, c
  changed bus d, now e: wire 20 AWG -> 12 AWG
`
	if _, text, _ := strings.Cut(b.String(), "wiring"); !strings.HasPrefix(text, want) {
		t.Errorf("got%s\nwant%s", text, want)
	}
	b.Reset()
	if err := WriteAuditJSON(&b, v); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(b.String(), `"24 AWG"`); n != 16 {
		t.Errorf("JSON keeps %d", n)
	}
}

// TestAuditUnknown: what is not known is told after the one thing to find out first, up to a bound, and files that seem exchanged
// are asked after.
func TestAuditUnknown(t *testing.T) {
	v := &AuditView{Emptied: true}
	for i := range 7 {
		v.Unknown = append(v.Unknown, AuditUnknown{What: fmt.Sprintf("the length of track t%d", i), How: []string{"with a tape"}})
	}
	for head, m := range map[string]*AuditMeasure{"\nNot known\n": nil, "\nNot known either\n": {What: "the wire of bus main"}} {
		v.Measure = m
		var b strings.Builder
		if err := (Text{Out: &b, Width: 80}).Audit(v); err != nil {
			t.Fatal(err)
		}
		for _, want := range []string{head, "track t4", "and 2 more lengths", exchanged} {
			if !strings.Contains(b.String(), want) {
				t.Errorf("no %q in\n%s", want, b.String())
			}
		}
		if strings.Contains(b.String(), "track t5") {
			t.Error("goes on after the bound")
		}
	}
}
