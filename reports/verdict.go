package reports

import (
	"fmt"
	"slices"
	"strings"
)

// Verdict is the outcome of a check in one word.
type Verdict string

// The verdicts, from the best to the worst.
const (
	Clean      Verdict = "clean"       // no fault and no caution in what was checked
	Cautions   Verdict = "cautions"    // no fault in what was checked
	Incomplete Verdict = "incomplete"  // no fault so far, and a check gave up
	Faults     Verdict = "faults"      // do not switch on
	CannotRead Verdict = "cannot-read" // the layout was not understood, so nothing was checked
)

var verdicts = []Verdict{Clean, Cautions, Incomplete, Faults, CannotRead}

// Worst is the worst of the verdicts of some views; Clean for none.
func Worst(views []*View) Verdict {
	worst := 0
	for _, v := range views {
		worst = max(worst, slices.Index(verdicts, v.Verdict))
	}
	return verdicts[worst]
}

// headline is the verdict in one sentence: loud is what a colour may mark.
func (v *View) headline() (loud, rest string) {
	var more []string
	cautions := v.Counts.Cautions
	switch v.Verdict {
	case CannotRead:
		if len(v.problems) == 0 {
			return "not read:", "nothing was checked"
		}
		return counted(v.Counts.Problems, "mistake", "mistakes") + ":", "the layout was not understood, so nothing was checked"
	case Faults:
		loud = counted(v.Counts.Faults, "fault", "faults") + ": do not switch on"
	case Incomplete:
		loud, more = "not complete:", []string{"a check gave up; no faults found in what was checked"}
	case Cautions:
		loud, more, cautions = counted(cautions, "caution", "cautions")+":", []string{"trains may misbehave; no faults found in what was checked"}, 0
	default:
		loud, more = "no faults and no cautions found", []string{"in what was checked"}
	}
	if b := besides(cautions, v.Counts); b != "" {
		more = append(more, b)
	}
	if v.Rules[0] < v.Rules[1] {
		more = append(more, fmt.Sprintf("[%d of %d rules ran]", v.Rules[0], v.Rules[1]))
	}
	return loud, strings.Join(more, " ")
}

// besides counts what a headline leaves out: "(2 cautions, 1 note, 1 accepted)".
func besides(cautions int, c Counts) string {
	var parts []string
	if cautions > 0 {
		parts = append(parts, counted(cautions, "caution", "cautions"))
	}
	if c.Notes > 0 {
		parts = append(parts, counted(c.Notes, "note", "notes"))
	}
	if c.Accepted > 0 {
		parts = append(parts, fmt.Sprintf("%d accepted", c.Accepted))
	}
	if len(parts) == 0 {
		return ""
	}
	return "(" + strings.Join(parts, ", ") + ")"
}
