package reports

import (
	"bytes"
	"fmt"

	"gapwise/netlist/source"
)

// findings writes what stands, then what the owner accepted, then how much is not shown.
func (t Text) findings(b *bytes.Buffer, v *View) {
	accepted := 0
	for i := range v.Findings {
		if v.Findings[i].Accepted {
			accepted++
			continue
		}
		b.WriteByte('\n')
		t.finding(b, &v.Findings[i])
	}
	if accepted > 0 {
		heading(b, "Accepted by the layout")
	}
	for i := range v.Findings {
		if f := &v.Findings[i]; f.Accepted {
			t.message(b, f)
			t.part(b, "because", f.Because)
		}
	}
	if v.Hidden > 0 {
		b.WriteByte('\n')
		t.paragraph(b, "", fmt.Sprintf("%s below %s not shown", counted(v.Hidden, "finding", "findings"), v.Least))
	}
}

// finding writes one finding with all its parts.
func (t Text) finding(b *bytes.Buffer, f *Finding) {
	t.message(b, f)
	t.part(b, "why", f.Why)
	for _, s := range f.Settings {
		t.part(b, "setting", s)
	}
	t.part(b, "train", f.Train)
	t.part(b, "assumed", f.Assumed)
	for i, n := range f.Numbers {
		t.part(b, once("numbers", i), numberText(&n))
	}
	for i, s := range f.Witness {
		t.step(b, once("path", i), i+1, s.Text)
	}
	for i, s := range f.Also {
		t.part(b, once("also", i), s)
	}
	for i, s := range f.Candidates {
		t.part(b, once("or", i), s)
	}
	switch {
	case f.Fix == "":
	case f.FixChecked:
		t.part(b, "fix", f.Fix+" (re-checked)")
		for i, s := range f.FixAlso {
			t.part(b, once("mends", i), s)
		}
	default:
		t.part(b, "fix", f.Fix+" (advice)")
	}
}

// message writes a finding's first line: file, line and column, severity, rule, message.
func (t Text) message(b *bytes.Buffer, f *Finding) {
	t.marked(b, spotText(&f.Spot)+": ", f.Severity, " "+f.Rule+":", f.Message, severityColours[f.Severity])
}

// labelWidth is where the parts of a finding begin.
const labelWidth = 12

// part writes one part of a finding behind its label, nothing for an empty one.
func (t Text) part(b *bytes.Buffer, label, text string) {
	if text != "" {
		t.paragraph(b, labelled(label), text)
	}
}

// step writes one step of a path with its number.
func (t Text) step(b *bytes.Buffer, label string, number int, text string) {
	t.paragraph(b, labelled(label)+fmt.Sprintf("%2d  ", number), text)
}

func labelled(label string) string {
	if label != "" {
		label += ":"
	}
	return fmt.Sprintf("  %-*s", labelWidth-2, label)
}

// once is the label of the first of several parts of a kind; the others have none.
func once(label string, i int) string {
	if i > 0 {
		return ""
	}
	return label
}

func numberText(n *Number) string {
	text := n.Name + ": " + n.Text
	switch {
	case n.Limit != "" && n.Source != "":
		return text + "; limit " + n.Limit + " (" + n.Source + ")"
	case n.Limit != "":
		return text + "; limit " + n.Limit
	case n.Source != "":
		return text + " (" + n.Source + ")"
	}
	return text
}

// spotText is file:line:column, "layout" where a finding has no line.
func spotText(s *Spot) string {
	if s.Line == 0 {
		return "layout"
	}
	return fmt.Sprintf("%s:%d:%d", source.Safe(s.File), s.Line, s.Column)
}
