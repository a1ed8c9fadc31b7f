package circuit_test

import (
	"fmt"
	"strings"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// feet writes metres as feet, to a thousandth.
func feet(metres float64) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.3f", metres/ft), "0"), ".")
}

var railWord = [2]string{"left", "right"}

// trackText tells one rail of a track from its start to its end: lengths of rail in feet,
// "=" for a joint that conducts, "?" for one that may, "|" for a cut, with the gap's number
// from 0 behind it, and the bodies between by name.
func trackText(c *circuit.Circuit, track int32, rail layout.Rail) string {
	var words []string
	spots := c.TrackSpots[track]
	stands := c.Layout.Tracks[track].Stands
	for i := 1; i < len(spots); i++ {
		way := wayBetween(c, spots[i-1], spots[i])
		switch {
		case way == nil:
			words = append(words, "["+c.Layout.Pieces[stands[0].Piece].Name+"]")
			stands = stands[1:]
		case way.Kind == circuit.WayTrack:
			words = append(words, feet(c.Spots[spots[i-1]].At)+".."+feet(c.Spots[spots[i]].At))
		default:
			words = append(words, cutText(way, rail))
		}
	}
	for _, s := range stands {
		words = append(words, "["+c.Layout.Pieces[s.Piece].Name+"]")
	}
	return strings.Join(words, " ")
}

// cutText tells what a joint or cut does to one rail of its first spot.
func cutText(w *circuit.Way, rail layout.Rail) string {
	text := [...]string{"|", "?", "="}[w.Metal[rail]]
	if w.Gaps[rail] >= 0 {
		text += fmt.Sprint(w.Gaps[rail])
	}
	return text
}

// wayBetween finds the way from one spot to another.
func wayBetween(c *circuit.Circuit, from, to int32) *circuit.Way {
	for i := range c.Ways {
		if c.Ways[i].A == from && c.Ways[i].B == to {
			return &c.Ways[i]
		}
	}
	return nil
}

// spotText names a spot.
func spotText(c *circuit.Circuit, s int32) string {
	spot := &c.Spots[s]
	p := &c.Layout.Pieces[spot.Piece]
	switch {
	case spot.End >= 0:
		return p.Name + " " + p.Ends[spot.End].Name
	case p.Kind != layout.TrackPiece:
		return p.Name + " bridge"
	default:
		return p.Name + " @ " + feet(spot.At)
	}
}

// jointText tells the joint between two spots as joints tell it: "P @ 3 to Q @ 0, turned:
// = |0" has the left and right rail of the first.
func jointText(c *circuit.Circuit, w *circuit.Way) string {
	turned := ""
	if w.Turned {
		turned = ", turned"
	}
	return fmt.Sprintf("%s to %s%s: %s %s", spotText(c, w.A), spotText(c, w.B), turned, cutText(w, layout.Left), cutText(w, layout.Right))
}

// notModelled lists what a circuit leaves open.
func notModelled(c *circuit.Circuit) string {
	var b strings.Builder
	for _, n := range c.NotModelled {
		fmt.Fprintf(&b, "%d: %s: %s\n", n.Pos.Line, n.What, n.Why)
	}
	return b.String()
}
