package amend

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/format"
	"gapwise/netlist/layout"
	"gapwise/netlist/reader"
	"gapwise/netlist/source"
	"gapwise/netlist/tree"

	"pgregory.net/rapid"
)

// standing is one gap, joint or feeder for the test below.
type standing struct {
	place layout.Place
	row   layout.Row
}

func standingIn(l *layout.Layout, section string) []standing {
	var all []standing
	switch section {
	case "gaps":
		for _, g := range l.Gaps {
			all = append(all, standing{g.Place, g.Row})
		}
	case "joints":
		for _, j := range l.Joints {
			all = append(all, standing{j.Place, j.Row})
		}
	case "feeders":
		for _, f := range l.Feeders {
			all = append(all, standing{f.Place, f.Row})
		}
	}
	return all
}

// sameInText are the indexes of what stands for one thing in a text: its copies where a file is
// used twice. Of a feeder that shares its place with others there is none.
func sameInText(all []standing, i int) []int32 {
	var same []int32
	seen := map[layout.PieceID]bool{}
	for k, s := range all {
		if s.place.Pos != all[i].place.Pos || s.row.Number != all[i].row.Number {
			continue
		}
		if seen[s.place.Piece] {
			return nil
		}
		seen[s.place.Piece] = true
		same = append(same, int32(k))
	}
	return same
}

// groupAt is the key of the section, or of the group in it, in which something stands.
func groupAt(t failer, l *layout.Layout, section string, pos source.Pos, whole bool) source.Pos {
	t.Helper()
	d := newDocument(l.Files[pos.File])
	key := d.root.Field(section)
	at := key.KeyPos
	if !whole {
		for i := range key.Value.Fields {
			f := &key.Value.Fields[i]
			before := func(p source.Pos) bool { return p.Line < pos.Line || p.Line == pos.Line && p.Col <= pos.Col }
			if before(f.KeyPos) {
				at = f.KeyPos
			}
		}
	}
	at.File = pos.File
	return at
}

// TestPlacesAreAsAsked sets, moves or closes what stands on the rails of layouts in random
// styles. The layout read again is the one with that change made to it, and every line that
// has nothing of the group stays.
func TestPlacesAreAsAsked(t *testing.T) {
	all := samples(t)
	kinds := []string{"set gap", "move gap", "close gap", "set joint", "move feeder"}
	made := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(all).Draw(t, "layout")
		files := map[string]string{}
		for _, name := range sortedKeys(s.files) {
			files[name] = restyled(t, []byte(s.files[name]))
		}
		was := read(t, files, s.root)
		kind := rapid.SampledFrom(kinds).Draw(t, "kind")
		_, thing, _ := strings.Cut(kind, " ")
		section := thing + "s"
		things := standingIn(was, section)
		if len(things) == 0 {
			return
		}
		i := rapid.IntRange(0, len(things)-1).Draw(t, "index")
		same, pos := sameInText(things, i), things[i].place.Pos
		onTrack := things[i].place.End < 0 && things[i].place.At.Known() && was.Pieces[things[i].place.Piece].Kind == layout.TrackPiece
		if same == nil || strings.HasPrefix(kind, "move") && !onTrack {
			return
		}
		at := things[i].place.At.Mid() + 0.003
		where := fmt.Sprintf("%.4f m", at)
		w := New(was, reader.Options{})
		for _, m := range same {
			switch kind {
			case "set gap":
				w.SetGap(m, Key{"fill", "cork"})
			case "move gap":
				w.MoveGap(m, where)
			case "close gap":
				w.CloseGap(m)
			case "set joint":
				w.SetJoint(m, Key{"kind", "unknown"})
			case "move feeder":
				w.MoveFeeder(m, where)
			}
		}
		texts, err := w.Texts()
		if err != nil {
			t.Fatalf("%v", err)
		}
		is, problems, err := w.Reread(context.Background())
		if err != nil {
			t.Fatalf("%v", err)
		}
		if !strings.HasPrefix(kind, "set") && len(problems) > 0 {
			for _, p := range problems { // what the layout says elsewhere may need a gap where it was
				if _, bad := tree.Parse(0, &source.File{Text: texts[p.Pos.File]}); len(bad) > 0 {
					t.Fatalf("%v", bad)
				}
			}
			return
		}
		if len(problems) > 0 {
			t.Fatalf("%v\n%s", problems, texts[pos.File])
		}
		made[kind]++
		differs := changedPlace(was, section, kind, pos, same)
		changeModel(was, kind, same, at)
		if found := without(differences(was, is), differs...); len(found) > 0 {
			t.Errorf("%s %s: also different:\n%s\n%s", kind, things[i].place.Text, strings.Join(found, "\n"), texts[pos.File])
		}
		lines := wish{lines: []source.Pos{groupAt(t, was, section, pos, kind == "close gap")}}
		for f, file := range was.Files {
			linesStay(t, int32(f), file, texts[f], []wish{lines})
			for _, comment := range regexp.MustCompile(`# it's \{n: \d+\}`).FindAll(file.Text, -1) {
				if n := bytes.Count(texts[f], comment); n > 1 || n < 1 && kind != "close gap" {
					t.Errorf("%s: %s stands %d times in\n%s", kind, comment, n, texts[f])
				}
			}
			if _, problems, err := format.Format(&source.File{Text: texts[f]}); err != nil || len(problems) > 0 {
				t.Errorf("%v %v", problems, err)
			}
		}
	})
	for _, kind := range kinds {
		if made[kind] == 0 {
			t.Errorf("never tried: %s", kind)
		}
	}
}

// changeModel makes a change to a layout itself.
func changeModel(l *layout.Layout, kind string, same []int32, at float64) {
	move := func(p *layout.Place) { p.At.Lo, p.At.Hi = math.Round(at*1e4)/1e4, math.Round(at*1e4)/1e4 }
	for _, m := range same {
		switch kind {
		case "set gap":
			l.Gaps[m].Fill = "cork"
		case "move gap":
			move(&l.Gaps[m].Place)
		case "set joint":
			l.Joints[m].Kind = layout.JointUnknown
		case "move feeder":
			move(&l.Feeders[m].Place)
		}
	}
	if kind == "close gap" {
		for _, m := range slices.Backward(same) {
			l.Gaps = slices.Delete(l.Gaps, int(m), int(m)+1)
		}
	}
}

// changedPlace are the parts of a layout that a change may touch beside what it is for: how
// places of a row are spelled, and what follows from places.
func changedPlace(l *layout.Layout, section, kind string, pos source.Pos, same []int32) []string {
	slice := strings.ToUpper(section[:1]) + section[1:]
	out := []string{`UncertainOrders.*`, `Accepts\[\d+\]\..*`, `.*\.Gap(From|To)Index`, `Questions.*`}
	things := standingIn(l, section)
	for i, s := range things {
		if s.place.Pos != pos {
			continue
		}
		k := i
		if kind == "close gap" {
			for _, m := range same {
				if int(m) < i {
					k--
				}
			}
		}
		out = append(out, paths(slice, []int32{int32(k)}, `Row\..*`, `Place\.Text`, `Place\.At\.Text`, `Place\.FromEnd`, `From\[.\]\.Text`, `From\[.\]\.At\.Text`)...)
	}
	if kind == "move gap" || kind == "close gap" {
		out = append(out, `(Blocks|CommonRails|Buses)\[\d+\]\.(Covers|Of|Under).*`, `Gaps\[\d+\]\.Rails`)
	}
	if kind == "move feeder" {
		out = append(out, `Gaps\[\d+\]\.Rails`)
	}
	return out
}
