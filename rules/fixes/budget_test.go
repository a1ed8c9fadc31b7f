package fixes

import (
	"strings"
	"testing"

	"gapwise/netlist/reader"

	"gapwise/rules"
	"gapwise/rules/finding"
)

const crossed = `gapwise: 1
layout: crossed
tracks:
  M: {from: end, to: end, length: 9 ft}
supplies: {brick: {volts: 16 V, rating: 5 A, listed: yes}}
boosters: {main: {supply: brick, volts: 15 V, inside: 0.1 Ω, rating: 5 A, trips-at: 5 A, trip-time: 40 ms}}
buses: {long: {from: booster main, wire: 12 AWG, length: 10 ft, laid: twisted}}
feeders:
  M: {wire: 20 AWG, length: 6 in, A: left, 1 ft: long @ 1 ft, 4 ft: {from: long @ 4 ft, A: right}, 8 ft: long @ 8 ft}
`

func checkedText(t *testing.T, text string) *rules.Report {
	t.Helper()
	open := func(string) ([]byte, error) { return []byte(text), nil }
	l, problems, err := reader.Read(t.Context(), open, "layout.yaml", rules.ReaderOptions())
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range problems {
		t.Fatalf("%d: %s", p.Pos.Line, p.Message)
	}
	r, err := rules.Check(t.Context(), l, rules.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// only is a report whose one finding of a rule has these mends, and no other finding has any.
func only(t *testing.T, r *rules.Report, rule string, mends ...finding.Mend) *finding.Finding {
	t.Helper()
	var out *finding.Finding
	for i := range r.Findings {
		r.Findings[i].Mends = nil
		if r.Findings[i].Rule == rule {
			out = &r.Findings[i]
		}
	}
	if out == nil {
		t.Fatalf("no %s in %v", rule, r.Findings)
	}
	out.Mends = mends
	return out
}

func swap(to string) finding.Mend {
	return finding.Mend{Text: "swap", Changes: []finding.Change{{Op: finding.OpSetFeeder, Ref: 1, Keys: []finding.Key{{Name: "A", Value: to}}}}}
}

// TestAMendHasToMend tries changes that do not mend, that cannot be written, that do harm elsewhere, and at last one that mends.
func TestAMendHasToMend(t *testing.T) {
	nothing := finding.Mend{Text: "paint it", Changes: []finding.Change{{Op: finding.OpSet, Section: "buses", Name: "long", Keys: []finding.Key{{Name: "label", Value: "blue"}}}}}
	nonsense := finding.Mend{Text: "no such bus", Changes: []finding.Change{{Op: finding.OpSet, Section: "buses", Name: "none", Keys: []finding.Key{{Name: "label", Value: "blue"}}}}}
	unread := finding.Mend{Text: "not read", Changes: []finding.Change{{Op: finding.OpSetFeeder, Ref: 1, Keys: []finding.Key{{Name: "A", Value: "sideways"}}}}}
	harm := finding.Mend{Text: "leave rail dead", Changes: []finding.Change{
		{Op: finding.OpPlace, Section: "gaps", Piece: "M", Where: "2 ft", Value: "{rails: both}"},
		{Op: finding.OpPlace, Section: "gaps", Piece: "M", Where: "3 ft", Value: "{rails: both}"},
		swap("left").Changes[0],
	}}
	hushed := finding.Mend{Text: "accept it", Changes: []finding.Change{{Op: finding.OpAddItem, Section: "accept", Value: "{finding: feeder-crossed, at: M @ 4 ft, because: hush}"}}}
	for _, tt := range []struct {
		name  string
		mends []finding.Mend
		want  string
	}{
		{"none mends", []finding.Mend{nothing, nonsense, unread, harm, hushed}, ""},
		{"the last mends", []finding.Mend{nothing, nonsense, unread, harm, hushed, swap("left")}, "swap"},
		{"the first that mends", []finding.Mend{swap("left"), nothing}, "swap"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := checkedText(t, crossed)
			f := only(t, r, "feeder-crossed", tt.mends...)
			if all, err := Each(t.Context(), r); err != nil || !all {
				t.Fatal(all, err)
			}
			if f.FixChecked != (tt.want != "") || f.FixChecked && f.Fix != tt.want {
				t.Errorf("fix %q, checked %t", f.Fix, f.FixChecked)
			}
			if !f.FixChecked && !strings.Contains(f.Fix, "no single change") {
				t.Errorf("does not say that changes failed: %q", f.Fix)
			}
			p, err := Compose(t.Context(), r)
			if err != nil {
				t.Fatal(err)
			}
			if (len(p.Left) == 0) != (tt.want != "") || len(p.Steps) != len(tt.want)/4 {
				t.Errorf("%d steps, %d left", len(p.Steps), len(p.Left))
			}
		})
	}
}

// TestABoundIsTold gives no work at all: nothing is tried, and nothing passes for tried.
func TestABoundIsTold(t *testing.T) {
	r := checkedText(t, crossed)
	f := only(t, r, "feeder-crossed", swap("left"))
	if all, err := (&budget{}).each(t.Context(), r, r); err != nil || all || f.FixChecked {
		t.Error(all, err, f.FixChecked)
	}
	p, err := (&budget{}).compose(t.Context(), r)
	if err != nil || p.All || len(p.Left) != 1 || !strings.Contains(p.Left[0].Why, "bound") {
		t.Errorf("%v %+v", err, p)
	}
}
