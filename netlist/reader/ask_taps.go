package reader

import (
	"fmt"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/source"
)

// mostAstray is how far, in metres, a tap may be from where its bus is said to run below
// the rail without being asked about: 24 in.
const mostAstray = 24 * inch

// askTaps asks about taps that are far from where `under` says that their bus runs below
// the rail. Only a place on the bus says that; a bare list of what it runs below does not.
func (r *reader) askTaps() {
	asked := map[text]bool{}
	for i := range r.lay.Feeders {
		f := &r.lay.Feeders[i]
		for _, t := range f.From {
			if t.Bus < 0 || !t.At.Known() || asked[r.feederAt[i]] {
				continue
			}
			astray, below := r.astray(&r.lay.Buses[t.Bus], t.At, f.Place)
			if !below || astray <= mostAstray {
				continue
			}
			asked[r.feederAt[i]] = true
			at := text{pos: t.Pos, width: 1}
			if f.Row.Number < 2 {
				at.width = len(t.Text)
			}
			r.ask(at, fmt.Sprintf("the tap %s is %s from where bus %s runs below %s; is that so?",
				t.Text, quantity.FormatLength(astray), r.lay.Buses[t.Bus].Name, f.Place.Text))
		}
	}
}

// astray is how far a tap is from where its bus runs below a place, and whether the bus
// says anything about that place.
func (r *reader) astray(b *layout.Bus, tap quantity.Length, p layout.Place) (float64, bool) {
	best, below := 0.0, false
	for i := range b.Under {
		u := &b.Under[i]
		if !u.AtKnown || !u.At.Known() || u.Block >= 0 || u.Stretch.Piece != p.Piece {
			continue
		}
		share, length, ok := r.shareAlong(u.Stretch, p)
		if !ok {
			continue
		}
		alone := i == 0 || b.Under[i-1].At != u.At
		alone = alone && (i+1 == len(b.Under) || b.Under[i+1].At != u.At)
		d := offBy(u.At, tap, share, length, alone)
		if !below || d < best {
			best, below = d, true
		}
	}
	return best, below
}

// shareAlong is how far along a stretch a place lies, 0 to 1, and the stretch's length.
func (r *reader) shareAlong(s layout.Stretch, p layout.Place) (share, length float64, ok bool) {
	if r.lay.Pieces[s.Piece].Kind != layout.TrackPiece {
		return 0, 0, true
	}
	if !s.From.Known() || !s.To.Known() || !p.At.Known() {
		return 0, 0, false
	}
	length = s.To.Mid() - s.From.Mid()
	d := p.At.Mid() - s.From.Mid()
	if ring := r.ringLength(s.Piece); ring > 0 && length < 0 {
		length += ring
		if d < 0 {
			d += ring
		}
	}
	if length <= 0 || d < -touching || d > length+touching {
		return 0, 0, false
	}
	return d / length, length, true
}

// offBy is how far a tap lies from the station that a place on the stretch has: in
// proportion along a run that is below this stretch alone, in either direction, as the
// language does not say which; anywhere along a run below several, or within the stretch's
// own length of a single station.
func offBy(station, tap quantity.Length, share, length float64, alone bool) float64 {
	run := station.Hi - station.Lo
	outside := func(lo, hi float64) float64 {
		return max(0, lo-tap.Hi, tap.Lo-hi)
	}
	switch {
	case run <= touching:
		return outside(station.Lo-length, station.Hi+length)
	case !alone:
		return outside(station.Lo, station.Hi)
	default:
		there := station.Lo + share*run
		back := station.Hi - share*run
		return min(outside(there, there), outside(back, back))
	}
}

// ask notes a question.
func (r *reader) ask(t text, message string) {
	r.lay.Questions = append(r.lay.Questions, source.Problem{Pos: t.pos, Width: t.width, Message: message})
}
