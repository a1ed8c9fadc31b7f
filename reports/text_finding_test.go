package reports

import (
	"bytes"
	"testing"
)

// TestFindingText: every part of a finding has its place in the text.
func TestFindingText(t *testing.T) {
	f := Finding{
		Rule: "gap-polarity-mismatch", Severity: "fault", Spot: Spot{"yard.yaml", 12, 3},
		Message: "wheels that bridge M1 @ 4 ft (1.22 m) join leg A to leg B, whichever way they come",
		Why:     "every wheel shorts the booster", Settings: []string{"T1 curved", "T2 curved"}, Train: "a metal wheel on the gap",
		Assumed: "the gap comes before the feeder",
		Numbers: []Number{
			{Name: "section", Text: "3 ft (914 mm)", Limit: "at least 4 ft (1.22 m)", Source: "yours"},
			{Name: "train", Text: "4 ft (1.22 m)", Source: "common practice, no source"},
			{Name: "gap", Text: "1 mm", Limit: "at most 2 mm"},
			{Name: "wheels", Text: "8"},
		},
		Witness: []Step{{Text: "booster front, leg A"}, {Text: "bus main, leg A, 0 in to 4 ft (0 mm to 1.22 m), and a long way round to the feeder"}},
		Also:    []string{"M2 @ 1 ft (305 mm)", "M3 @ 1 ft (305 mm)"}, Candidates: []string{"the booster is out of phase", "two ends are exchanged"},
		Fix: "swap the wires", FixChecked: true,
	}
	const want = `yard.yaml:12:3: fault gap-polarity-mismatch: wheels that bridge
    M1 @ 4 ft (1.22 m) join leg A to leg B, whichever way they
    come
  why:      every wheel shorts the booster
  setting:  T1 curved
  setting:  T2 curved
  train:    a metal wheel on the gap
  assumed:  the gap comes before the feeder
  numbers:  section: 3 ft (914 mm); limit at least 4 ft (1.22 m)
            (yours)
            train: 4 ft (1.22 m) (common practice, no source)
            gap: 1 mm; limit at most 2 mm
            wheels: 8
  path:      1  booster front, leg A
             2  bus main, leg A, 0 in to 4 ft (0 mm to 1.22 m),
                and a long way round to the feeder
  also:     M2 @ 1 ft (305 mm)
            M3 @ 1 ft (305 mm)
  or:       the booster is out of phase
            two ends are exchanged
  fix:      swap the wires (re-checked)
`
	var b bytes.Buffer
	Text{Width: 64}.finding(&b, &f)
	if b.String() != want {
		t.Errorf("got\n%swant\n%s", b.String(), want)
	}
}
