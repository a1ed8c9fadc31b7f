package reports

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
)

// Split writes a division into districts. The error is the writer's.
func (t Text) Split(v *SplitView) error {
	var b bytes.Buffer
	t.paragraph(&b, "", v.Name+": "+v.headline())
	t.paragraph(&b, "", fmt.Sprintf("Together at most %s is drawn. A district may draw its rating less %s (%s). Trains are reckoned one in each block as meant and one on each track of a yard that holds one; where no block is meant, as many as fit. %s; power comes in at %s.", v.total, v.margin, v.marginSource, toldApart(v.Nodes), v.From))
	t.notes(&b, "", v.Notes)
	if v.Outcome != "found" {
		t.splitImpossible(&b, v)
		b.WriteByte('\n')
		t.paragraph(&b, "", safety)
		return t.flush(&b)
	}
	heading(&b, "What it is worth, what ranks first before the rest")
	for i := range v.Terms {
		t.paragraph(&b, "- ", v.Terms[i].text)
	}
	heading(&b, "Districts")
	if err := t.splitTable(&b, v); err != nil {
		return err
	}
	t.splitWork(&b, v)
	t.splitAfter(&b, v)
	b.WriteByte('\n')
	t.paragraph(&b, "", safety)
	return t.flush(&b)
}

// toldApart says how many pieces of track could be parted.
func toldApart(n int) string {
	if n == 1 {
		return "The track is one piece that nothing parts"
	}
	return fmt.Sprintf("%d pieces of track can be parted from each other", n)
}

func (t Text) notes(b *bytes.Buffer, title string, list []string) {
	if len(list) == 0 {
		return
	}
	if title != "" {
		heading(b, title)
	}
	for _, n := range list {
		t.paragraph(b, "- ", n)
	}
}

func (t Text) splitImpossible(b *bytes.Buffer, v *SplitView) {
	t.notes(b, "What stands in the way", v.Why)
	t.notes(b, "What would do instead", v.Give)
	var list []string
	for _, l := range v.LeftOut {
		list = append(list, l.Where+": "+l.Why)
	}
	t.notes(b, "Where no new cut was thought of", list)
}

func (t Text) splitTable(b *bytes.Buffer, v *SplitView) error {
	var rows [][][]string
	for i := range v.Districts {
		d := &v.Districts[i]
		track := []string{}
		if len(d.Blocks) > 0 {
			track = append(track, "blocks "+strings.Join(d.Blocks, ", "))
		}
		if len(d.Tracks) > 0 {
			track = append(track, "track "+strings.Join(d.Tracks, ", "))
		}
		track = append(track, d.track)
		rows = append(rows, [][]string{
			{d.District, d.Device},
			track,
			{d.load + " of " + d.may, counted(d.Trains, "train", "trains")},
			figure(d.short, d.ShortAt),
			figure(d.drop, d.DropAt),
		})
	}
	return writeTable(b, t.Width, []string{"district", "track", "draws at most", "weakest short draws", "wiring loses"}, rows)
}

func figure(text, place string) []string {
	if text == "" {
		return []string{"-"}
	}
	return []string{text, "at " + place}
}

// splitWork lists what there is to do, in the order in which to do it.
func (t Text) splitWork(b *bytes.Buffer, v *SplitView) {
	var steps []string
	step := func(format string, args ...any) { steps = append(steps, fmt.Sprintf(format, args...)) }
	for _, d := range v.Devices {
		step("add %s", d)
	}
	for _, x := range v.Buses {
		if x.New {
			step("lay bus %s from %s, %s long, %s (district %s)", x.Bus, x.From, x.length, x.Wire, x.District)
		}
	}
	for _, x := range v.Cuts {
		if x.Rails == "both" {
			step("cut both rails at %s, %s", x.Place, x.Why)
		} else {
			step("cut the %s rail too at %s, %s", x.Rails, x.Place, x.Why)
		}
	}
	for _, x := range v.Feeders {
		step("add a feeder at %s, leg A on the %s rail, from %s, %s (district %s)", x.Place, x.A, x.From, x.Wire, x.District)
	}
	for _, x := range v.Moves {
		step("take %s off %s and hang it from %s%s", x.What, x.From, x.To, forDistrict(x.District))
	}
	for _, x := range v.Buses {
		if !x.New {
			step("take bus %s off %s and hang it from %s%s", x.Bus, x.Was, x.From, forDistrict(x.District))
		}
	}
	heading(b, "Work to do, in this order")
	if len(steps) == 0 {
		t.paragraph(b, "", "Nothing: the layout is divided like this already.")
		return
	}
	first := "Switch off and pull the plug of every supply first."
	if slices.ContainsFunc(v.Buses, func(x SplitBus) bool { return x.New }) {
		first += " New buses are measured from where those beside them begin: a new booster or breaker stands beside the present one."
	}
	t.paragraph(b, "", first)
	for i, s := range steps {
		t.paragraph(b, fmt.Sprintf("%2d. ", i+1), s)
	}
	if len(v.Cuts) > 0 {
		t.paragraph(b, "", "Wear eye protection before the cutting tool is switched on; hold the rail on both sides of the cut, and fill the gap, so that it stays one. SAFETY.md says more on cutting rail.")
	}
	t.paragraph(b, "", "Before power goes on, measure with a meter that no rail is joined to its neighbour over a gap, and that each leg is joined from the booster to its rail; then make a short in each district on purpose, as SAFETY.md says, and see that its own device trips and no other.")
}

// forDistrict names a district in brackets, where there is one.
func forDistrict(name string) string {
	if name == "" {
		return ""
	}
	return " (district " + name + ")"
}

// splitAfter says what a check of the layout with the division finds.
func (t Text) splitAfter(b *bytes.Buffer, v *SplitView) {
	t.notes(b, "This cannot be written into the file", v.Refused)
	if !v.Checked {
		return
	}
	heading(b, "A check of the whole layout with this division")
	if v.Gone > 0 {
		t.paragraph(b, "", counted(v.Gone, "fault or caution is", "faults and cautions are")+" gone.")
	}
	if len(v.Brought) == 0 {
		t.paragraph(b, "", "No fault and no caution is new or worse.")
		t.stay(b, v)
		return
	}
	t.paragraph(b, "", counted(len(v.Brought), "fault or caution is", "faults and cautions are")+" new or worse:")
	wire := false
	for _, f := range v.Brought {
		t.paragraph(b, "- ", f.Severity+" "+f.Rule+": "+f.Message)
		if f.Fix != "" {
			t.paragraph(b, "  fix: ", f.Fix)
		}
		wire = wire || wireRule(f.Rule)
	}
	t.stay(b, v)
	if wire {
		t.paragraph(b, "", "For the wire: write the division with --write OUT, then run gapwise gauge OUT.")
	}
}

// stay says how many findings the division leaves as they were.
func (t Text) stay(b *bytes.Buffer, v *SplitView) {
	if v.Stay > 0 {
		t.paragraph(b, "", counted(v.Stay, "fault or caution stays as it was", "faults and cautions stay as they were")+": `gapwise check` tells.")
	}
}

// wireRule reports whether thicker or other wire mends what a rule finds.
func wireRule(rule string) bool {
	return strings.HasPrefix(rule, "wire-") || strings.HasPrefix(rule, "short-too-weak") || strings.HasSuffix(rule, "-drop") || strings.HasPrefix(rule, "feeder-too")
}
