package reader

import (
	"testing"

	"gapwise/netlist/layout"
)

const yardModule = `-- yard.yaml --
gapwise: 1
module: yard
ends: {in: Y1 start, out: T1 points}
defaults: {turnout: {wiring: dead-frog}, joint: {kind: soldered}}
tracks:
  Y1: {from: end, to: T1 straight, length: 4 ft}
  Y2: {from: T1 curved, to: end, length: 3 ft}
turnouts:
  T1: {hand: left}
buses:
  stub: {from: ring @ 2 ft, wire: 14 AWG, length: 3 ft}
feeders:
  Y1: {A: left, 1 ft: stub @ 1 ft}
`

// A module that is used twice has its names twice, and meets the rest by its ends.
func TestModuleTwice(t *testing.T) {
	l := sound(t, header+power+`include: [{file: yard.yaml, as: east}, {file: yard.yaml, as: west}]
tracks:
  M1: {from: east/in, to: west/out, length: 9 ft}
joins: [[east/out, west/in]]
gaps:
  east/Y1: [{at: 2 ft, rails: both, kind: insulated}]
`+yardModule)
	for _, c := range []struct {
		piece string
		end   int32
		want  string
	}{
		{"M1", 0, "east/Y1 start, like"},
		{"M1", 1, "west/T1 points, unlike"},
		{"east/T1", 0, "west/Y1 start, like"},
		{"east/T1", 1, "east/Y1 end, like"},
		{"west/Y2", 0, "west/T1 curved, unlike"},
	} {
		if got := meeting(l, pieceNamed(t, l, c.piece), c.end); got != c.want {
			t.Errorf("%s end %d: %s, want %s", c.piece, c.end, got, c.want)
		}
	}
	if len(l.Files) != 2 || len(l.Buses) != 3 || l.Buses[1].Name != "east/stub" || l.Buses[1].From.Tap.Bus != 0 {
		t.Errorf("%d files, buses %+v", len(l.Files), l.Buses)
	}
	if l.Feeders[1].From[layout.A].Text != "west/stub @ 1 ft" || l.Gaps[0].Place.Text != "east/Y1 @ 2 ft" {
		t.Errorf("feeder %+v, gap %+v", l.Feeders[1], l.Gaps[0])
	}
	if l.JointDefaults[0] != layout.JointUnknown || l.JointDefaults[1] != layout.Soldered {
		t.Errorf("joint defaults %v", l.JointDefaults)
	}
}

// Read by itself, a module leaves its ends open; included, an end that nothing joins is
// a mistake unless it is bare rail.
func TestModuleEnds(t *testing.T) {
	alone := `gapwise: 1
module: yard
ends: {in: Y1 start, out: T1 points}
tracks:
  Y1: {from: in, to: T1 straight, length: 4 ft}
  Y2: {from: T1 curved, to: end, length: 3 ft}
turnouts:
  T1: {hand: left, wiring: dead-frog}
`
	l := sound(t, alone)
	if !l.IsModule || l.Name != "yard" {
		t.Errorf("module %v, name %s", l.IsModule, l.Name)
	}
	if got := meeting(l, pieceNamed(t, l, "T1"), 0); got != "module end" {
		t.Errorf("T1 points: %s", got)
	}
	if got := meeting(l, pieceNamed(t, l, "Y1"), 0); got != "module end" {
		t.Errorf("Y1 start: %s", got)
	}
	got := messages(t, header+"include: yard.yaml\n-- yard.yaml --\n"+alone)
	if got != "no track joins T1 points" {
		t.Errorf("included: %q", got)
	}
}

// A file that two files include is read once.
func TestIncludeOnce(t *testing.T) {
	l := sound(t, header+`include: [a.yaml, b.yaml]
-- a.yaml --
gapwise: 1
module: a
include: c.yaml
-- b.yaml --
gapwise: 1
module: b
include: c.yaml
-- c.yaml --
gapwise: 1
module: c
include: layout.yaml
tracks:
  M1: {from: end, to: end, length: 3 ft}
`)
	if len(l.Files) != 4 || len(l.Tracks) != 1 {
		t.Errorf("%d files, %d tracks", len(l.Files), len(l.Tracks))
	}
}

// Includes are found from the including file's folder.
func TestIncludeFolder(t *testing.T) {
	l := sound(t, header+`include: yard/all.yaml
-- yard/all.yaml --
gapwise: 1
module: a
include: [one.yaml, ../two.yaml]
-- yard/one.yaml --
gapwise: 1
module: b
-- two.yaml --
gapwise: 1
module: c
`)
	if len(l.Files) != 4 {
		t.Errorf("%d files", len(l.Files))
	}
}

// Defaults and group words hold in their own file; entries for one piece are pooled.
func TestDefaultsOwnFile(t *testing.T) {
	l := sound(t, header+power+common+`include: more.yaml
tracks:
  M1: {from: end, to: end, length: 9 ft, rail: code 83 brass}
gaps: {M1: [1 ft]}
feeders: {M1: {wire: 20 AWG, 2 ft: ring @ 2 ft}}
-- more.yaml --
gapwise: 1
module: more
defaults:
  gap: {rails: left, kind: expansion, joint: sliding}
gaps: {M1: [5 ft]}
feeders: {M1: {A: right, 6 ft: ring @ 6 ft}}
`)
	if g := l.Gaps; g[0].Rails != layout.BothRails || g[1].Rails != layout.LeftRail || g[1].Joint != layout.Sliding {
		t.Errorf("gaps %+v", g)
	}
	if f := l.Feeders; f[0].ARail != layout.Left || f[0].Wire.Gauge != 20 || f[1].ARail != layout.Right || f[1].Wire.Said() {
		t.Errorf("feeders %+v", f)
	}
}

// A module whose bare gaps are understood only by the including file's defaults is asked
// about; the module alone is not understood.
func TestBorrowedGapDefaults(t *testing.T) {
	module := "gapwise: 1\nmodule: m\ntracks: {J1: {from: end, to: end, length: 3 ft}}\ngaps: {J1: [1 ft]}\n"
	l := sound(t, header+common+"include: m.yaml\n-- m.yaml --\n"+module)
	if len(l.Questions) != 1 || l.Questions[0].Pos.File != 1 || l.Gaps[0].Fill != "" {
		t.Errorf("questions %+v, gap %+v", l.Questions, l.Gaps[0])
	}
	if got, want := messages(t, module), "which rails? left, right or both\ninsulated or expansion?"; got != want {
		t.Errorf("alone: %q", got)
	}
}

// `like` follows chains: own keys, the copied entry's own keys, then the defaults of the
// entry's own file. What is tied to a place is not copied.
func TestLike(t *testing.T) {
	l := sound(t, header+`defaults:
  track: {use: yard, hidden: yes}
tracks:
  M1: {from: end, to: bumper, length: 9 ft, use: main, label: first}
  M2: {like: M1, from: end, to: end, length: 8 ft}
  M3: {like: M2, from: end, to: end, hidden: no}
`)
	m3 := l.Tracks[2]
	if m3.Use != layout.UseMain || m3.Length.Text != "8 ft" || m3.Hidden != layout.No || m3.Label != "" || l.Tracks[1].Hidden != layout.Yes {
		t.Errorf("%+v", m3)
	}
	if got := messages(t, header+"tracks:\n  M1: {from: end, to: end, length: 9 ft}\n  M2: {like: M1, to: end}\n"); got != "`from` is missing" {
		t.Errorf("%q", got)
	}
}
