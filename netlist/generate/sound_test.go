package generate_test

import (
	"testing"

	"gapwise/netlist/circuit"
	"gapwise/netlist/generate"
	"gapwise/netlist/layout"
)

// fed is what a node is tied to: a source and its leg, by number from 1; 0 is nothing.
type fed int32

const tiedTwice fed = -1

// sources ties every node to the source and leg that reach it without passing through a
// breaker, reverser or the like. Sure says whether joints that may fail count as open.
func sources(c *circuit.Circuit, sure bool) []fed {
	under := make([]int32, c.Nodes)
	for i := range under {
		under[i] = int32(i)
	}
	root := func(n int32) int32 {
		for under[n] != n {
			under[n] = under[under[n]]
			n = under[n]
		}
		return n
	}
	for i := range c.Conductors {
		x := &c.Conductors[i]
		if x.Parts() || x.Device >= 0 || sure && !x.Sure {
			continue
		}
		under[root(x.A)] = root(x.B)
	}
	at := make([]fed, c.Nodes)
	for s := range c.Sources {
		if k := c.Sources[s].Kind; k == circuit.SupplySource {
			continue
		}
		for leg, n := range c.Sources[s].Out {
			if r := root(n); at[r] == 0 {
				at[r] = fed(2*s + leg + 1)
			} else {
				at[r] = tiedTwice
			}
		}
	}
	all := make([]fed, c.Nodes)
	for n := range all {
		all[n] = at[root(int32(n))]
	}
	return all
}

// TestSound traces the circuits in a way of its own: no rail is tied to two legs or two
// sources, with every doubtful joint closed; every rail is fed, with all of them open;
// and rails that meet across a gap carry the same leg, but where a reverser sees to it.
func TestSound(t *testing.T) {
	for seed := range uint64(20) {
		l := generate.Layout(4000, seed)
		c := circuitOf(t, l)
		closed, open := sources(c, false), sources(c, true)
		free := func(f fed) bool { return c.Sources[(f-1)/2].Free }
		rails := 0
		for i := range c.Spots {
			s := &c.Spots[i]
			for r, n := range s.Node {
				rails++
				if closed[n] <= 0 || open[n] <= 0 {
					t.Fatalf("seed %d: %s at %.2f m, rail %d: fed by %d with every joint closed, by %d with doubtful ones open", seed, l.Pieces[s.Piece].Name, s.At, r, closed[n], open[n])
				}
			}
			if (closed[s.Node[0]]-1)/2 != (closed[s.Node[1]]-1)/2 || closed[s.Node[0]] == closed[s.Node[1]] {
				t.Fatalf("seed %d: %s at %.2f m: the rails are fed by %v", seed, l.Pieces[s.Piece].Name, s.At, s.Node)
			}
		}
		turned, crossed := 0, 0
		for i := range c.Ways {
			w := &c.Ways[i]
			a := c.Spots[w.A].Node[layout.Left]
			b := c.Spots[w.B].Node[layout.Left]
			if w.Turned {
				b = c.Spots[w.B].Node[layout.Right]
				turned++
			}
			if w.Kind != circuit.WayCut || free(closed[a]) || free(closed[b]) {
				continue
			}
			if (closed[a]-1)%2 != (closed[b]-1)%2 {
				t.Fatalf("seed %d: opposite legs meet across the gap at %s", seed, l.Pieces[w.Piece].Name)
			}
			if closed[a] != closed[b] {
				crossed++
			}
		}
		if rails < 1000 || turned < 20 || crossed < 3 {
			t.Fatalf("seed %d: only %d rails, %d turned joints and %d gaps between districts seen", seed, rails, turned, crossed)
		}
		frogs(t, c, closed)
	}
}

// frogs checks that a switched frog only ever touches the rail that wheels need it to be.
func frogs(t *testing.T, c *circuit.Circuit, closed []fed) {
	needs := map[[2]int32]int32{}
	for _, d := range c.Demands {
		needs[[2]int32{d.Frog, int32(d.Position)}] = d.As
	}
	contacts := 0
	for i := range c.Conductors {
		x := &c.Conductors[i]
		if x.Kind != circuit.PiecePart || x.Device < 0 {
			continue
		}
		contacts++
		as, known := needs[[2]int32{x.A, int32(x.Position)}]
		if !known || closed[as] != closed[x.B] {
			t.Fatalf("a contact of %s gives the frog another leg than wheels do", c.Devices[x.Device].Name)
		}
	}
	if contacts < 4 {
		t.Fatal("no switched frogs seen")
	}
}

// TestLoopsHoldTrains measures every reversing section against the longest train.
func TestLoopsHoldTrains(t *testing.T) {
	l := generate.Layout(20_000, 3)
	longest := 0.0
	for i := range l.Trains {
		longest = max(longest, l.Trains[i].Length.Hi)
	}
	loops := 0
	for i := range l.Districts {
		if l.Districts[i].From.Kind != layout.FromReverser {
			continue
		}
		loops++
		for _, b := range l.Districts[i].Blocks {
			for _, s := range l.Blocks[b].Covers {
				if s.To.Mid()-s.From.Mid() < longest {
					t.Errorf("%s is shorter than the longest train", s.Text)
				}
			}
		}
	}
	if loops < 5 {
		t.Errorf("%d loops seen", loops)
	}
}

// TestDetectorsSeeTheirBlocks takes every detector out: what it watched is then cut off
// from its own input, and that is the rail of its block and no other.
func TestDetectorsSeeTheirBlocks(t *testing.T) {
	for seed := range uint64(5) {
		l := generate.Layout(4000, seed)
		c := circuitOf(t, l)
		net := netsWithoutDetectors(c)
		blockOf := map[int32]int{} // by the net behind its detector
		for b := range l.Blocks {
			if d := l.Blocks[b].Detector; d >= 0 {
				blockOf[net[c.DetectorOut[d]]] = b + 1
			}
		}
		for d := range l.Detectors {
			if net[c.DetectorIn[d]] == net[c.DetectorOut[d]] {
				t.Fatalf("seed %d: detector %s is bypassed", seed, l.Detectors[d].Name)
			}
		}
		inside := 0
		for b := range l.Blocks {
			for _, s := range l.Blocks[b].Covers {
				if l.Pieces[s.Piece].Kind != layout.TrackPiece {
					continue
				}
				for _, spot := range c.TrackSpots[l.Pieces[s.Piece].Index] {
					if at := c.Spots[spot].At; at <= s.From.Mid() || at >= s.To.Mid() {
						continue
					}
					inside++
					seen := 0
					for _, n := range c.Spots[spot].Node {
						seen = max(seen, blockOf[net[n]])
					}
					if want := b + 1; (l.Blocks[b].Detector >= 0 || seen > 0) && seen != want {
						t.Fatalf("seed %d: rail of block %s hangs behind the detector of block %d", seed, l.Blocks[b].Name, seen-1)
					}
				}
			}
		}
		if inside < 300 || len(blockOf) < 10 {
			t.Fatalf("seed %d: only %d places in blocks and %d detectors seen", seed, inside, len(blockOf))
		}
	}
}

// netsWithoutDetectors numbers the nets that are left when no detector conducts.
func netsWithoutDetectors(c *circuit.Circuit) []int32 {
	next := make([][]int32, c.Nodes)
	for i := range c.Conductors {
		if x := &c.Conductors[i]; x.Kind != circuit.DetectorLeg && x.Device < 0 {
			next[x.A] = append(next[x.A], x.B)
			next[x.B] = append(next[x.B], x.A)
		}
	}
	net := make([]int32, c.Nodes)
	for n := range net {
		if net[n] != 0 {
			continue
		}
		net[n] = int32(n) + 1
		for queue := []int32{int32(n)}; len(queue) > 0; queue = queue[1:] {
			for _, m := range next[queue[0]] {
				if net[m] == 0 {
					net[m] = int32(n) + 1
					queue = append(queue, m)
				}
			}
		}
	}
	return net
}
