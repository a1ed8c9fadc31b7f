package layout_test

import (
	"context"
	"errors"
	"io/fs"
	"math"
	"strings"
	"testing"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"

	"pgregory.net/rapid"
)

const pieces = `gapwise: 1
layout: Test
tracks:
  M1:     {from: end, to: T3 points, length: 13 ft 8 in}
  lead:   {from: T3 straight, to: end, length: unknown}
  spur:   {from: T3 curved, to: X1 a, length: 2 m}
  cross:  {from: X1 c, to: end, length: 3 ft}
  north:  {from: X1 d, to: end, length: 3 ft}
  south:  {from: X1 b, to: end, length: 3 ft}
turnouts:
  T3: {hand: right, length: 11 in, wiring: dead-frog}
crossings:
  X1: {angle: 60 deg, length: 8 in, wiring: dead-frogs}
`

func read(t *testing.T) *layout.Layout {
	t.Helper()
	l, problems, err := reader.Read(context.Background(), func(name string) ([]byte, error) {
		if name != "layout.yaml" {
			return nil, fs.ErrNotExist
		}
		return []byte(pieces), nil
	}, "layout.yaml", reader.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(problems) > 0 {
		var b strings.Builder
		if err := l.Files.Render(&b, problems); err != nil {
			t.Fatal(err)
		}
		t.Fatal(b.String())
	}
	return l
}

// A foot is 0.3048 m and an inch a twelfth of it (international foot, 1959; from memory).
const foot = 0.3048

func TestFindPlace(t *testing.T) {
	l := read(t)
	whole := 13*foot + 8*foot/12
	for _, c := range []struct {
		text, piece string
		end         int32
		at          float64 // metres, where end is -1
		fromEnd     bool
	}{
		{"M1 @ 3 ft", "M1", -1, 3 * foot, false},
		{"M1 @ 3 ft 6 in", "M1", -1, 3.5 * foot, false},
		{"M1@3 ft", "M1", -1, 3 * foot, false},
		{"  M1  @  3 ft  ", "M1", -1, 3 * foot, false},
		{"M1 @ 8 in from end", "M1", -1, whole - 8*foot/12, true},
		{"M1 @ 0", "M1", -1, 0, false},
		{"M1 @ start", "M1", -1, 0, false},
		{"M1 @ end", "M1", -1, whole, false},
		{"M1 @ 13 ft 8 in", "M1", -1, whole, false},
		{"spur @ 50 cm", "spur", -1, 0.5, false},
		{"lead @ 40 ft", "lead", -1, 40 * foot, false}, // as long as it takes: its length is unknown
		{"M1 start", "M1", 0, 0, false},
		{"M1 end", "M1", 1, 0, false},
		{"T3 points", "T3", 0, 0, false},
		{"T3 curved", "T3", 2, 0, false},
		{"X1 d", "X1", 1, 0, false},
		{"T3", "T3", -1, 0, false},
		{"X1", "X1", -1, 0, false},
	} {
		p, err := l.FindPlace(c.text)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		piece := &l.Pieces[p.Piece]
		if piece.Name != c.piece || p.FromEnd != c.fromEnd {
			t.Errorf("%s: on %s, from its end %t", c.text, piece.Name, p.FromEnd)
		}
		if c.text == "X1 d" {
			if p.End < 0 || piece.Ends[p.End].Name != "d" {
				t.Errorf("%s: end %d", c.text, p.End)
			}
		} else if p.End != c.end {
			t.Errorf("%s: end %d, want %d", c.text, p.End, c.end)
		}
		if c.end < 0 && piece.Kind == layout.TrackPiece && math.Abs(p.At.Mid()-c.at) > 1e-9 {
			t.Errorf("%s: at %g m, want %g m", c.text, p.At.Mid(), c.at)
		}
	}
}

func TestFindPlaceErrors(t *testing.T) {
	l := read(t)
	for _, c := range []struct{ text, message, nearest string }{
		{"", `"" is no place; one is written M1 @ 4 ft, or T3 points`, ""},
		{"@ 3 ft", `"@ 3 ft" is no place; one is written M1 @ 4 ft, or T3 points`, ""},
		{"M1 4 ft", `"M1 4 ft" is no place; one is written M1 @ 4 ft, or T3 points`, ""},
		{"M1 start @ 3 ft", `"M1 start @ 3 ft" is no place; one is written M1 @ 4 ft, or T3 points`, ""},
		{"M1", "where on M1? write M1 @ 3 ft", ""},
		{"M11 @ 3 ft", "no track or piece is named M11", "M1"},
		{"sper @ 3 ft", "no track or piece is named sper", "spur"},
		{"qqqqqqqq @ 3 ft", "no track or piece is named qqqqqqqq", ""},
		{"T3 @ 3 ft", "T3 is no track; its places are its ends: points, straight, curved", ""},
		{"T3 streight", "T3 has no end streight; it has points, straight, curved", "straight"},
		{"M1 strat", "M1 has no end strat; it has start, end", "start"},
		{"M1 @ 15 ft", "M1 is 13 ft 8 in (4.17 m) long", ""},
		{"M1 @ 15 ft from end", "M1 is 13 ft 8 in (4.17 m) long", ""},
		{"spur @ 2001 mm", "spur is 6 ft 6 3/4 in (2.00 m) long", ""},
	} {
		_, err := l.FindPlace(c.text)
		var bad *layout.FindError
		if !errors.As(err, &bad) {
			t.Errorf("%q: error %v", c.text, err)
			continue
		}
		if bad.Message != c.message || bad.Nearest != c.nearest {
			t.Errorf("%q:\n got %s, nearest %q\nwant %s, nearest %q", c.text, bad.Message, bad.Nearest, c.message, c.nearest)
		}
		want := c.message
		if c.nearest != "" {
			want += "; nearest: " + c.nearest
		}
		if err.Error() != want {
			t.Errorf("%q: reads %q", c.text, err)
		}
	}
	for _, text := range []string{"M1 @ 3", "M1 @ 4 A", "M1 @", "M1 @ 3 ft from", "M1 @ -1 ft", "M1 @ somewhere"} {
		_, err := l.FindPlace(text)
		var bad *layout.FindError
		if !errors.As(err, &bad) || !strings.Contains(bad.Message, "on M1: ") {
			t.Errorf("%q: error %v", text, err)
		}
	}
	// A length that is not known has no end to measure from.
	if p, err := l.FindPlace("lead @ 1 ft from end"); err == nil {
		t.Errorf("found at %g m", p.At.Mid())
	}
}

// TestFindPlaceHostile: no text makes it panic, and none is taken for a place off its track.
func TestFindPlaceHostile(t *testing.T) {
	l := read(t)
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(
			rapid.String(),
			rapid.StringMatching(`(M1|T3|lead|X1|\x1b\[31m) ?(@|start|points)? ?[0-9./ -]{0,9}(ft|in|m|from end|end|\x1b)?`),
		).Draw(t, "text")
		p, err := l.FindPlace(text)
		if err != nil {
			if bad := new(layout.FindError); !errors.As(err, &bad) || bad.Message == "" {
				t.Fatalf("%q: error %v", text, err)
			}
			return
		}
		if p.Piece < 0 || int(p.Piece) >= len(l.Pieces) || int(p.End) >= len(l.Pieces[p.Piece].Ends) {
			t.Fatalf("%q is found at %+v", text, p)
		}
		if piece := &l.Pieces[p.Piece]; piece.Name == "M1" && (p.At.Mid() < 0 || p.At.Mid() > 13.7*foot) {
			t.Fatalf("%q lies at %g m", text, p.At.Mid())
		}
	})
}
