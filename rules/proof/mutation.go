package proof

import (
	"gapwise/netlist/layout"
)

// Fault is one fault that can be seeded into a layout: what it is, where a person would look for
// it, the rules meant for it, and the change itself, made on a copy that was read anew.
type Fault struct {
	Kind   string
	Where  Spotted
	Meant  []string
	Change func(l *layout.Layout)
}

// Spotted is where a finding about a fault may stand: any of some pieces, near a place where
// Near is set, or at a named thing.
type Spotted struct {
	Pieces []string
	At     float64 // metres along Pieces[0]
	Near   bool
	Names  []string // of devices, buses, blocks
}

// kinds are the ways to seed faults, in the order of the table.
var kinds = []struct {
	name string
	of   func(l *layout.Layout) []Fault
}{
	{"feeder swapped", feedersSwapped},
	{"feeder removed", feedersRemoved},
	{"feeder moved over a gap", feedersMoved},
	{"gap removed", gapsRemoved},
	{"one rail of a gap not cut", gapsHalved},
	{"gap moved past a turnout", gapsMoved},
	{"districts bridged", districtsBridged},
	{"track turned end for end", tracksTurned},
	{"reverser dropped", reversersDropped},
	{"reverser's output swapped", reversersSwapped},
	{"reverser's trip raised", reversersRaised},
	{"detectors crossed", detectorsCrossed},
	{"fed past a breaker", fedPastBreakers},
	{"frog of another kind", frogsChanged},
	{"contacts of a frog swapped", contactsSwapped},
	{"section shortened", sectionsShortened},
	{"module or plug turned", plugsTurned},
	{"booster's signal crossed", signalsCrossed},
	{"rails bonded across", railsBonded},
	{"frogs of a crossing joined", crossingsJoined},
	{"frog longer than pick-up", frogsLengthened},
	{"bridge fed otherwise", tablesTurned},
	{"bus closed or tied", busesJoined},
	{"booster changed", boostersChanged},
	{"loop left uncut", loopsUncut},
	{"reversing section split", sectionsSplit},
	{"breakers open other legs", breakersOpened},
	{"changeover changed", changeoversChanged},
	{"fed from a DC cab", fedFromCab},
	{"habit taken up", practices},
	{"feeder lengthened", feedersLengthened},
	{"longest train lengthened", trainsLengthened},
	{"gap made otherwise", gapsChanged},
	{"gap in a lift-out", liftOutsCut},
	{"expansion gap moved", expansionsMoved},
	{"clearance point moved", clearances},
	{"end of track bridged", endsBridged},
	{"supply changed", suppliesChanged},
	{"breaker raised or slowed", breakersRaised},
	{"supply lowered", suppliesLowered},
	{"booster's volts out of range", boostersOutOfRange},
	{"train draws more", trainsStrengthened},
	{"inrush added", inrushAdded},
	{"block left out", blocksLeftOut},
	{"detector wired otherwise", detectorsIdle},
	{"acceptance added", acceptanceAdded},
	{"track used otherwise", usesChanged},
	{"breaker added for nothing", sourcesIdle},
	{"every feeder of a track", tracksSwapped},
	{"joints left unsoldered", jointsLoosened},
	{"fixed side weakly fed", reverserFeedsThin},
	{"block used otherwise", blocksUsedOtherwise},
	{"gap beyond frog moved out", innerGapsMoved},
	{"network inside a block", networksInside},
	{"detector made less keen", detectorsDulled},
	{"detector drops more", dropsRaised},
	{"long bus left open", longBusesOpen},
	{"expansion gap narrowed", gapsNarrowed},
	{"bus of bell wire", busesThinned},
	{"bus laid apart", busesApart},
	{"bus stretched", busesStretched},
	{"feeder of hair", feedersOfHair},
	{"feeder stretched", feedersStretched},
	{"booster's trip raised", tripsRaised},
	{"trips slowed", tripsSlowed},
	{"second feeders gone", secondFeedersGone},
	{"legs of a turnout tied", routesTied},
	{"turnouts thrown together", throwsJoined},
	{"second gap beside a gap", gapsDoubled},
	{"wire across a gap", gapsBridgedByWire},
	{"frog fed twice", frogsFedTwice},
	{"loop section left dead", loopsLeftDead},
	{"several trains at a loop", secondTrainsLet},
	{"watched rail cut", watchedRailsCut},
	{"frog contacts past a detector", contactsPastDetectors},
	{"watched rail cut at a turnout", foulingRailsCut},
}

// Faults lists every fault that can be seeded into a layout, kind by kind.
func Faults(l *layout.Layout) []Fault {
	var out []Fault
	for _, k := range kinds {
		for _, f := range k.of(l) {
			f.Kind = k.name
			out = append(out, f)
		}
	}
	return out
}

// Seed makes a fault in a layout given as text, and writes it anew. The error is of the first
// reading only.
func Seed(read func(string) (*layout.Layout, error), text string, faults ...Fault) (string, error) {
	l, err := read(text)
	if err != nil {
		return "", err
	}
	for _, f := range faults {
		f.Change(l)
	}
	return Flat(l), nil
}

// spot is where a place of a layout is.
func spot(l *layout.Layout, p layout.Place) Spotted {
	piece := &l.Pieces[p.Piece]
	s := Spotted{Pieces: []string{piece.Name}}
	if piece.Kind != layout.TrackPiece {
		return s
	}
	s.Near = true
	switch p.End {
	case 0:
	case 1:
		s.At = l.Tracks[piece.Index].Length.Mid()
	default:
		s.At = p.At.Mid()
	}
	return s
}

// neighbours adds to a spot the pieces that meet its first piece.
func (s Spotted) neighbours(l *layout.Layout, p layout.PieceID) Spotted {
	for _, e := range l.Pieces[p].Ends {
		if e.Dead == layout.Joined {
			s.Pieces = append(s.Pieces, l.Pieces[e.Joint.Piece].Name)
		}
	}
	return s
}
