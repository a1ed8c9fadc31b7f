package reports

import (
	"bytes"
	"fmt"

	"gapwise/netlist/quantity"
)

// DetectorMap writes which detectors see a train, track by track; unseen leaves out what one detector alone sees in every setting. The error is
// the writer's.
func (t Text) DetectorMap(v *DetectorsView, unseen bool) error {
	var b bytes.Buffer
	t.paragraph(&b, "", fmt.Sprintf("%s: %s. Of its track one detector alone sees %s, several see %s, one sees a part of the current on %s, none sees %s.",
		v.Name, counted(v.Detectors, "detector", "detectors"), quantity.FormatLength(v.One), quantity.FormatLength(v.Several), quantity.FormatLength(v.Part), quantity.FormatLength(v.None)))
	t.paragraph(&b, "", "A detector sees what draws current: engines, lit cars, wheelsets with resistors. Other cars it does not see, wherever they stand.")
	for _, part := range []struct {
		title string
		list  []Watched
	}{{"Track", v.Track}, {"Track work, route by route", v.Work}} {
		var rows [][][]string
		for i := range part.list {
			w := &part.list[i]
			if unseen && len(w.Always) == 1 && !w.Always[0].Part && len(w.When) == 0 && !w.Unfed {
				continue
			}
			block := "-"
			if w.Block != "" {
				if block = w.Block; w.Meant != "" {
					block += ", meant for " + w.Meant
				}
			}
			rows = append(rows, [][]string{{w.Text}, {block}, {w.seenBy()}, w.whenText()})
		}
		if len(rows) == 0 {
			continue
		}
		heading(&b, part.title)
		if err := writeTable(&b, t.Width, []string{"where", "block as meant", "seen by", "in some settings"}, rows); err != nil {
			return err
		}
	}
	if !v.Complete {
		b.WriteByte('\n')
		t.paragraph(&b, "", "Gave up: the search over settings reached its bound on work, and what some of them add is not listed.")
	}
	b.WriteByte('\n')
	t.paragraph(&b, "", safety)
	return t.flush(&b)
}
