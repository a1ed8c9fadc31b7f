package rule

import (
	"fmt"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts"
)

// WalkStep is one piece of a walk along the track, in words, with the metres walked so far.
type WalkStep struct {
	Text  string
	SoFar float64
}

// Walk tells a route piece by piece: which way each track is walked, which of its rails is on
// the left hand, what stands on the way, and which ends meet at each joint.
func (c *Case) Walk(paces []districts.Pace) []WalkStep {
	var out []WalkStep
	total := 0.0
	for i := 0; i < len(paces); {
		w := &c.C.Ways[paces[i].Way]
		switch w.Kind {
		case circuit.WayJoint:
			if c.C.Spots[w.A].Piece != c.C.Spots[w.B].Piece {
				out = append(out, WalkStep{c.jointText(paces[i]), total})
			}
			i++
		case circuit.WayThrough, circuit.WayPit:
			total += w.Length
			out = append(out, WalkStep{c.throughText(paces[i]), total})
			i++
		default:
			j := i
			from := total
			for j < len(paces) && c.alongTrack(paces[i], paces[j]) {
				total += c.C.Ways[paces[j].Way].Length
				j++
			}
			if j == i {
				out = append(out, WalkStep{c.jointText(paces[i]), total})
				i++
				continue
			}
			out = append(out, WalkStep{c.trackText(paces[i:j], total-from), total})
			i = j
		}
	}
	return out
}

// alongTrack reports whether two paces lie on one track.
func (c *Case) alongTrack(x, y districts.Pace) bool {
	p := c.C.Spots[x.From].Piece
	return c.L.Pieces[p].Kind == layout.TrackPiece && c.C.Spots[y.From].Piece == p && c.C.Spots[y.To].Piece == p
}

func (c *Case) jointText(p districts.Pace) string {
	w := &c.C.Ways[p.Way]
	text := fmt.Sprintf("%s meets %s: ", c.endText(p.From), c.endText(p.To))
	if w.Turned {
		text += "two like ends, so left becomes right"
	} else {
		text += "left stays left"
	}
	for _, g := range w.Gaps {
		if g >= 0 {
			return text + ", over the gap at " + c.GapPlace(g).Text
		}
	}
	return text
}

// endText names a piece's end or a body's edge.
func (c *Case) endText(spot int32) string {
	s := &c.C.Spots[spot]
	p := &c.L.Pieces[s.Piece]
	if p.Kind != layout.TrackPiece {
		return c.SpotPlace(spot).Text
	}
	t := &c.L.Tracks[p.Index]
	switch {
	case s.At == 0:
		return p.Name + " start"
	case t.Length.Known() && s.At == t.Length.Mid():
		return p.Name + " end"
	default:
		return p.Name + " @ " + quantity.FormatPlace(s.At)
	}
}

func (c *Case) throughText(p districts.Pace) string {
	w := &c.C.Ways[p.Way]
	text := fmt.Sprintf("%s: in at %s, out at %s", c.L.Pieces[w.Piece].Name, c.endWord(p.From), c.endWord(p.To))
	if w.Device >= 0 {
		text += ", set " + c.C.Devices[w.Device].Positions[w.Position]
	}
	return text
}

func (c *Case) endWord(spot int32) string {
	s := &c.C.Spots[spot]
	if s.End < 0 {
		return "the bridge"
	}
	return c.L.Pieces[s.Piece].Ends[s.End].Name
}

// trackText tells a walk along one track with what stands on the way.
func (c *Case) trackText(paces []districts.Pace, metres float64) string {
	first, last := &c.C.Spots[paces[0].From], &c.C.Spots[paces[len(paces)-1].To]
	p := &c.L.Pieces[first.Piece]
	forward := last.At >= first.At
	sense, hand := "towards its end", layout.Left
	if !forward {
		sense, hand = "towards its start", layout.Right
	}
	text := fmt.Sprintf("%s, %s, %s: %s", p.Name, sense, fromTo(first.At, last.At), quantity.FormatLength(metres))
	spot := paces[0].From
	if a, ok := c.T.Polarity.ARail(spot); ok {
		leg := layout.A
		if a != hand {
			leg = layout.B
		}
		text += fmt.Sprintf("; its %s rail is on your left hand and carries %s", c.RailWord(hand), c.LegWord(leg))
	} else {
		text += fmt.Sprintf("; its %s rail is on your left hand", c.RailWord(hand))
	}
	for _, q := range paces {
		for _, g := range c.C.Ways[q.Way].Gaps {
			if g >= 0 {
				text += "; gap at " + quantity.FormatPlace(c.C.Spots[q.From].At)
				break
			}
		}
	}
	return text
}

// IntervalText names a stretch of track.
func (c *Case) IntervalText(s districts.Interval) string {
	t := &c.L.Tracks[s.Track]
	if s.From == 0 && t.Length.Known() && s.To == t.Length.Mid() {
		return t.Name
	}
	return c.Between(s.Track, s.From, s.To)
}
