package circuit_test

import (
	"context"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"pgregory.net/rapid"
)

// What holds in every layout.
func TestLaws(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := drawPlan(r)
		c := build(r, p.text())
		sound(r, c)
		if got, want := len(c.Spots), p.spots(); got != want {
			r.Fatalf("%d spots, want %d, in\n%s", got, want, p.text())
		}
		railLengths(r, c)
		again, err := circuit.Build(context.Background(), c.Layout, circuit.OptionsFor(c.Layout))
		if err != nil || !reflect.DeepEqual(c, again) {
			r.Fatalf("built twice, it differs: %v", err)
		}
	})
}

// sound sees that whatever a circuit refers to is there, and that ways and conductors agree.
func sound(t fataler, c *circuit.Circuit) {
	t.Helper()
	l := c.Layout
	node := func(n int32, what string, of any) {
		if n < 0 || int(n) >= c.Nodes {
			t.Fatalf("%s has the node %d of %d: %+v", what, n, c.Nodes, of)
		}
	}
	spot := func(s int32) bool { return s >= 0 && int(s) < len(c.Spots) }
	refs := map[circuit.Kind]int{
		circuit.RailLength: len(l.Pieces), circuit.JointMetal: len(l.Pieces), circuit.PiecePart: len(l.Pieces), circuit.BridgeFeed: len(l.Pieces),
		circuit.BondWire: len(l.Bonds), circuit.FeederWire: len(l.Feeders), circuit.BusSpan: len(l.Buses), circuit.WireEnd: len(l.Buses),
		circuit.BreakerLeg: len(l.Breakers), circuit.ReverserLeg: len(l.Reversers), circuit.DetectorLeg: len(l.Detectors), circuit.PastDetector: len(l.Detectors),
		circuit.InLineLeg: len(l.InLines), circuit.PastInLine: len(l.InLines), circuit.ChangeoverLeg: len(l.Changeovers), circuit.PlugLeg: len(l.Plugs),
	}
	inPosition := func(device int32, position int16) bool {
		if device < 0 {
			return device == -1 && position == -1
		}
		return int(device) < len(c.Devices) && position >= 0 && int(position) < len(c.Devices[device].Positions)
	}
	for i := range c.Conductors {
		k := &c.Conductors[i]
		node(k.A, "a conductor", *k)
		node(k.B, "a conductor", *k)
		switch {
		case k.A == k.B && k.Kind == circuit.RailLength:
			t.Fatalf("a rail from a node to itself: %+v", *k)
		case k.Ref < 0 || int(k.Ref) >= refs[k.Kind]:
			t.Fatalf("a conductor of what is not there: %+v", *k)
		case !inPosition(k.Device, k.Position):
			t.Fatalf("a conductor in a position that is not there: %+v", *k)
		case k.Length() < 0 || math.IsNaN(k.Length()) || math.IsInf(k.Length(), 0):
			t.Fatalf("a conductor %v m long: %+v", k.Length(), *k)
		case (k.Part != circuit.NoPart) != (k.Kind == circuit.PiecePart):
			t.Fatalf("a conductor with the part %q: %+v", k.Part, *k)
		case k.Part != circuit.NoPart && k.Part.String() == "":
			t.Fatalf("a part without a name: %+v", *k)
		}
	}
	seen := map[int32]bool{}
	for i := range c.Spots {
		for _, n := range c.Spots[i].Node {
			node(n, "a spot", c.Spots[i])
			if seen[n] {
				t.Fatalf("two rails have the node %d", n)
			}
			seen[n] = true
		}
	}
	for i := range c.Ways {
		w := &c.Ways[i]
		if !spot(w.A) || !spot(w.B) || w.A == w.B || !inPosition(w.Device, w.Position) || w.Length < 0 {
			t.Fatalf("a way from or to nowhere: %+v", *w)
		}
		for rail, k := range w.Rails {
			if k < 0 {
				continue
			}
			across := rail
			if w.Turned {
				across = 1 - rail
			}
			m := &c.Conductors[k]
			if m.A != c.Spots[w.A].Node[rail] || m.B != c.Spots[w.B].Node[across] || m.Sure != (w.Metal[rail] == circuit.Joined) {
				t.Fatalf("a way and its rail differ: %+v, %+v", *w, *m)
			}
		}
		for _, g := range w.Gaps {
			if g >= int32(len(l.Gaps)) || (g >= 0) != (w.Kind == circuit.WayCut) && g >= 0 {
				t.Fatalf("a way with a gap that is not there: %+v", *w)
			}
		}
	}
	for _, d := range c.Demands {
		node(d.Frog, "a demand", d)
		node(d.As, "a demand", d)
		if !inPosition(d.Device, d.Position) || d.Name == "" || d.Frog == d.As {
			t.Fatalf("a demand of nothing: %+v", d)
		}
	}
	for _, m := range c.Inner {
		node(m.Node, "inner metal", m)
	}
	for _, s := range c.Sources {
		node(s.Out[0], "a source", s)
		node(s.Out[1], "a source", s)
		if int(s.Parent) >= len(c.Sources) || int(s.Booster) >= len(c.Sources) {
			t.Fatalf("a source under nothing: %+v", s)
		}
	}
	for _, s := range c.FeederSpot {
		if s != -1 && !spot(s) {
			t.Fatalf("a feeder at the spot %d", s)
		}
	}
	if len(c.FeederSpot) != len(l.Feeders) || len(c.EndSpot) != len(l.Pieces) || len(c.PieceDevice) != len(l.Pieces) || len(c.TrackSpots) != len(l.Tracks) || len(c.BusNodes) != len(l.Buses) {
		t.Fatalf("tables of another length than the layout's")
	}
	for _, n := range c.NotModelled {
		if n.What == "" || n.Why == "" {
			t.Fatalf("something is left open without a word: %+v", n)
		}
	}
}

// railLengths sees that each rail of a track is as long as its ruler without the bodies on it.
func railLengths(t fataler, c *circuit.Circuit) {
	t.Helper()
	laid := map[layout.PieceID][2]float64{}
	for i := range c.Conductors {
		if k := &c.Conductors[i]; k.Kind == circuit.RailLength {
			sums := laid[layout.PieceID(k.Ref)]
			sums[k.Rail] += k.Length()
			laid[layout.PieceID(k.Ref)] = sums
		}
	}
	for i := range c.Layout.Tracks {
		tr := &c.Layout.Tracks[i]
		if !tr.Length.Known() {
			continue
		}
		want := tr.Length.Mid()
		for _, s := range tr.Stands {
			want -= s.Length.Mid()
		}
		for rail, got := range laid[tr.Piece] {
			if math.Abs(got-want) > 1e-5 {
				t.Fatalf("the %s rail of %s is %v m, want %v", railWord[rail], tr.Name, got, want)
			}
		}
	}
}

// endRails are the rails at the ends of tracks and turnouts by name, as if no track had been flipped.
func endRails(p *plan, c *circuit.Circuit) map[string]int32 {
	nodes := map[string]int32{}
	for id := range c.Layout.Pieces {
		piece := &c.Layout.Pieces[id]
		flipped := piece.Kind == layout.TrackPiece && p.flipped[piece.Index]
		for e := range piece.Ends {
			for rail := range 2 {
				end, r := e, rail
				if flipped {
					end, r = 1-e, 1-rail
				}
				nodes[piece.Name+" "+piece.Ends[end].Name+" "+railWord[r]] = c.Spots[c.EndSpot[id][e]].Node[rail]
			}
		}
	}
	return nodes
}

// ties lists the groups of end rails, by everything that conducts always and surely,
// then by everything that may, then by each position of each device.
func ties(p *plan, c *circuit.Circuit) []string {
	nodes := endRails(p, c)
	members := make([]string, 0, len(nodes))
	for m := range nodes {
		members = append(members, m)
	}
	var lines []string
	add := func(what string, take func(*circuit.Conductor) bool) {
		g := joined(c, take)
		lines = append(lines, what)
		lines = append(lines, partition(members, func(m string) int32 { return g.find(nodes[m]) })...)
	}
	add("surely", surely)
	add("perhaps", perhaps)
	for d := range c.Devices {
		for at, name := range c.Devices[d].Positions {
			add(c.Devices[d].Name+" "+name, func(k *circuit.Conductor) bool {
				return k.Device < 0 || (k.Device == int32(d) && int(k.Position) == at)
			})
		}
	}
	return lines
}

// Typing a track the other way round changes no metal, only names.
func TestTrackTheOtherWayRound(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := drawPlan(r)
		before := ties(p, build(r, p.text()))
		for i := range p.flipped {
			p.flipped[i] = rapid.Bool().Draw(r, "flip")
		}
		if after := ties(p, build(r, p.text())); !slices.Equal(before, after) {
			r.Fatalf("before\n%s\n\nafter\n%s\n\nin\n%s", strings.Join(before, "\n"), strings.Join(after, "\n"), p.text())
		}
	})
}

// Closing every gap parts nothing that was joined.
func TestGapsOnlyPart(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := drawPlan(r)
		cut := build(r, p.text())
		p.noGaps = true
		whole := build(r, p.text())
		for _, take := range []func(*circuit.Conductor) bool{surely, perhaps} {
			cutNodes, wholeNodes := endRails(p, cut), endRails(p, whole)
			cutGroups, wholeGroups := joined(cut, take), joined(whole, take)
			group := map[int32]int32{}
			for m, n := range cutNodes {
				was, is := cutGroups.find(n), wholeGroups.find(wholeNodes[m])
				if other, known := group[was]; known && other != is {
					r.Fatalf("%s was joined to what it is not joined to without gaps, in\n%s", m, p.text())
				}
				group[was] = is
			}
		}
	})
}
