package reports

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
)

// Gaps writes the table of gaps and the list of those to fill and watch. The error is the
// writer's.
func (t Text) Gaps(v *GapsView) error {
	var b bytes.Buffer
	insulated := 0
	for i := range v.Gaps {
		if v.Gaps[i].Kind == insulatedWord {
			insulated++
		}
	}
	t.paragraph(&b, "", fmt.Sprintf("%s: %s, %d of them insulated; %d to fill and watch", v.Name, counted(len(v.Gaps), "gap", "gaps"), insulated, len(v.Watch)))
	if len(v.Gaps) == 0 {
		return t.flush(&b)
	}
	b.WriteByte('\n')
	rows := make([][][]string, len(v.Gaps))
	for i := range v.Gaps {
		rows[i] = v.row(&v.Gaps[i])
	}
	if err := writeTable(&b, t.Width, []string{"gap", "cut", "parts", "a wheel over it", "if it closes"}, rows); err != nil {
		return err
	}
	if len(v.Watch) > 0 {
		heading(&b, "To fill and watch, the gravest first")
		digits := len(strconv.Itoa(len(v.Watch)))
		for n, i := range v.Watch {
			g := &v.Gaps[i]
			t.paragraph(&b, fmt.Sprintf("  %*d  ", digits, n+1), g.title()+": "+g.Closing.Text+"; "+g.Advice)
		}
	}
	if v.Faulty {
		b.WriteByte('\n')
		t.paragraph(&b, "", "Something in the wiring is wrong (see `gapwise check`); the gaps are told as if it were put right.")
	}
	if v.Orders > 0 {
		b.WriteByte('\n')
		t.paragraph(&b, "", fmt.Sprintf("%s of uncertain measures may come the other way round; here each stands at the middle of its range, and `gapwise check` tries both", counted(v.Orders, "pair", "pairs")))
	}
	b.WriteByte('\n')
	t.paragraph(&b, "", safety)
	return t.flush(&b)
}

// title is a gap's place, with its name where it has one.
func (g *Gap) title() string {
	if g.Name == "" {
		return g.Place.Text
	}
	return g.Name + " (" + g.Place.Text + ")"
}

func (v *GapsView) row(g *Gap) [][]string {
	line := "line " + strconv.Itoa(int(g.Line))
	if len(v.files) > 1 {
		line = g.File + " " + line
	}
	rails := g.Rails + " rails"
	if g.Rails != "both" {
		rails = g.Rails + " rail"
	}
	fill := "filling unsaid"
	switch g.Fill {
	case "none":
		fill = "not filled"
	case "", "unknown":
	default:
		fill = g.Fill
	}
	return [][]string{
		{g.title(), line},
		{rails, strings.TrimSpace(g.Kind + " " + g.Joint), fill},
		{g.Parts.Text},
		effectTexts(g.Wheel, g.WheelAlso),
		effectTexts(g.Closing, g.ClosingAlso),
	}
}

// effectTexts tells the gravest effect first. What wheels do only where they stand says so
// itself, and needs no "nothing" before it.
func effectTexts(first GapEffect, also []GapEffect) []string {
	if first.Verdict == nothingVerdict && len(also) > 0 {
		first, also = also[0], also[1:]
	}
	out := []string{first.Text}
	for _, e := range also {
		out = append(out, "also: "+e.Text)
	}
	return out
}
