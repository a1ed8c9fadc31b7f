package reports

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"gapwise/netlist/quantity"
)

// Audit writes what a change did: what changed, what that made new or worse, districts before and after, what
// to do before power goes on. What is as it was is counted. The error is the writer's.
func (t Text) Audit(v *AuditView) error {
	var b bytes.Buffer
	loud, rest := v.headline()
	t.marked(&b, "", loud, "", rest, verdictColours[v.Verdict])
	if v.Emptied {
		t.paragraph(&b, "", exchanged)
	}
	t.auditChanges(&b, v)
	t.auditFindings(&b, v)
	if err := t.auditTables(&b, v); err != nil {
		return err
	}
	t.auditOpen(&b, v)
	t.auditSteps(&b, v)
	t.auditMeasure(&b, v)
	b.WriteByte('\n')
	t.paragraph(&b, "", safety)
	return t.flush(&b)
}

// headline is the outcome in one sentence: loud is what a colour may mark.
func (v *AuditView) headline() (loud, rest string) {
	c := &v.Counts
	switch v.Verdict {
	case Faults:
		loud = counted(c.Faults, "fault", "faults") + " new or worse: do not switch on"
	case Incomplete:
		loud = "not complete: a check gave up; no fault new or worse in what was checked"
	case Cautions:
		loud = counted(c.Cautions, "caution", "cautions") + " new or worse"
	default:
		loud = "nothing new or worse in what was checked"
	}
	var more []string
	if c.Cautions > 0 && v.Verdict != Cautions {
		more = append(more, counted(c.Cautions, "caution", "cautions"))
	}
	if c.Notes > 0 {
		more = append(more, counted(c.Notes, "note", "notes"))
	}
	if n := c.Better + c.Gone; n > 0 {
		more = append(more, fmt.Sprintf("%d better or gone", n))
	}
	if len(more) > 0 {
		rest = "(" + strings.Join(more, ", ") + ")"
	}
	if c.FaultsStanding > 0 {
		standing := counted(c.FaultsStanding, "fault", "faults") + " of before still there: do not switch on"
		if rest != "" {
			standing = rest + "; " + standing
		}
		rest = standing
	}
	return loud, rest
}

// exchanged asks whether the files were named in the wrong order.
const exchanged = "most of what differs was taken away: were the two files exchanged?"

// mostListed is how many things of one kind a line names.
const mostListed = 12

// auditChanges writes what differs in the wiring: what was added and removed by kind, the rest one by one.
func (t Text) auditChanges(b *bytes.Buffer, v *AuditView) {
	heading(b, "What changed in the wiring")
	if len(v.Changes) == 0 {
		t.paragraph(b, "  ", "nothing; "+counted(v.Counts.EntriesSame, "entry", "entries")+" as before")
		return
	}
	for _, what := range []string{"added", "removed", "renamed", "turned"} {
		t.auditGroups(b, v, what)
	}
	t.auditChanged(b, v)
	if v.Counts.EntriesSame > 0 {
		t.paragraph(b, "  ", counted(v.Counts.EntriesSame, "entry", "entries")+" as before")
	}
}

// grouped reports whether a change has no more to tell than names.
func grouped(c *AuditChange) bool {
	switch c.What {
	case "added", "removed", "renamed":
		return true
	case "turned":
		return !c.Renamed
	default:
		return false
	}
}

// auditGroups writes what was added, removed or only renamed, kind by kind.
func (t Text) auditGroups(b *bytes.Buffer, v *AuditView, what string) {
	var kinds []string
	names := map[string][]string{}
	for i := range v.Changes {
		c := &v.Changes[i]
		if c.What != what || !grouped(c) {
			continue
		}
		if names[c.Kind] == nil {
			kinds = append(kinds, c.Kind)
		}
		name := strings.Join(append(append([]string{}, c.After...), c.Before...), ", ")
		switch what {
		case "renamed":
			name = strings.Join(c.Before, ", ") + " to " + strings.Join(c.After, ", ")
		case "turned":
			name = strings.Join(c.After, ", ")
		}
		names[c.Kind] = append(names[c.Kind], name)
	}
	label := what
	if what == "turned" {
		label = "turned end for end:"
	}
	for _, k := range kinds {
		list := names[k]
		text := k + " " + strings.Join(list, ", ")
		if len(list) > mostListed+1 {
			text = k + " " + strings.Join(list[:mostListed], ", ") + fmt.Sprintf(" and %d more", len(list)-mostListed)
		}
		t.paragraph(b, "  "+label+" ", strings.TrimSpace(text))
	}
}

// text is what became of an entry of both layouts.
func (c *AuditChange) text() string {
	before, after := strings.Join(c.Before, ", "), strings.Join(c.After, ", ")
	text := strings.TrimSpace(c.Kind + " " + before)
	switch {
	case len(c.After) > 1 || len(c.Before) > 1:
		text += " into " + after
	case c.Renamed && before != after:
		text += ", now " + after
	}
	switch {
	case c.Turned && len(c.After)+len(c.Before) > 2:
		text += ", some of it turned end for end"
	case c.Turned:
		text += ", turned end for end"
	}
	keys := c.Keys
	if i := slices.IndexFunc(keys, func(k AuditKey) bool { return k.Key == "at" && k.From == before }); i >= 0 {
		text += " -> " + keys[i].To
		keys = slices.Delete(slices.Clone(keys), i, i+1)
	}
	if c.MovedM > 0 {
		text += ", by " + quantity.FormatLength(c.MovedM)
	}
	if len(keys) > 0 {
		text += ": " + keysText(keys)
	}
	return text
}

// keysText is what differs in an entry.
func keysText(keys []AuditKey) string {
	texts := make([]string, len(keys))
	for i, k := range keys {
		texts[i] = k.Key + " " + k.From + " -> " + k.To
	}
	return strings.Join(texts, ", ")
}

// Entries of one kind with one and the same change are told in one line when there are so many of them or more; it names the
// first few.
const (
	leastAlike     = 3
	mostNamedAlike = 4
)

// auditChanged writes the other changes, those of many entries alike once, where the first of them stands.
func (t Text) auditChanged(b *bytes.Buffer, v *AuditView) {
	alike := map[string][]string{}
	for i := range v.Changes {
		if key, name := v.Changes[i].alike(); key != "" {
			alike[key] = append(alike[key], name)
		}
	}
	told := map[string]bool{}
	for i := range v.Changes {
		c := &v.Changes[i]
		key, _ := c.alike()
		names := alike[key]
		switch {
		case grouped(c) || told[key]:
		case len(names) < leastAlike:
			t.paragraph(b, "  "+c.What+" ", c.text())
		default:
			told[key] = true
			list := strings.Join(names, ", ")
			if len(names) > mostNamedAlike+1 {
				list = strings.Join(names[:mostNamedAlike], ", ") + fmt.Sprintf(" and %d more", len(names)-mostNamedAlike)
			}
			t.paragraph(b, "  "+c.What+" ", fmt.Sprintf("%s, %d of them: %s: %s", c.Kind, len(names), keysText(c.Keys), list))
		}
	}
}

// alike is a key that entries with the same change share, and what this one is called; "" when more became of it.
func (c *AuditChange) alike() (key, name string) {
	if c.What != "changed" || c.Renamed || c.Turned || len(c.Before) != 1 || len(c.After) != 1 {
		return "", ""
	}
	return c.Kind + ": " + keysText(c.Keys), c.After[0]
}

// auditFindings writes what is new and worse, and what is better and gone in a line each.
func (t Text) auditFindings(b *bytes.Buffer, v *AuditView) {
	for i := range v.Findings {
		if f := &v.Findings[i]; f.Outcome == "new" || f.Outcome == "worse" {
			b.WriteByte('\n')
			t.auditFinding(b, f)
		}
	}
	headed := false
	for i := range v.Findings {
		f := &v.Findings[i]
		if f.Outcome != "better" && f.Outcome != "gone" {
			continue
		}
		if !headed {
			heading(b, "Better, and gone")
			headed = true
		}
		x := f.Before
		text := f.Outcome + ": " + x.Severity + " " + x.Rule + " at " + x.Place.Text
		if f.Outcome == "better" {
			text += f.change()
		}
		t.paragraph(b, "  ", text)
	}
	if n := v.Counts.Same; n > 0 {
		heading(b, fmt.Sprintf("As before: %s (`gapwise check` lists them)", counted(n, "finding", "findings")))
	}
}

// auditFinding writes a finding that is new or worse: what, why, the numbers that have limits, what to do. The path is
// left to `gapwise check`.
func (t Text) auditFinding(b *bytes.Buffer, f *AuditFinding) {
	x := f.After
	severity := x.Severity
	if x.Accepted {
		severity += " (accepted)"
	}
	t.marked(b, spotText(&x.Spot)+": "+f.Outcome+" ", severity, " "+x.Rule+":", x.Message, severityColours[x.Severity])
	t.part(b, "why", x.Why)
	if f.Outcome == "worse" {
		t.part(b, "was", strings.TrimPrefix(f.change(), ", "))
	}
	numbers := 0
	for i := range x.Numbers {
		if x.Numbers[i].Limit != "" {
			t.part(b, once("numbers", numbers), numberText(&x.Numbers[i]))
			numbers++
		}
	}
	fix := "advice"
	if x.FixChecked {
		fix = "re-checked"
	}
	if x.Fix != "" {
		t.part(b, "fix", x.Fix+" ("+fix+")")
	}
}

// change is how a finding of both checks differs.
func (f *AuditFinding) change() string {
	switch {
	case f.Number != "":
		return ", " + f.Number + " " + f.From + " -> " + f.To
	case f.Before.Severity != f.After.Severity:
		return ", " + f.Before.Severity + " -> " + f.After.Severity
	case f.Before.Accepted:
		return ", accepted -> not accepted"
	default:
		return ", not accepted -> accepted"
	}
}

// auditTables writes districts, reversing sections and blocks before and after; those as before are counted.
func (t Text) auditTables(b *bytes.Buffer, v *AuditView) error {
	var rows [][][]string
	same := 0
	for i := range v.Districts {
		if d := &v.Districts[i]; d.Changed {
			rows = append(rows, d.row())
		} else {
			same++
		}
	}
	if len(rows) > 0 {
		heading(b, "Districts, before -> after")
		if err := writeTable(b, t.Width, []string{"behind", "track", "feeders", "trains draw", "wiring loses at most", "weakest short, at least"}, rows); err != nil {
			return err
		}
	}
	if same > 0 && len(rows) > 0 {
		t.paragraph(b, "", counted(same, "other district", "other districts")+" as before")
	}
	rows = nil
	for i := range v.Sections {
		s := &v.Sections[i]
		if s.Changed {
			rows = append(rows, s.row())
		}
	}
	if len(rows) > 0 {
		heading(b, "Reversing sections, before -> after")
		if err := writeTable(b, t.Width, []string{"turned by", "track", "shortest way through", "ends"}, rows); err != nil {
			return err
		}
	}
	if n := len(v.Sections) - len(rows); n > 0 {
		heading(b, counted(n, "reversing section", "reversing sections")+" as before")
	}
	return t.auditBlocks(b, v)
}

func (t Text) auditBlocks(b *bytes.Buffer, v *AuditView) error {
	var rows [][][]string
	for i := range v.Blocks {
		x := &v.Blocks[i]
		if !x.Changed {
			continue
		}
		name := []string{x.Name}
		if x.Was != "" {
			name = append(name, "was "+x.Was)
		}
		before, after := lengthText(x.BeforeM), lengthText(x.AfterM)
		if x.New {
			before = "new"
		}
		if x.Gone {
			after = "gone"
		}
		rows = append(rows, [][]string{name, {before}, {after}})
	}
	if len(rows) == 0 {
		return nil
	}
	heading(b, "Blocks as wired")
	if err := writeTable(b, t.Width, []string{"block", "track before", "track after"}, rows); err != nil {
		return err
	}
	if n := len(v.Blocks) - len(rows); n > 0 {
		t.paragraph(b, "", counted(n, "other block", "other blocks")+" as before")
	}
	return nil
}

func lengthText(m *float64) string {
	if m == nil {
		return "none"
	}
	return quantity.FormatLength(*m)
}

// row is a district in the table.
func (d *AuditDistrict) row() [][]string {
	name := []string{d.Name}
	if d.Was != "" {
		name = append(name, "was "+d.Was)
	}
	if d.Before == nil {
		name = append(name, "new")
	}
	if d.After == nil {
		name = append(name, "gone")
	}
	cells := [][]string{name}
	for _, one := range [...]func(*AuditState) (text, at string){
		func(s *AuditState) (string, string) { return lengthText(s.TrackM), "" },
		func(s *AuditState) (string, string) { return strconv.Itoa(s.Feeders), "" },
		func(s *AuditState) (string, string) { return numberOf(s.LoadA, quantity.FormatCurrent), "" },
		func(s *AuditState) (string, string) {
			return numberOf(s.DropHighV, quantity.FormatVoltage), s.DropAt
		},
		func(s *AuditState) (string, string) {
			return numberOf(s.ShortLow, quantity.FormatCurrent), s.ShortAt
		},
	} {
		cells = append(cells, beforeAfter(d.Before, d.After, one))
	}
	return cells
}

// numberOf is a number in words, "-" where there is none.
func numberOf(x *float64, one func(float64) string) string {
	if x == nil {
		return "-"
	}
	return one(*x)
}

// beforeAfter is a cell: one text where nothing differs, else before -> after; then where it is now.
func beforeAfter[T any](x, y *T, one func(*T) (text, at string)) []string {
	before, after, at := "", "", ""
	if x != nil {
		before, at = one(x)
	}
	if y != nil {
		after, at = one(y)
	}
	text := after
	switch {
	case y == nil:
		text = before
	case x != nil && before != after:
		text = before + " -> " + after
	}
	if at == "" {
		return []string{text}
	}
	return []string{text, "at " + at}
}

func (s *AuditSection) row() [][]string {
	name := []string{s.Name}
	if s.Was != "" {
		name = append(name, "was "+s.Was)
	}
	if s.Before == nil {
		name = append(name, "new")
	}
	if s.After == nil {
		name = append(name, "gone")
	}
	return [][]string{
		name,
		beforeAfter(s.Before, s.After, func(x *AuditSectionState) (string, string) { return lengthText(x.LengthM), "" }),
		beforeAfter(s.Before, s.After, func(x *AuditSectionState) (string, string) { return lengthText(x.ThroughM), "" }),
		beforeAfter(s.Before, s.After, func(x *AuditSectionState) (string, string) { return strconv.Itoa(x.Exits), "" }),
	}
}

// auditOpen lists what is not checked now and was, and what is checked now.
func (t Text) auditOpen(b *bytes.Buffer, v *AuditView) {
	if len(v.NotChecked) == 0 {
		if n := v.Counts.NotCheckedSame; n > 0 {
			heading(b, "Not checked, as before: "+counted(n, "line", "lines"))
		}
		return
	}
	heading(b, "Not checked")
	for i := range v.NotChecked {
		n := &v.NotChecked[i]
		text := n.Line.What + ": " + n.Line.Why
		if n.Line.Incomplete {
			text = "gave up: " + text
		}
		t.paragraph(b, "- "+n.Outcome+": ", text)
	}
	if n := v.Counts.NotCheckedSame; n > 0 {
		t.paragraph(b, "- ", counted(n, "line", "lines")+" as before")
	}
}

// auditSteps lists what to do before power goes on, numbered through, under the heads of its stages.
func (t Text) auditSteps(b *bytes.Buffer, v *AuditView) {
	if len(v.Steps) == 0 {
		return
	}
	heading(b, "Before power goes on, in this order")
	digits := len(strconv.Itoa(len(v.Steps)))
	stage := ""
	for i := range v.Steps {
		s := &v.Steps[i]
		if s.Stage != stage {
			stage = s.Stage
			t.paragraph(b, "  ", stage)
		}
		t.paragraph(b, fmt.Sprintf("  %*d  ", digits, i+1), s.Text)
	}
}

// auditMeasure says what to measure first, and how.
func (t Text) auditMeasure(b *bytes.Buffer, v *AuditView) {
	m := v.Measure
	if m == nil {
		t.auditUnknown(b, v)
		return
	}
	heading(b, "The one thing to find out first")
	t.paragraph(b, "  ", fmt.Sprintf("%s: of the %s not checked it settles %d (%s)", m.What, counted(m.Open, "line", "lines"), m.Decides, spotText(&m.Spot)))
	for _, h := range m.How {
		t.paragraph(b, "  - ", h)
	}
	if m.Left > 0 {
		t.paragraph(b, "  ", fmt.Sprintf("%d more values that the layout does not say were not tried: trying stops at a bound on the work", m.Left))
	}
	t.auditUnknown(b, v)
}

// auditUnknown lists the other lengths and wires of track and bus that are not known, and how to find them out.
func (t Text) auditUnknown(b *bytes.Buffer, v *AuditView) {
	if len(v.Unknown) == 0 {
		return
	}
	head := "Not known either"
	if v.Measure == nil {
		head = "Not known"
	}
	heading(b, head)
	for i := range v.Unknown {
		u := &v.Unknown[i]
		if i == mostUnknown {
			t.paragraph(b, "  ", fmt.Sprintf("and %d more lengths and wires that the file does not say", len(v.Unknown)-i))
			return
		}
		t.paragraph(b, "  ", fmt.Sprintf("%s (%s)", u.What, spotText(&u.Spot)))
		for _, h := range u.How {
			t.paragraph(b, "  - ", h)
		}
	}
}

// mostUnknown is how many unknown values are told one by one.
const mostUnknown = 5
