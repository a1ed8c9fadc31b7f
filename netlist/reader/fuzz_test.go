package reader

import (
	"context"
	"path/filepath"
	"reflect"
	"testing"
	"unicode/utf8"

	"gapwise/netlist/layout"
	"gapwise/netlist/source"

	"github.com/rogpeppe/go-internal/txtar"
)

// seeds adds every file of a folder to the corpus: a layout, and the one file that it
// may include.
func seeds(f *testing.F, pattern string) {
	files, err := filepath.Glob(pattern)
	if err != nil || len(files) == 0 {
		f.Fatalf("%s: no seeds, %v", pattern, err)
	}
	for _, file := range files {
		a, err := txtar.ParseFile(file)
		switch {
		case err != nil:
			f.Fatal(err)
		case len(a.Files) == 0:
			f.Add(a.Comment, []byte(nil))
		default:
			f.Add(a.Files[0].Data, a.Files[1].Data)
		}
	}
}

// Whatever is read: no panic, no hang, every position inside its file, problems in order,
// the same answer each time, and references that point at something.
func FuzzRead(f *testing.F) {
	seeds(f, "testdata/mistakes/*.txtar")
	seeds(f, "testdata/further/*.txtar")
	seeds(f, "testdata/language/*.yaml")
	f.Fuzz(func(t *testing.T, text, included []byte) {
		if len(text)+len(included) > 20000 {
			return
		}
		open := func(name string) ([]byte, error) {
			if name == "layout.yaml" {
				return text, nil
			}
			return included, nil
		}
		read := func() (*layout.Layout, []source.Problem) {
			l, problems, err := Read(context.Background(), open, "layout.yaml", testOptions)
			if err != nil {
				t.Fatal(err)
			}
			return l, problems
		}
		l, problems := read()
		for i, p := range append(problems[:len(problems):len(problems)], l.Questions...) {
			inFile(t, l.Files, p)
			if i > 0 && i < len(problems) && p.Pos.Before(problems[i-1].Pos) {
				t.Errorf("problem %d is out of order", i)
			}
		}
		if again, told := read(); !reflect.DeepEqual(problems, told) || !reflect.DeepEqual(l, again) {
			t.Error("two readings differ")
		}
		if len(problems) == 0 {
			resolved(t, l)
		}
	})
}

// inFile checks that a problem's place is in its file.
func inFile(t *testing.T, files source.Files, p source.Problem) {
	if int(p.Pos.File) >= len(files) || p.Pos.File < 0 || !p.Pos.IsValid() {
		t.Fatalf("no place: %+v", p)
	}
	line := files[p.Pos.File].Line(p.Pos.Line)
	if last := utf8.RuneCount(line) + 1; p.Pos.Col < 1 || int(p.Pos.Col) > last || p.Width < 1 {
		t.Errorf("%+v is outside its line %q", p, line)
	}
}

// resolved checks that a sound layout points nowhere outside itself.
func resolved(t *testing.T, l *layout.Layout) {
	place := func(p layout.Place) {
		if p.Piece < 0 || int(p.Piece) >= len(l.Pieces) || int(p.End) >= len(l.Pieces[p.Piece].Ends) {
			t.Errorf("place %+v", p)
		}
		if p.End < 0 && l.Pieces[p.Piece].Kind != layout.TrackPiece {
			t.Errorf("measured on no track: %+v", p)
		}
	}
	tap := func(p layout.Tap) {
		if int(p.Bus) >= len(l.Buses) {
			t.Errorf("tap %+v", p)
		}
	}
	for p := range l.Pieces {
		for e, end := range l.Pieces[p].Ends {
			if end.Dead == layout.Unjoined {
				t.Errorf("%s %s is left unjoined", l.Pieces[p].Name, end.Name)
			}
			j := end.Joint
			if (end.Dead == layout.Joined) != (j.Piece >= 0) || int(j.Piece) >= len(l.Pieces) {
				t.Errorf("%s %s: %+v", l.Pieces[p].Name, end.Name, end)
			}
			if j.Piece >= 0 && j.End >= 0 && l.Pieces[j.Piece].Ends[j.End].Joint != (layout.EndRef{Piece: layout.PieceID(p), End: int32(e)}) {
				t.Errorf("%s %s meets what does not meet it", l.Pieces[p].Name, end.Name)
			}
		}
	}
	for i := range l.Gaps {
		place(l.Gaps[i].Place)
		if r := l.Gaps[i].Rails; r < layout.BothRails || r > layout.RightRail {
			t.Errorf("gap %+v", l.Gaps[i])
		}
	}
	for i := range l.Joints {
		place(l.Joints[i].Place)
	}
	for i := range l.Feeders {
		f := &l.Feeders[i]
		place(f.Place)
		for leg := range f.From {
			tap(f.From[leg])
			if f.From[leg].Bus < 0 && !f.From[leg].Unknown && uses(*f, layout.Leg(leg)) {
				t.Errorf("feeder %+v has no leg %d", f, leg)
			}
		}
	}
	for i := range l.Bonds {
		place(l.Bonds[i].From)
		place(l.Bonds[i].To)
	}
	for _, tr := range l.Tracks {
		for i, s := range tr.Stands {
			if i > 0 && s.At.Mid() < tr.Stands[i-1].At.Mid() {
				t.Errorf("stands of %s are out of order", tr.Name)
			}
		}
	}
	for _, b := range l.Blocks {
		for _, s := range b.Covers {
			if s.Piece < 0 || int(s.GapFromIndex) >= len(l.Gaps) || int(s.GapToIndex) >= len(l.Gaps) {
				t.Errorf("block %s covers %+v", b.Name, s)
			}
		}
	}
}
