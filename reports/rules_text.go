package reports

import (
	"bytes"
	"fmt"
	"strings"

	"gapwise/rules/catalogue"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// Rules lists every rule: severity, name, title, and the practice that raises it. The
// error is the writer's.
func (t Text) Rules() error {
	var b bytes.Buffer
	for _, r := range catalogue.All() {
		word := usualSeverity(r).String()
		before := fmt.Sprintf("%*s", len("caution")-len(word), "")
		text := r.Title
		if r.Practice != "" {
			text += " (practice: " + r.Practice + ")"
		}
		t.marked(&b, before, word, " "+r.ID+":", text, severityColours[word])
	}
	b.WriteByte('\n')
	t.paragraph(&b, "", "A rule with a practice gives cautions where the layout lists that practice, elsewhere a note or nothing. gapwise explain RULE says more about one.")
	return t.flush(&b)
}

// Rule explains one rule. The error is the writer's.
func (t Text) Rule(r *rule.Rule) error {
	var b bytes.Buffer
	word := usualSeverity(r).String()
	t.marked(&b, "", word, " "+r.ID+":", r.Title, severityColours[word])
	for _, p := range [][2]string{{"what", r.Doc.What}, {"why", r.Doc.Why}, {"fix", r.Doc.Fix}, {"severity", severityText(r)}, {"accept", acceptText(r)}} {
		b.WriteByte('\n')
		t.part(&b, p[0], p[1])
	}
	b.WriteByte('\n')
	for i, s := range r.Sources {
		t.part(&b, once("source", i), s)
	}
	heading(&b, "  an example that raises it:\n")
	for line := range strings.Lines(r.Doc.Example) {
		b.WriteString("    " + strings.TrimRight(line, "\n") + "\n")
	}
	return t.flush(&b)
}

// usualSeverity is that of a rule in a layout that lists no practice; a rule that speaks only
// where it is listed keeps its own.
func usualSeverity(r *rule.Rule) finding.Severity {
	if r.Practice != "" && !r.OnlyListed {
		return finding.Note
	}
	return r.Severity
}

func severityText(r *rule.Rule) string {
	switch {
	case r.OnlyListed:
		return "caution, and only where the layout lists it: practice: [" + r.Practice + "]"
	case r.Practice != "":
		return "note, or caution where the layout lists it: practice: [" + r.Practice + "]"
	case r.Severity == finding.Fault:
		return "fault: do not switch on"
	case r.Severity == finding.Caution:
		return "caution: trains may misbehave"
	default:
		return "note: worth knowing"
	}
}

func acceptText(r *rule.Rule) string {
	if r.CannotAccept {
		return "no: no reason excuses it"
	}
	return "a layout may accept it at a place, with a reason: accept: [{finding: " + r.ID + ", at: PLACE, because: REASON}]"
}
