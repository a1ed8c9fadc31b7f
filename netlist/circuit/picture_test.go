package circuit_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// TestPictures compares the program's conductors with pictures drawn by hand. A picture
// that cannot be compared fails.
func TestPictures(t *testing.T) {
	all := pictures(t)
	for i := range all {
		t.Run(all[i].name, func(t *testing.T) { compare(t, &all[i]) })
	}
	const drawn = 198
	if len(all) != drawn {
		t.Errorf("%d pictures, want %d", len(all), drawn)
	}
}

func compare(t *testing.T, p *picture) {
	text, err := p.layoutText()
	if err != nil {
		t.Fatal(err)
	}
	c := build(t, text)
	s := shown{t: t, p: p, c: c, device: settingDevice(t, p, c), nodes: map[string]int32{}}
	for _, m := range p.members() {
		s.nodes[m] = memberNode(t, c, p.kind, m)
	}
	s.compare("always", p.always, -1)
	positions := s.positions()
	for at, name := range positions {
		i := slices.IndexFunc(p.settings, func(x pictureSetting) bool { return x.name == name })
		switch {
		case i >= 0:
			s.compare(name, p.settings[i].lines, at)
		case len(p.settings) == 0:
			s.compare("always", p.always, at)
		default:
			t.Errorf("the picture lacks the setting %s", name)
		}
	}
	for _, x := range p.settings {
		if !slices.Contains(positions, x.name) {
			t.Errorf("the program lacks the setting %s; it has %s", x.name, strings.Join(positions, ", "))
		}
	}
	if len(p.maybes) == 0 {
		for i := range c.Conductors {
			if k := &c.Conductors[i]; !k.Sure {
				t.Errorf("nothing in the picture is uncertain, but %s %v is", k.Part, *k)
			}
		}
	}
}

// shown is a picture beside the circuit it shows.
type shown struct {
	t      *testing.T
	p      *picture
	c      *circuit.Circuit
	device int32 // whose positions are the picture's settings, -1 for none
	nodes  map[string]int32
}

// settingDevice is the device of the only piece that has positions.
func settingDevice(t *testing.T, p *picture, c *circuit.Circuit) int32 {
	devices := slices.DeleteFunc(slices.Clone(c.PieceDevice), func(d int32) bool { return d < 0 })
	switch {
	case len(devices) == 1:
		return devices[0]
	case len(p.settings) > 0:
		t.Fatalf("the picture has settings, but %d pieces have", len(devices))
	}
	return -1
}

// positions are the positions of the piece by the names that pictures give them.
func (s *shown) positions() []string {
	if s.device < 0 {
		return nil
	}
	names := slices.Clone(s.c.Devices[s.device].Positions)
	for i, name := range names {
		if leg, both := strings.CutSuffix(name, ", second throw thrown"); both {
			names[i] = leg + "*"
		}
	}
	return names
}

// compare holds the certain and the loosest partition of one setting against the
// picture's. at is the position, -1 for what holds in every setting.
func (s *shown) compare(setting string, lines [][]string, at int) {
	s.t.Helper()
	always := at < 0
	here := func(k *circuit.Conductor) bool {
		return k.Device < 0 || (k.Device == s.device && int(k.Position) == at)
	}
	certain := joined(s.c, func(k *circuit.Conductor) bool { return k.Sure && here(k) })
	s.bridgeEnds(certain, at)
	s.differ(setting+", certain", s.p.certain(lines), certain)
	loosest := joined(s.c, func(k *circuit.Conductor) bool {
		return here(k) || (!always && k.Device != s.device)
	})
	s.bridgeEnds(loosest, at)
	s.unknownFrogs(loosest, setting)
	maybes := s.p.maybes
	if always {
		maybes = slices.DeleteFunc(slices.Clone(maybes), func(m maybe) bool { return m.setting != "" })
	}
	s.differ(setting+", loosest", s.p.loosest(lines, setting, maybes), loosest)
	if s.p.neverBoth && !always {
		s.excluded(setting, lines, here)
	}
}

func (s *shown) differ(what string, want []string, g groups) {
	s.t.Helper()
	got := partition(s.p.members(), func(m string) int32 { return g.find(s.nodes[m]) })
	if d := difference(want, got); d != "" {
		s.t.Errorf("%s:%s", what, d)
	}
}

// bridgeEnds joins a bridge's rails with those it meets, as the pictures do: in the
// circuit only wheels join them.
func (s *shown) bridgeEnds(g groups, at int) {
	for _, w := range s.c.Ways {
		if w.Kind != circuit.WayPit || int(w.Position) != at {
			continue
		}
		x, y := s.c.Spots[w.A].Node, s.c.Spots[w.B].Node
		if w.Turned {
			y[layout.Left], y[layout.Right] = y[layout.Right], y[layout.Left]
		}
		g.join(x[layout.Left], y[layout.Left])
		g.join(x[layout.Right], y[layout.Right])
	}
}

// unknownFrogs joins with both rails each frog of a slip of which the program says that
// it does not know, in this setting, what feeds it.
func (s *shown) unknownFrogs(g groups, setting string) {
	for _, m := range s.p.members() {
		what := "the " + m + " frog of " + subject + " at " + setting
		if slices.ContainsFunc(s.c.NotModelled, func(n circuit.NotModelled) bool { return n.What == what }) {
			g.join(s.nodes[m], s.nodes["a.left"])
			g.join(s.nodes[m], s.nodes["a.right"])
		}
	}
}

// excluded sees that what may be one with either of two rails never joins the two: whatever
// positions the other devices take, what the picture has apart stays apart but for the
// members that the maybes move.
func (s *shown) excluded(setting string, lines [][]string, here func(*circuit.Conductor) bool) {
	moved := func(m string) bool {
		return slices.ContainsFunc(s.p.maybes, func(x maybe) bool { return x.setting == setting && x.pair[0] == m })
	}
	var fixed [][]string
	for _, line := range lines {
		if rest := slices.DeleteFunc(slices.Clone(line), moved); len(rest) > 0 {
			fixed = append(fixed, rest)
		}
	}
	for at := range int16(2) {
		g := joined(s.c, func(k *circuit.Conductor) bool {
			return here(k) || (k.Device != s.device && k.Position == at)
		})
		var want, members []string
		for _, line := range fixed {
			members = append(members, line...)
			want = append(want, strings.Join(slices.Sorted(slices.Values(line)), " "))
		}
		got := partition(members, func(m string) int32 { return g.find(s.nodes[m]) })
		if d := difference(want, got); d != "" {
			s.t.Errorf("%s, other devices in position %d:%s", setting, at, d)
		}
	}
}

// memberNode is the node of a member of a picture.
func memberNode(t *testing.T, c *circuit.Circuit, kind, member string) int32 {
	t.Helper()
	if kind == "track" {
		name, rest, _ := strings.Cut(member, ".")
		p := piece(t, c, name)
		if c.Layout.Pieces[p].Kind == layout.TrackPiece {
			spots := c.TrackSpots[c.Layout.Pieces[p].Index]
			at := map[string]int32{"start": spots[0], "end": spots[len(spots)-1]}
			end, rail, _ := strings.Cut(rest, ".")
			spot, known := at[end]
			if !known {
				t.Fatalf("no end %s", member)
			}
			return c.Spots[spot].Node[railNamed(t, rail)]
		}
		return pieceNode(t, c, p, rest)
	}
	return pieceNode(t, c, piece(t, c, subject), member)
}

// pieceNode is the node of a member of track work.
func pieceNode(t *testing.T, c *circuit.Circuit, p layout.PieceID, member string) int32 {
	t.Helper()
	if member == "A" || member == "B" {
		return c.Sources[0].Out[map[string]layout.Leg{"A": layout.A, "B": layout.B}[member]]
	}
	end, rail, dotted := strings.Cut(member, ".")
	if !dotted {
		return innerNode(t, c, p, member)
	}
	for i := range c.Spots {
		s := &c.Spots[i]
		if s.Piece == p && ((s.End < 0 && end == "bridge") || (s.End >= 0 && c.Layout.Pieces[p].Ends[s.End].Name == end)) {
			return s.Node[railNamed(t, rail)]
		}
	}
	t.Fatalf("no end %s", member)
	return -1
}

func railNamed(t *testing.T, name string) int {
	t.Helper()
	rail := slices.Index([]string{"left", "right"}, name)
	if rail < 0 {
		t.Fatalf("no rail %s", name)
	}
	return rail
}

// innerNode is metal inside a piece: a closure rail by the conductor that leads to it,
// the rest by its name.
func innerNode(t *testing.T, c *circuit.Circuit, p layout.PieceID, name string) int32 {
	t.Helper()
	closures := map[string]circuit.Part{"left-closure": circuit.ClosureLeft, "right-closure": circuit.ClosureRight}
	part, closure := closures[name]
	for i := range c.Conductors {
		if k := &c.Conductors[i]; closure && k.Kind == circuit.PiecePart && k.Part == part && k.Ref == int32(p) {
			return k.B
		}
	}
	for _, m := range c.Inner {
		if m.Piece == p && m.Name == name {
			return m.Node
		}
	}
	t.Fatalf("%s has no %s; it has %s", c.Layout.Pieces[p].Name, name, fmt.Sprint(c.Inner))
	return -1
}
