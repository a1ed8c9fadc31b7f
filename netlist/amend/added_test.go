package amend

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"

	"pgregory.net/rapid"
)

// openTracks are the tracks on which places are easily found: of a known length, not closed,
// with nothing standing on them.
func openTracks(l *layout.Layout) []*layout.Track {
	var open []*layout.Track
	for i := range l.Tracks {
		if tr := &l.Tracks[i]; len(tr.Stands) == 0 && tr.Length.Known() && !tr.Closed {
			open = append(open, tr)
		}
	}
	return open
}

// take takes the one thing out of a slice that is labelled fresh.
func take[T any](t failer, list *[]T, label func(*T) string) {
	t.Helper()
	n := len(*list)
	*list = slices.DeleteFunc(*list, func(x T) bool { return label(&x) == "fresh" })
	if len(*list) != n-1 {
		t.Errorf("%d new entries", n-len(*list))
	}
}

// TestOneMoreOrLess adds one thing to layouts in random styles, or takes one out. With that
// set aside the layout is what it was, and so is every other line.
func TestOneMoreOrLess(t *testing.T) {
	all := samples(t)
	tried := 0
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(all).Draw(t, "layout")
		files := map[string]string{}
		for _, name := range sortedKeys(s.files) {
			files[name] = restyled(t, []byte(s.files[name]))
		}
		was := read(t, files, s.root)
		tr := rapid.SampledFrom(openTracks(was)).Draw(t, "track")
		bus := &was.Buses[rapid.IntRange(0, len(was.Buses)-1).Draw(t, "bus")]
		share := float64(rapid.IntRange(1, 12).Draw(t, "share")) / 13
		where := fmt.Sprintf("%.4f m", tr.Length.Lo*share)
		tap := fmt.Sprintf("bus %s @ %.4f m", bus.Name, bus.Length.Lo*share)
		if rapid.Bool().Draw(t, "from end") {
			where += " from end"
		}
		w := New(was, reader.Options{})
		a := wish{differs: []string{`Accepts\[\d+\]\.Target\.Index`, `UncertainOrders.*`, `.*\.Gap(From|To)Index`}}
		var aside func(*layout.Layout)
		switch rapid.IntRange(0, 4).Draw(t, "kind") {
		case 0:
			w.AddPlaced("feeders", tr.Name, where, "{from: "+tap+", A: left, wire: 18 AWG, label: fresh}")
			a.within = []string{"feeders", tr.Name}
			for i := range was.Gaps {
				if typed := was.Gaps[i].TypedRails; typed == layout.RailOfA || typed == layout.RailOfB {
					a.differs = append(a.differs, fmt.Sprintf(`Gaps\[%d\]\.Rails`, i)) // which the nearest feeder tells
				}
			}
			aside = func(l *layout.Layout) { take(t, &l.Feeders, func(f *layout.Feeder) string { return f.Label }) }
		case 1:
			w.AddPlaced("gaps", tr.Name, where, "{label: fresh, rails: both, kind: insulated}")
			a.within = []string{"gaps", tr.Name}
			a.differs = append(a.differs, `(Blocks|CommonRails|Buses)\[\d+\]\.(Covers|Of|Under).*`)
			aside = func(l *layout.Layout) { take(t, &l.Gaps, func(g *layout.Gap) string { return g.Label }) }
		case 2:
			w.AddList("loads", "{at: "+tap+", draws: 0.1 A, label: fresh}")
			a.within = []string{"loads"}
			aside = func(l *layout.Layout) { take(t, &l.Loads, func(x *layout.Load) string { return x.Label }) }
		case 3:
			w.Add("cabs", "fresh", "{volts: 12 V, label: fresh}")
			a.within = []string{"cabs"}
			aside = func(l *layout.Layout) { take(t, &l.Cabs, func(c *layout.Cab) string { return c.Label }) }
		default:
			at := was.Districts[rapid.IntRange(0, len(was.Districts)-1).Draw(t, "district")].Pos
			a.lines = append(a.lines, at)
			if f := newDocument(was.Files[at.File]); len(f.root.Get("districts").Fields) == 1 || f.bracketed(f.root.Get("districts")) {
				a.within = []string{"districts"}
				head := f.root.Field("districts").KeyPos
				head.File = at.File
				a.lines = append(a.lines, head)
			}
			for _, d := range was.Districts {
				if d.Pos == at {
					w.Remove("districts", d.Name)
				}
			}
			aside = func(*layout.Layout) {
				was.Districts = slices.DeleteFunc(was.Districts, func(d layout.District) bool { return d.Pos == at })
			}
		}
		is, problems, err := w.Reread(context.Background())
		if err != nil {
			t.Fatalf("%v", err)
		}
		if len(problems) > 0 {
			return // no layout any more: two gaps become three, a bus has one leg, the district is excused
		}
		tried++
		texts, _ := w.Texts()
		for i, f := range was.Files {
			linesStay(t, int32(i), f, texts[i], []wish{a})
		}
		aside(is)
		if found := without(differences(was, is), a.differs...); len(found) > 0 {
			t.Errorf("also different: %v\n%s", found, texts[0])
		}
	})
	t.Logf("%d tried", tried)
	if tried < 10 {
		t.Errorf("only %d tried", tried)
	}
}
