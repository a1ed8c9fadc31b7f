package audit

import (
	"context"
	"flag"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"

	"gapwise/districts/difference"
	"gapwise/rules"
	"gapwise/rules/proof"
)

var full = flag.Bool("full", false, "try every layout and every track, not a part of them")

// catalogueLayouts are layouts with findings of every kind; a part of them, unless -full.
func catalogueLayouts(t *testing.T, each int) (names []string) {
	t.Helper()
	for _, pattern := range []string{"../catalogue/testdata/*/*.yaml", "../../testdata/tin-harbour/*.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		names = append(names, files...)
	}
	if len(names) < 100 {
		t.Fatalf("only %d layouts", len(names))
	}
	if *full {
		return names
	}
	part := names[:0:0]
	for i := 0; i < len(names); i += each {
		part = append(part, names[i])
	}
	return part
}

// readFile reads a layout; ok is false for one with mistakes, such as a module.
func readFile(t *testing.T, file string) (l *layout.Layout, ok bool) {
	t.Helper()
	l, problems, err := reader.ReadFile(context.Background(), file, rules.ReaderOptions())
	if err != nil {
		t.Fatal(err)
	}
	return l, len(problems) == 0
}

func run(t *testing.T, before, after *layout.Layout) *Audit {
	t.Helper()
	a, err := Run(context.Background(), before, after)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// refused is why nothing was computed where the solver found its own result wanting.
const refused = "do not obey its laws"

// moved is what an audit says became of findings, for messages of tests: all that are not the same.
func moved(a *Audit) string {
	var b strings.Builder
	for i := range a.Findings {
		f := &a.Findings[i]
		if f.Outcome == Same {
			continue
		}
		b.WriteString(f.Outcome.String())
		if f.Before != nil {
			b.WriteString(" [" + f.Before.Rule + " " + f.Before.Place.Text + ": " + f.Before.Message + "]")
		}
		if f.After != nil {
			b.WriteString(" -> [" + f.After.Rule + " " + f.After.Place.Text + ": " + f.After.Message + "]")
		}
		b.WriteString(" " + f.Number + " " + f.From + " " + f.To + "\n")
	}
	for i := range a.NotChecked {
		if strings.Contains(a.NotChecked[i].Line.Why, refused) {
			return "" // what a network that could not be solved leaves open differs with anything
		}
		b.WriteString(a.NotChecked[i].Outcome.String() + " open: " + a.NotChecked[i].Line.What + ": " + a.NotChecked[i].Line.Why + "\n")
	}
	return b.String()
}

// TestOfItself: of a layout with itself nothing differs and every finding is the same.
func TestOfItself(t *testing.T) {
	tried, findings := 0, 0
	for _, file := range catalogueLayouts(t, 7) {
		x, ok := readFile(t, file)
		if !ok {
			continue
		}
		y, _ := readFile(t, file)
		a := run(t, x, y)
		tried, findings = tried+1, findings+len(a.Findings)
		if !a.Unchanged() || len(a.Steps) > 0 {
			t.Errorf("%s differs from itself:\n%s%s", file, told(a.Difference), moved(a))
		}
	}
	if tried < 20 || findings < 20 {
		t.Errorf("only %d layouts with %d findings", tried, findings)
	}
}

// TestRenamed: another name for everything is told as that, and changes no finding.
func TestRenamed(t *testing.T) {
	for _, file := range catalogueLayouts(t, 7) {
		x, ok := readFile(t, file)
		if !ok || strings.Contains(file, "/bus-ringing/raises-") || strings.HasSuffix(file, "near-miss-thrown-together.yaml") {
			continue // these tell the text of a tap as typed, and fold devices named like a piece: Renamed changes neither
		}
		y, _ := readFile(t, file)
		proof.Renamed(y)
		a := run(t, x, y)
		for _, e := range a.Difference.Entries {
			if e.Fate != difference.Renamed {
				t.Errorf("%s:\n%s", file, told(a.Difference))
				break
			}
		}
		if text := moved(a); text != "" {
			t.Errorf("%s:\n%s", file, text)
		}
	}
}

// TestTurnedAndHalved: a track typed the other way round, or cut in two, is told as that, and the findings are the same.
func TestTurnedAndHalved(t *testing.T) {
	tried := 0
	for n, file := range catalogueLayouts(t, 11) {
		x, ok := readFile(t, file)
		if !ok {
			continue
		}
		for track := n % 3; track < len(x.Tracks); track += 3 {
			name := file + " " + x.Tracks[track].Name
			y, _ := readFile(t, file)
			text := proof.Flat(y)
			y = reread(t, text)
			if y == nil {
				continue
			}
			from := reread(t, text)
			if proof.Turned(y, track) {
				tried++
				a := run(t, from, y)
				if es := a.Difference.Entries; len(es) != 1 || es[0].Fate != difference.Turned || moved(a) != "" {
					t.Errorf("%s turned:\n%s%s", name, told(a.Difference), moved(a))
				}
			}
			y = reread(t, text)
			if proof.Halved(y, track) {
				tried++
				a := run(t, from, y)
				if es := a.Difference.Entries; len(es) != 2 || es[0].Fate != difference.Split || es[1].Kind != difference.KindJoint || moved(a) != "" {
					t.Errorf("%s halved:\n%s%s", name, told(a.Difference), moved(a))
				}
			}
		}
	}
	if tried < 50 {
		t.Errorf("only %d tracks", tried)
	}
}

// reread reads a layout written flat; nil for the few that cannot be.
func reread(t *testing.T, text string) *layout.Layout {
	t.Helper()
	l, err := proof.Read(context.Background(), text)
	if err != nil {
		return nil
	}
	return l
}

// TestMirror: compared the other way round, added is removed, new is gone, worse is better.
func TestMirror(t *testing.T) {
	files := catalogueLayouts(t, 9)
	pairs := [][2]string{}
	demo := "../../testdata/tin-harbour/"
	for _, p := range [][2]string{{"sound", "upper"}, {"as-found", "sound"}, {"as-found", "upper"}, {"upper", "upper-sound"}, {"sound", "upper-sound"}} {
		pairs = append(pairs, [2]string{demo + p[0] + ".yaml", demo + p[1] + ".yaml"})
	}
	for i := 1; i < len(files); i++ {
		pairs = append(pairs, [2]string{files[i-1], files[i]})
	}
	tried := 0
	for _, p := range pairs {
		x, okX := readFile(t, p[0])
		y, okY := readFile(t, p[1])
		if !okX || !okY {
			continue
		}
		there, back := run(t, x, y), run(t, y, x)
		turned := slices.ContainsFunc(there.Difference.Entries, func(e difference.Entry) bool { return e.Turned })
		if turned || len(there.Difference.Entries) > there.Difference.Same {
			continue // layouts that have little to do with each other: rails are told along the track as it was before
		}
		tried++
		if a, b := mirrored(there, false), mirrored(back, true); !slices.Equal(a, b) {
			t.Errorf("%s and %s:\nonly there: %v\nonly back: %v", p[0], p[1], without(a, b), without(b, a))
		}
	}
	if tried < 8 {
		t.Errorf("only %d pairs", tried)
	}
}

func without(a, b []string) (out []string) {
	for _, x := range a {
		if !slices.Contains(b, x) {
			out = append(out, x)
		}
	}
	return out
}

// mirrored lists what an audit found, seen from the other side if back, sorted.
func mirrored(a *Audit, back bool) []string {
	var out []string
	line := func(parts ...string) { out = append(out, strings.Join(parts, " | ")) }
	for _, c := range a.Changes() {
		before, after, fate := strings.Join(c.Before, ","), strings.Join(c.After, ","), c.Fate
		if back {
			before, after, fate = after, before, fate.Mirror()
		}
		parts := []string{c.Kind, fate.String(), before, after}
		var keys []string
		for _, k := range c.Keys {
			if back {
				k.From, k.To = k.To, k.From
			}
			if (k.Key == "A" || k.Key == "rails") && k.From > k.To {
				k.From, k.To = k.To, k.From // seen along the track as it was typed before
			}
			keys = append(keys, k.Key+" "+k.From+" "+k.To)
		}
		slices.Sort(keys)
		line(append(parts, keys...)...)
	}
	for i := range a.Findings {
		f := &a.Findings[i]
		o, x, y := f.Outcome, f.Before, f.After
		if back {
			o, x, y = o.Mirror(), y, x
		}
		parts := []string{o.String()}
		if x != nil {
			parts = append(parts, x.Rule, x.Message)
		}
		if y != nil {
			parts = append(parts, y.Rule, y.Message)
		}
		line(parts...)
	}
	for i := range a.NotChecked {
		o := a.NotChecked[i].Outcome
		if back {
			o = o.Mirror()
		}
		line("open", o.String(), a.NotChecked[i].Line.What)
	}
	slices.Sort(out)
	return out
}
