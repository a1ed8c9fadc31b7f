package reader

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/source"

	"github.com/rogpeppe/go-internal/txtar"
)

// header begins a layout in these tests.
const header = "gapwise: 1\nlayout: Test\n"

// power is a booster with one bus, ring, 44 ft long.
const power = `supplies: {wall: {volts: 18 V}}
boosters: {one: {supply: wall, volts: 15 V}}
buses:
  ring: {from: booster one, wire: 14 AWG, length: 44 ft}
`

// common are defaults that most of these tests need.
const common = `defaults:
  turnout: {length: 11 in, wiring: dead-frog}
  gap: {rails: both, kind: insulated}
  feeder: {A: left}
`

// readAll reads a layout that may be several files, in the form of an archive whose
// first part is layout.yaml.
func readAll(t *testing.T, text string) (*layout.Layout, []source.Problem) {
	t.Helper()
	a := txtar.Parse([]byte("-- layout.yaml --\n" + text))
	l, problems, err := Read(context.Background(), openArchive(a), "layout.yaml", testOptions)
	if err != nil {
		t.Fatal(err)
	}
	return l, problems
}

// sound reads a layout that must have no problems.
func sound(t *testing.T, text string) *layout.Layout {
	t.Helper()
	l, problems := readAll(t, text)
	if len(problems) > 0 {
		t.Fatal(report(l, problems))
	}
	return l
}

func report(l *layout.Layout, problems []source.Problem) string {
	var b strings.Builder
	if err := l.Files.Render(&b, problems); err != nil {
		return err.Error()
	}
	return b.String()
}

// messages reads a layout and gives its messages, one a line.
func messages(t *testing.T, text string) string {
	t.Helper()
	_, problems := readAll(t, text)
	ms := make([]string, len(problems))
	for i, p := range problems {
		ms[i] = p.Message
	}
	return strings.Join(ms, "\n")
}

// pieceNamed finds a piece.
func pieceNamed(t *testing.T, l *layout.Layout, name string) layout.PieceID {
	t.Helper()
	i := slices.IndexFunc(l.Pieces, func(p layout.Piece) bool { return p.Name == name })
	if i < 0 {
		t.Fatalf("no piece %s", name)
	}
	return layout.PieceID(i)
}

// meeting says what a piece's end meets: "M1 start, like" when both ends face the same
// way, so that left meets right.
func meeting(l *layout.Layout, p layout.PieceID, end int32) string {
	e := l.Pieces[p].Ends[end]
	switch {
	case e.Dead != layout.Joined:
		return [...]string{"joined", "bare", "bumper", "module end", "unjoined"}[e.Dead]
	case e.Joint.End < 0:
		return "on " + l.Pieces[e.Joint.Piece].Name
	}
	other := l.Pieces[e.Joint.Piece]
	turn := "unlike"
	if other.Ends[e.Joint.End].Facing == e.Facing {
		turn = "like"
	}
	return other.Name + " " + other.Ends[e.Joint.End].Name + ", " + turn
}

// metres compares lengths to a tenth of a millimetre.
func metres(v quantity.Length, lo, hi float64) bool {
	return v.Known() && math.Abs(v.Lo-lo) < 1e-4 && math.Abs(v.Hi-hi) < 1e-4
}

const ft = 0.3048

// lines prints one thing a line, for comparison with a block of text.
func lines[T any](list []T, one func(T) string) string {
	var b strings.Builder
	for _, x := range list {
		b.WriteString(strings.TrimRight(one(x), " ") + "\n")
	}
	return b.String()
}

func gapLine(l *layout.Layout) func(layout.Gap) string {
	return func(g layout.Gap) string {
		at := fmt.Sprintf("%s @ %.3f", l.Pieces[g.Place.Piece].Name, g.Place.At.Lo)
		if g.Place.End >= 0 {
			at = l.Pieces[g.Place.Piece].Name + " " + l.Pieces[g.Place.Piece].Ends[g.Place.End].Name
		}
		return fmt.Sprintf("%s: %s %s %s", g.Place.Text, at, layout.RailSetWords[g.Rails], g.Name)
	}
}

func feederLine(f layout.Feeder) string {
	return fmt.Sprintf("%s: %s | %s %s", f.Place.Text, f.From[layout.A].Text, f.From[layout.B].Text, f.Name)
}

func coverLine(s layout.Stretch) string {
	return fmt.Sprintf("%s = %.2f .. %.2f ft, gaps %d %d", s.Text, s.From.Mid()/ft, s.To.Mid()/ft, s.GapFromIndex, s.GapToIndex)
}
