package split

import (
	"math"

	"gonum.org/v1/gonum/graph/path"
	"gonum.org/v1/gonum/graph/simple"

	"gapwise/netlist/layout"
)

// near measures along the track from where power is fed in.
func (x *instance) near(ask *Ask) error {
	g := x.atoms.g
	in, err := x.powerPlace(ask)
	if err != nil {
		return err
	}
	x.place = in.text
	net := simple.NewWeightedUndirectedGraph(0, math.Inf(1))
	edge := func(a, b int32, metres float64) {
		if a == b {
			return
		}
		if w, found := net.Weight(int64(a), int64(b)); found && w <= metres {
			return
		}
		net.SetWeightedEdge(simple.WeightedEdge{F: simple.Node(a), T: simple.Node(b), W: metres})
	}
	for p := range g.c.Spots {
		net.AddNode(simple.Node(p))
	}
	for i := range g.c.Ways {
		w := &g.c.Ways[i]
		edge(w.A, w.B, w.Length)
	}
	start := int64(in.spot)
	if in.span >= 0 {
		start = int64(len(g.c.Spots)) // a node of its own
		w := &g.c.Ways[g.spans[in.span].way]
		for _, end := range [2]int32{w.A, w.B} {
			net.SetWeightedEdge(simple.WeightedEdge{F: simple.Node(start), T: simple.Node(end), W: math.Abs(in.at - g.c.Spots[end].At)})
		}
	}
	tree := path.DijkstraFrom(simple.Node(start), net)
	far := int64(0)
	least := make([]int64, len(x.nodes))
	for n := range least {
		least[n] = math.MaxInt64
	}
	reach := func(n, spot int32, further float64) {
		d := tree.WeightTo(int64(spot)) + further
		if n < 0 || math.IsInf(d, 1) {
			return
		}
		mm := int64(math.Round(d * 1000))
		least[n] = min(least[n], mm)
		far = max(far, mm)
	}
	for p := range g.c.Spots {
		reach(x.atoms.of[p], int32(p), 0)
	}
	for i := range g.spans { // what begins at a cut lies no farther off than the cut
		s := &g.spans[i]
		for _, end := range [2]int32{g.c.Ways[s.way].A, g.c.Ways[s.way].B} {
			at := g.c.Spots[end].At
			reach(x.atoms.of[s.point], end, min(math.Abs(s.from-at), math.Abs(s.to-at)))
		}
	}
	if in.span >= 0 {
		least[x.atoms.of[g.spans[in.span].point]] = 0
	}
	for n := range x.nodes {
		if x.nodes[n].Near = least[n]; least[n] == math.MaxInt64 {
			x.nodes[n].Near = far // no track leads there
		}
	}
	return nil
}

// feedIn is where power comes in: at a spot, or inside a stretch (span -1 for none).
type feedIn struct {
	spot, span int32
	at         float64
	text       string
}

// powerPlace is the place of track next to the present booster: its first feeder's, unless the owner says.
func (x *instance) powerPlace(ask *Ask) (feedIn, error) {
	g := x.atoms.g
	if ask.At != nil {
		return x.placeAsked(ask.At)
	}
	in := feedIn{spot: -1, span: -1}
	least := math.Inf(1)
	for f := range g.l.Feeders {
		spot := g.c.FeederSpot[f]
		if spot < 0 || x.atoms.of[spot] < 0 {
			continue
		}
		if d, ok := g.wireTo(g.l.Feeders[f].From); ok && d < least {
			least = d
			in.spot, in.text = spot, g.l.Feeders[f].Place.Text
		}
	}
	for p := 0; p < len(g.c.Spots) && in.spot < 0; p++ {
		if x.atoms.of[p] >= 0 {
			x.notes = append(x.notes, "where power comes in is not known: taken to be at the first track; say it with --at")
			in.spot, in.text = int32(p), x.atoms.name(x.atoms.of[p])
		}
	}
	return in, nil
}

// placeAsked is the place that the owner names.
func (x *instance) placeAsked(p *layout.Place) (feedIn, error) {
	g := x.atoms.g
	in := feedIn{spot: -1, span: -1, text: p.Text}
	piece := &g.l.Pieces[p.Piece]
	if piece.Kind != layout.TrackPiece || p.End >= 0 {
		in.spot = g.c.EndSpot[p.Piece][max(p.End, 0)]
	} else {
		in.at = p.At.Mid()
		for _, i := range g.spanAt[piece.Index] {
			if s := &g.spans[i]; s.from <= in.at && in.at <= s.to {
				in.span = i
			}
		}
	}
	if in.spot >= 0 && x.atoms.of[in.spot] >= 0 || in.span >= 0 && x.atoms.of[g.spans[in.span].point] >= 0 {
		return in, nil
	}
	return in, refuse("--at: %s is not on track that is divided", p.Text)
}

// wireTo is the length of bus from the booster to a feeder's tap, in metres; ok is false where the way is not known.
func (g *ground) wireTo(taps [2]layout.Tap) (metres float64, ok bool) {
	tap := taps[0]
	if taps[1].Bus >= 0 {
		tap = taps[1] // detectors usually stand in leg A
	}
	if tap.Bus < 0 || !tap.At.Known() {
		return 0, false
	}
	metres = tap.At.Mid()
	for _, s := range above(g.l, tap) {
		switch {
		case s.Kind == layout.FromBooster:
			return metres, true
		case s.Kind == layout.FromTap:
			metres += s.Tap.At.Mid()
		}
	}
	return 0, false
}

// above lists what a tap's bus hangs from, and what that hangs from, up to where a layout says no more.
func above(l *layout.Layout, tap layout.Tap) []layout.Source {
	if tap.Bus < 0 {
		return nil
	}
	var out []layout.Source
	from := l.Buses[tap.Bus].From
	for range len(l.Buses) + len(l.Breakers) + len(l.Detectors) + len(l.InLines) + len(l.Plugs) + len(l.Reversers) {
		out = append(out, from)
		if from.Kind == layout.FromTap && from.Tap.Bus >= 0 {
			from = l.Buses[from.Tap.Bus].From
			continue
		}
		up, found := hangsFrom(l, from)
		if !found {
			break
		}
		from = up
	}
	return out
}

// hangsFrom is what the device that a source names hangs from itself.
func hangsFrom(l *layout.Layout, s layout.Source) (layout.Source, bool) {
	switch s.Kind {
	case layout.FromBreaker:
		return l.Breakers[s.Index].From, true
	case layout.FromReverser:
		return l.Reversers[s.Index].From, true
	case layout.FromDetector:
		return l.Detectors[s.Index].From, true
	case layout.FromInLine:
		return l.InLines[s.Index].From, true
	case layout.FromPlug:
		return l.Plugs[s.Index].From, true
	default:
		return layout.Source{}, false
	}
}
