package reader

import (
	"context"
	"fmt"
	"path/filepath"
	"testing"

	"gapwise/netlist/layout"
)

// example reads one of the language's own examples, which must have no problems.
func example(t *testing.T, name string) *layout.Layout {
	t.Helper()
	l, problems, err := ReadFile(context.Background(), filepath.Join("testdata", "language", name), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(problems) > 0 {
		t.Fatal(report(l, problems))
	}
	return l
}

// counts of everything in a layout, in the order of its fields.
func counts(l *layout.Layout) string {
	return fmt.Sprint("pieces ", len(l.Pieces), " tracks ", len(l.Tracks), " turnouts ", len(l.Turnouts),
		" three-ways ", len(l.ThreeWays), " crossings ", len(l.Crossings), " tables ", len(l.Turntables), len(l.TransferTables),
		" joins ", len(l.Joins), " gaps ", len(l.Gaps), " joints ", len(l.Joints), " feeders ", len(l.Feeders),
		" buses ", len(l.Buses), " boosters ", len(l.Boosters), " blocks ", len(l.Blocks), " districts ", len(l.Districts),
		" practices ", len(l.Practices), " questions ", len(l.Questions), " uncertain ", len(l.UncertainOrders))
}

// The numbers are counted by hand from the files.
func TestExamplesCount(t *testing.T) {
	for name, want := range map[string]string{
		"as-found.yaml": "pieces 28 tracks 18 turnouts 9 three-ways 0 crossings 1 tables 0 0 joins 31 gaps 14 joints 1 feeders 36 buses 8 boosters 2 blocks 11 districts 4 practices 9 questions 0 uncertain 0",
		"upper.yaml":    "pieces 40 tracks 25 turnouts 14 three-ways 0 crossings 1 tables 0 0 joins 42 gaps 27 joints 1 feeders 61 buses 11 boosters 3 blocks 16 districts 7 practices 9 questions 0 uncertain 0",
		"pieces.yaml":   "pieces 37 tracks 25 turnouts 4 three-ways 2 crossings 3 tables 2 1 joins 37 gaps 13 joints 1 feeders 16 buses 11 boosters 3 blocks 2 districts 1 practices 1 questions 1 uncertain 0",
	} {
		if got := counts(example(t, name)); got != want {
			t.Errorf("%s:\n got %s\nwant %s", name, got, want)
		}
	}
}

// Which rails meet at a joint follows from which ends do; language.md section 3 works
// M1, M2 and S2 as its examples.
func TestExamplesJoints(t *testing.T) {
	l := example(t, "upper.yaml")
	for _, c := range []struct {
		piece string
		end   int32
		want  string
	}{
		{"M1", 0, "T1 straight, unlike"},
		{"M2", 0, "T1 points, like"},
		{"S2", 1, "T2 curved, like"},
		{"BL", 0, "T4 straight, unlike"},
		{"BL", 1, "T4 curved, like"},
		{"YL1", 1, "X1 a, unlike"},
		{"YL2", 0, "X1 c, unlike"},
		{"BR1", 1, "X1 b, like"},
		{"BR2", 0, "X1 d, like"},
		{"HA", 0, "T10 curved, unlike"},
		{"HA", 1, "T11 straight, like"},
		{"U1", 0, "T11 points, like"},
		{"Y3", 1, "bare"},
		{"T10", 0, "on M4"},
		{"T10", 1, "on M4"},
		{"T10", 2, "HA start, unlike"},
		{"T12", 1, "on M1"},
	} {
		if got := meeting(l, pieceNamed(t, l, c.piece), c.end); got != c.want {
			t.Errorf("%s end %d: %s, want %s", c.piece, c.end, got, c.want)
		}
	}
	p := example(t, "pieces.yaml")
	for _, c := range []struct {
		piece string
		end   int32
		want  string
	}{
		{"ring", 1, "ring start, unlike"},
		{"spur", 1, "west start, unlike"},
		{"gate", 1, "J1 start, unlike"},
		{"J1", 0, "gate end, unlike"},
		{"J2", 1, "bumper"},
		{"stall", 0, "TT stall, unlike"},
		{"ls", 1, "TT lead, like"},
		{"sl", 1, "XT a1, unlike"},
		{"far", 0, "XT b1, unlike"},
		{"SS", 3, "ci end, unlike"},
		{"S1", 0, "on ring"},
		{"S1", 1, "on spur"},
		{"T21", 0, "on ring"},
	} {
		if got := meeting(p, pieceNamed(t, p, c.piece), c.end); got != c.want {
			t.Errorf("%s end %d: %s, want %s", c.piece, c.end, got, c.want)
		}
	}
}

func TestExamplesStands(t *testing.T) {
	l := example(t, "pieces.yaml")
	stands := func(track string) string {
		tr := l.Tracks[l.Pieces[pieceNamed(t, l, track)].Index]
		return lines(tr.Stands, func(s layout.Stand) string {
			ends := l.Pieces[s.Piece].Ends
			return fmt.Sprintf("%s %s to %s at %.2f ft for %.2f ft", l.Pieces[s.Piece].Name, ends[s.First].Name, ends[s.Second].Name, s.At.Lo/ft, s.Length.Lo/ft)
		})
	}
	want := "T20 points to straight at 18.33 ft for 0.92 ft\nT21 straight to points at 40.00 ft for 0.92 ft\nS1 a to c at 50.00 ft for 0.67 ft\n"
	if got := stands("ring"); got != want {
		t.Errorf("ring:\n%swant:\n%s", got, want)
	}
	if got, want := stands("spur"), "S1 b to d at 1.00 ft for 0.67 ft\n"; got != want {
		t.Errorf("spur:\n%swant:\n%s", got, want)
	}
}

func TestExamplesGaps(t *testing.T) {
	l := example(t, "upper.yaml")
	want := `T9 straight: T9 straight right
T9 curved: T9 curved left
HA @ 8 in: HA @ 0.203 both
HA @ 11 ft: HA @ 3.353 both
HA @ 23 ft: HA @ 7.010 both
HA @ 35 ft: HA @ 10.668 both
`
	if got := lines(l.Gaps[14:20], gapLine(l)); got != want {
		t.Errorf("got:\n%swant:\n%s", got, want)
	}
	if g := l.Gaps[6]; g.Kind != layout.Expansion || g.Joint != layout.CutThrough || g.Fill != "none" || g.Width.Lo != 0.0008 {
		t.Errorf("M3 @ 5 ft 9 in: %+v", g)
	}
	if g := l.Gaps[7]; g.Kind != layout.Insulated || g.Fill != "styrene" || g.Width.Said() {
		t.Errorf("M3 @ 11 ft 3 in: %+v", g)
	}
	p := example(t, "pieces.yaml")
	want = `ring @ 0: ring start both move-1
ring @ 12 ft: ring @ 3.658 both move-2
ring @ 24 ft: ring @ 7.315 both move-3
ring @ 36 ft: ring @ 10.973 both move-4
ring @ 48 ft: ring @ 14.630 both move-5
ring @ 41 ft 2 in: ring @ 12.548 left east
T20 curved: T20 curved both
gate @ start: gate start both
gate @ end: gate end both
prog @ 8 in from end: prog @ 0.711 both
prog @ start: prog start both
west @ 2 ft: west @ 0.610 left
J2 @ start: J2 start both
`
	if got := lines(p.Gaps, gapLine(p)); got != want {
		t.Errorf("got:\n%swant:\n%s", got, want)
	}
}

func TestExamplesFeeders(t *testing.T) {
	l := example(t, "upper.yaml")
	byTrack := func(l *layout.Layout, name string) string {
		p := pieceNamed(t, l, name)
		var own []layout.Feeder
		for _, f := range l.Feeders {
			if f.Place.Piece == p {
				own = append(own, f)
			}
		}
		return lines(own, feederLine)
	}
	want := `HB @ 4 in: D1-wire @ 0 ft | harbour @ 2 ft 6 in
HB @ 2 ft: descend @ 3 ft | descend @ 3 ft
HB @ 12 ft: descend @ 13 ft | descend @ 13 ft
HB @ 22 ft: descend @ 23 ft | descend @ 23 ft
HB @ 32 ft: descend @ 33 ft | descend @ 33 ft
HB @ 42 ft: descend @ 43 ft | descend @ 43 ft
HB @ 42 ft 8 in: deck @ 1 ft | deck @ 1 ft
`
	if got := byTrack(l, "HB"); got != want {
		t.Errorf("got:\n%swant:\n%s", got, want)
	}
	f := l.Feeders[2] // M1 @ 6 ft
	if f.ARail != layout.Right || f.Wire.Gauge != 20 || !metres(f.Length, ft, ft) || f.Broken != layout.No || f.Rails != layout.BothRails {
		t.Errorf("M1 @ 6 ft: %+v", f)
	}
	p := example(t, "pieces.yaml")
	want = `ring @ 2 ft: main @ 2 ft | main @ 2 ft r-1
ring @ 10 ft: main @ 10 ft | main @ 10 ft r-2
ring @ 18 ft: main @ 18 ft | main @ 18 ft r-3
ring @ 26 ft: main @ 26 ft | main @ 26 ft r-4
ring @ 34 ft: main @ 34 ft | main @ 34 ft r-5
ring @ 45 ft: main @ 40 ft |  lone
ring @ 47 ft: dim @ 2 ft | branch @ 3 ft
ring @ 49 ft: main @ 41 ft | main @ 41 ft
ring @ 49 ft: fused @ 2 ft | fused @ 2 ft
`
	if got := byTrack(p, "ring"); got != want {
		t.Errorf("got:\n%swant:\n%s", got, want)
	}
	want = "wl @ 1 ft from end: pair @ 2 ft | pair @ 2 ft\nwl @ 1 ft: unknown | unknown\n"
	if got := byTrack(p, "wl"); got != want {
		t.Errorf("got:\n%swant:\n%s", got, want)
	}
	if got, want := byTrack(p, "T20"), "T20 points: main @ 18 ft | main @ 18 ft\n"; got != want {
		t.Errorf("got %swant %s", got, want)
	}
	if f := p.Feeders[8]; f.ARail != layout.Right || f.Broken != layout.Yes || !metres(f.Length, 8*inch, 12*inch) {
		t.Errorf("second at ring @ 49 ft: %+v", f)
	}
}

// B5 reaches from T1 to the first gap of M1. As found that gap stands at 4 ft, inside what
// B1 claims from 8 in, so B5 stops there, without a gap.
func TestExamplesBlocks(t *testing.T) {
	found := example(t, "as-found.yaml")
	if got, want := coverLine(found.Blocks[4].Covers[1]), "M1 @ 0 .. gap = 0.00 .. 0.67 ft, gaps -1 -1"; got != want {
		t.Errorf("as found: %s, want %s", got, want)
	}
	if got, want := coverLine(found.Blocks[8].Covers[0]), "BL @ gap .. gap = 0.67 .. 12.83 ft, gaps 11 12"; got != want {
		t.Errorf("as found: %s, want %s", got, want)
	}
	l := example(t, "upper.yaml")
	var all []layout.Stretch
	for _, b := range l.Blocks {
		for _, s := range b.Covers {
			if s.GapFrom || s.GapTo {
				all = append(all, s)
			}
		}
	}
	want := `M2 @ gap .. end = 18.08 .. 18.33 ft, gaps 5 -1
M3 @ gap .. end = 11.25 .. 11.50 ft, gaps 7 -1
M1 @ 0 .. gap = 0.00 .. 0.67 ft, gaps -1 0
S1 @ 0 .. gap = 0.00 .. 0.67 ft, gaps -1 2
M2 @ 0 .. gap = 0.00 .. 0.25 ft, gaps -1 4
M1 @ gap .. end = 13.00 .. 13.67 ft, gaps 1 -1
S2 @ gap .. end = 7.58 .. 8.25 ft, gaps 3 -1
M4 @ gap .. end = 10.00 .. 10.33 ft, gaps 8 -1
BL @ gap .. gap = 0.67 .. 12.83 ft, gaps 11 12
HA @ 8 in .. gap = 0.67 .. 41.00 ft, gaps -1 -1
HB @ gap .. gap = 0.67 .. 42.33 ft, gaps 20 21
HA @ gap .. end = 0.67 .. 41.00 ft, gaps 16 -1
HB @ gap .. end = 42.33 .. 43.00 ft, gaps 21 -1
`
	if got := lines(all, coverLine); got != want {
		t.Errorf("got:\n%swant:\n%s", got, want)
	}
	if s := l.Blocks[9].Covers[8]; s.Text != "X1 a-c" || s.RouteFrom != 0 || s.RouteTo != 2 {
		t.Errorf("B10: %+v", s)
	}
	if s := l.Blocks[10].Covers[1]; s.Text != "X1 b-d" || s.RouteFrom != 3 || s.RouteTo != 1 {
		t.Errorf("B11: %+v", s)
	}
	if b := l.Blocks[0]; b.Detector != 0 || b.Use != layout.UseMain {
		t.Errorf("B1: %+v", b)
	}
}

func TestExamplesPower(t *testing.T) {
	l := example(t, "pieces.yaml")
	two := l.Boosters[1]
	if two.SignalWired != layout.SignalCrossed || two.Isolated != layout.Yes || two.Common != layout.CommonForbidden || two.Retry.Lo != 2 || two.Volts.Lo != 14 || two.Volts.Hi != 15 || two.Supply != 0 {
		t.Errorf("booster two, like one: %+v", two)
	}
	main := l.Buses[0]
	if main.From.Kind != layout.FromBreaker || main.Returns.Bus != 0 || !metres(main.Returns.At, 2*ft, 2*ft) || main.Laid.Kind != layout.LaidApart || !metres(main.Laid.Spacing, inch, 3*inch) {
		t.Errorf("bus main: %+v", main)
	}
	if d := l.Buses[1]; d.Legs != layout.LegsB || d.From.Kind != layout.FromDetector || len(d.Beside) != 1 || d.Beside[0].Bus != 0 || d.Laid.Kind != layout.LaidUnknown {
		t.Errorf("bus d1-wire: %+v", d)
	}
	c := l.Changeovers[0]
	kinds := []layout.SourceKind{c.Positions[0].From.Kind, c.Positions[1].From.Kind, c.Positions[2].From.Kind}
	if fmt.Sprint(kinds) != fmt.Sprint([]layout.SourceKind{layout.FromTap, layout.FromBooster, layout.FromNothing}) || c.Opens != layout.OpensBoth || c.Throw != layout.BreakFirst {
		t.Errorf("changeover prog: %+v", c)
	}
	if r := l.Reversers[1]; r.Switching != layout.Automatic || !r.OneAtATime || r.TripsAt.Lo != 2 {
		t.Errorf("reverser pair: %+v", r)
	}
	if l.Colours != [2]string{"brown", "yellow"} || l.RailNames != [2]string{"wall", "aisle"} {
		t.Errorf("colours %v, rails %v", l.Colours, l.RailNames)
	}
	if x := l.Loads[0]; !x.OnRail || x.Place.Text != "ring @ 10 ft" || x.Draws.Lo != 0.06 {
		t.Errorf("load on ring: %+v", x)
	}
	if x := l.Loads[1]; x.OnRail || x.Tap.Text != "turnouts @ 12 ft" || x.Place.Piece != -1 {
		t.Errorf("load on turnouts: %+v", x)
	}
	if x := l.Limits[2]; x.Name != "temperature" || x.Unit != layout.UnitCelsius || x.Value.Lo != 5 || x.Value.Hi != 35 {
		t.Errorf("limit: %+v", x)
	}
	if a := l.Accepts; a[0].Target.Kind != layout.TargetGap || a[0].Target.Index != 5 || a[0].At != "gap east" || a[1].Target.Index != 7 || a[1].At != "gap gate @ start" {
		t.Errorf("accepts: %+v", a)
	}
	if n := l.NeverTogether[0]; fmt.Sprint(n.Settings) != "[curved a-b]" || n.Because != "the levers are interlocked" {
		t.Errorf("never-together: %+v", n)
	}
	if fmt.Sprint(l.JointDefaults) != fmt.Sprint([]layout.JointKind{layout.Plain, layout.JointUnknown}) {
		t.Errorf("joint defaults: %v", l.JointDefaults)
	}
	if tr := l.Tracks[0]; !metres(tr.JointEvery, 3*ft, 3*ft) || tr.Rail.Code != 83 || tr.Rail.Metal != "nickel silver" || tr.Use != layout.UseMain || tr.Straight != layout.YesNoUnknown {
		t.Errorf("ring: %+v", tr)
	}
	if tr := l.Tracks[len(l.Tracks)-1]; tr.Name != "J2" || tr.JointEvery.Said() || tr.Rail.Said {
		t.Errorf("J2 has only its own file's defaults: %+v", tr)
	}
}

func TestExamplesWiring(t *testing.T) {
	l := example(t, "pieces.yaml")
	type w = layout.Wiring
	for i, want := range []w{
		{Preset: layout.FlippedFrog, FrogMetal: true, IsolatedToe: true, IsolatedHeel: true, FrogFrom: layout.FrogFromDevice, Jumpers: layout.YesNoUnknown},
		{Preset: layout.SwitchedFrog, FrogMetal: true, IsolatedToe: true, IsolatedHeel: true, FrogFrom: layout.FrogFromContacts, Jumpers: layout.YesNoUnknown},
		{Preset: layout.InFull, Blades: layout.BladesEachOther, Closures: layout.ClosuresFrog, FrogMetal: true, IsolatedHeel: true, FrogFrom: layout.FrogFromBlades, Jumpers: layout.No},
		{Preset: layout.PowerRoutingGapped, Blades: layout.BladesEachOther, Closures: layout.ClosuresBoth, FrogMetal: true, IsolatedHeel: true, FrogFrom: layout.FrogFromBlades, Jumpers: layout.No},
	} {
		got := l.Turnouts[i].Wiring
		want.Pos = got.Pos
		if got != want {
			t.Errorf("%s: %+v, want %+v", l.Turnouts[i].Name, got, want)
		}
	}
	t21 := l.Turnouts[1]
	if t21.FrogTap.Text != "main @ 22 ft" || len(t21.FrogGets) != 2 || t21.FrogGets[0].Gets != layout.GetsLegB || t21.FrogGets[1].Gets != layout.GetsLegA || l.Pieces[t21.ThrowsWith].Name != "T20" || t21.Throw != layout.MakeFirst {
		t.Errorf("T21: %+v", t21)
	}
	if s := l.ThreeWays[1]; s.Lapped || len(s.FrogGets) != 6 || s.FrogGets[4] != (layout.ContactMap{Frog: "middle-frog", Setting: "left", Gets: layout.GetsStockRight, Pos: s.FrogGets[4].Pos}) {
		t.Errorf("3S: %+v", s)
	}
	if ct := l.Turnouts[3]; ct.BladeContact.Lo != 0.05 || ct.BladeContact.Hi != 0.5 || !metres(ct.Length, 13*inch, 13*inch) {
		t.Errorf("CT: %+v", ct)
	}
}
