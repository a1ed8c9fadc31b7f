package oracle

import (
	"fmt"
	"math"
)

// edge is where wheels cross from an approach track to a bridge, in one setting.
type edge struct {
	piece   int
	in      uint64
	end     int // of the piece, at the pit
	left    int // bridge rails
	right   int
	asStart bool // the bridge meets the track as a start, not as an end
}

// addPit adds an end with no metal of its own.
func (b *builder) addPit(p int, name string) int {
	b.addEnd(p, name, b.node(), b.node(), false, -1)
	at := len(b.ends) - 1
	b.ends[at].pit = true
	return at
}

func (b *builder) tableFeed(f fields) (pair, int, error) {
	tap, err := b.origin(f.text("from"))
	if err != nil {
		return nowhere, 0, err
	}
	if tap[0] < 0 || tap[1] < 0 {
		return nowhere, 0, fmt.Errorf("needs two legs")
	}
	a, err := railWord(f.text("A"))
	return tap, a, err
}

// feedBridge gives bridge rail a leg A in some settings, and the other leg B.
func (b *builder) feedBridge(p int, in uint64, rails [2]int, a int, tap pair, name string) {
	b.when(p, in, rails[a], b.legNode(tap[0], pieceplace(name)))
	b.when(p, in, rails[1-a], b.legNode(tap[1], pieceplace(name)))
}

func (b *builder) turntable(e entry, f fields) error {
	tap, a, err := b.tableFeed(f)
	if err != nil {
		return err
	}
	_, bridge, err := lengthRange(f.text("bridge"))
	if err != nil {
		return err
	}
	feed := f.text("feed")
	if !oneOf(feed, "plain", "split-ring") {
		return fmt.Errorf("feed unsaid")
	}
	split, dead := 0.0, 0.0
	if feed == "split-ring" {
		if split, err = degrees(f.text("split-at")); err != nil {
			return err
		}
		if arc := f.text("dead-arc"); arc != "" {
			if dead, err = degrees(arc); err != nil {
				return err
			}
		}
	}
	rails := [2]int{b.node(), b.node()}
	p := b.addPiece(piece{name: e.name, kind: "turntable", bridge: bridge})
	type approach struct {
		name  string
		angle float64
		end   int
	}
	var tracks []approach
	for _, t := range pairsOf(f.node("tracks")) {
		angle, err := degrees(t.value.Value)
		if err != nil {
			return err
		}
		tracks = append(tracks, approach{t.key, angle, b.addPit(p, t.key)})
	}
	half := func(angle float64) int { return int(math.Floor(turn(angle-split) / 180)) }
	onSplit := func(angle float64) bool {
		off := math.Mod(turn(angle-split), 180)
		return math.Min(off, 180-off) <= math.Max(dead/2, 1e-9)
	}
	if feed == "split-ring" && onSplit(0) {
		return fmt.Errorf("the ring is split where A is said")
	}
	var done []float64
	for _, t := range tracks {
		for side, word := range []string{"head", "tail"} {
			head := turn(t.angle + 180*float64(side))
			if near(done, head) {
				continue
			}
			done = append(done, head)
			in := uint64(1) << len(b.pieces[p].settings)
			s := setting{name: t.name + " " + word, rank: len(b.pieces[p].settings)}
			var atHead, atTail string
			for _, o := range tracks {
				switch {
				case near([]float64{head}, turn(o.angle)):
					atHead = o.name
					b.edges = append(b.edges, edge{p, in, o.end, rails[0], rails[1], false})
				case near([]float64{turn(head + 180)}, turn(o.angle)):
					atTail = o.name
					b.edges = append(b.edges, edge{p, in, o.end, rails[0], rails[1], true})
				}
			}
			if atHead != "" && atTail != "" {
				s.routes = [][2]string{{atTail, atHead}}
			}
			b.pieces[p].settings = append(b.pieces[p].settings, s)
			if feed == "split-ring" && onSplit(head) {
				continue
			}
			legA := a
			if feed == "split-ring" && half(head) != half(0) {
				legA = 1 - a
			}
			b.feedBridge(p, in, rails, legA, tap, e.name)
		}
	}
	return nil
}

func turn(angle float64) float64 {
	angle = math.Mod(angle, 360)
	if angle < 0 {
		angle += 360
	}
	return angle
}

// near says whether an angle is one of some, within half a degree.
func near(of []float64, angle float64) bool {
	for _, o := range of {
		off := turn(o - angle)
		if math.Min(off, 360-off) < 0.5 {
			return true
		}
	}
	return false
}

func (b *builder) transferTable(e entry, f fields) error {
	tap, a, err := b.tableFeed(f)
	if err != nil {
		return err
	}
	_, bridge, err := lengthRange(f.text("bridge"))
	if err != nil {
		return err
	}
	rails := [2]int{b.node(), b.node()}
	p := b.addPiece(piece{name: e.name, kind: "transfer-table", bridge: bridge})
	ends := map[string]int{}
	as, bs := pairsOf(f.node("a")), pairsOf(f.node("b"))
	for _, t := range append(append([]keyed{}, as...), bs...) {
		ends[t.key] = b.addPit(p, t.key)
	}
	for _, from := range as {
		for _, to := range bs {
			in := uint64(1) << len(b.pieces[p].settings)
			b.pieces[p].settings = append(b.pieces[p].settings, setting{name: from.key + "-" + to.key, routes: [][2]string{{from.key, to.key}}, rank: len(b.pieces[p].settings)})
			b.edges = append(b.edges, edge{p, in, ends[from.key], rails[0], rails[1], true}, edge{p, in, ends[to.key], rails[0], rails[1], false})
			b.feedBridge(p, in, rails, a, tap, e.name)
		}
	}
	return nil
}

func railWord(text string) (int, error) {
	switch text {
	case "left":
		return 0, nil
	case "right":
		return 1, nil
	}
	return 0, fmt.Errorf("%q is no rail", text)
}
