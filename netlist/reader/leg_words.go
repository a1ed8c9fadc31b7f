package reader

import (
	"slices"
	"strings"

	"gapwise/netlist/layout"
)

// legSaid reports a feeder's place that is no place but tells a leg in the owner's way:
// `red: left`, with the colour of a wire, for `A: left`.
func (r *reader) legSaid(e *railEntry, p layout.PieceID) bool {
	if !r.saysLeg(e, p) {
		return false
	}
	leg, isColour := r.colourOf(e.at.s)
	rail := slices.Index(railWords, e.rec.node.Text)
	if leg == layout.B && rail > 0 {
		rail = 3 - rail // the words are none, left, right
	}
	told := problem{message: "`" + e.at.s + "` is no word here; which rail has leg A?", expected: "`A: left` or `A: right`"}
	switch colour := "`" + e.at.s + "` is the colour of leg " + leg.String(); {
	case isColour && rail <= 0:
		told.message = colour + " and no place on " + r.pieceName(p)
		told.expected += " for the leg, and places such as 2 ft: ring @ 20 ft"
	case isColour:
		told.message, told.expected = colour+"; which rail has leg A?", "`A: "+railWords[rail]+"`"
	case leg == layout.B:
		told.message, told.expected = "leg B is on the other rail; which rail has leg A?", "`A: "+railWords[rail]+"`"
	}
	r.blame(e.at, told)
	return true
}

// colourOf is the leg whose wires the owner says are of a colour; B by its own name too.
func (r *reader) colourOf(word string) (layout.Leg, bool) {
	for leg, colour := range r.lay.Colours {
		if colour != "" && strings.EqualFold(colour, word) {
			return layout.Leg(leg), true
		}
	}
	if word == "B" {
		return layout.B, false
	}
	return layout.A, false
}

// saysLeg reports whether a feeder's place is a wire's colour, or any word that is no end
// with a rail beside it.
func (r *reader) saysLeg(e *railEntry, p layout.PieceID) bool {
	if _, isEnd := r.endOf(p, e.at.s); isEnd || e.rec.section != feederSection || r.endsInDoubt(p) {
		return false
	}
	if _, isColour := r.colourOf(e.at.s); isColour {
		return true
	}
	return r.noPlace(e, p) && slices.Index(railWords, e.rec.node.Text) > 0 && r.nearest(e.at.s, feederGroupWords) == ""
}
