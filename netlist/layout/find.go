package layout

import (
	"fmt"
	"strings"

	"gapwise/netlist/quantity"
	"gapwise/netlist/source"
)

// FindError says why a place asked for is not there. Nearest may be empty.
type FindError struct {
	Message, Nearest string
}

func (e *FindError) Error() string {
	if e.Nearest == "" {
		return e.Message
	}
	return e.Message + "; nearest: " + e.Nearest
}

// FindPlace reads a place as someone asks for it: "M1 @ 3 ft", "M1 @ 8 in from end",
// "M1 @ end", "T3 points", or "T3" for a piece with all its ends (then End is -1 and the piece is no
// track). The error is a *FindError.
func (l *Layout) FindPlace(text string) (Place, error) {
	name, at, measured := strings.Cut(text, "@")
	words := strings.Fields(name)
	if len(words) == 0 || len(words) > 2 || (measured && len(words) != 1) {
		return Place{}, &FindError{Message: fmt.Sprintf("%q is no place; one is written M1 @ 4 ft, or T3 points", text)}
	}
	id, err := l.findPiece(words[0])
	if err != nil {
		return Place{}, err
	}
	p := &l.Pieces[id]
	switch {
	case measured && p.Kind != TrackPiece:
		return Place{}, &FindError{Message: fmt.Sprintf("%s is no track; its places are its ends: %s", p.Name, endNames(p))}
	case measured:
		return l.findReading(id, strings.TrimSpace(at))
	case len(words) == 2:
		for e := range p.Ends {
			if p.Ends[e].Name == words[1] {
				return Place{Piece: id, End: int32(e), Text: text, Pos: p.Pos}, nil
			}
		}
		return Place{}, &FindError{Message: fmt.Sprintf("%s has no end %s; it has %s", p.Name, source.Safe(words[1]), endNames(p)), Nearest: source.Nearest(words[1], strings.Split(endNames(p), ", "))}
	case p.Kind == TrackPiece:
		return Place{}, &FindError{Message: fmt.Sprintf("where on %s? write %s @ 3 ft", p.Name, p.Name)}
	default:
		return Place{Piece: id, End: -1, Text: text, Pos: p.Pos}, nil
	}
}

func (l *Layout) findPiece(name string) (PieceID, error) {
	names := make([]string, len(l.Pieces))
	for i := range l.Pieces {
		if l.Pieces[i].Name == name {
			return PieceID(i), nil
		}
		names[i] = l.Pieces[i].Name
	}
	return -1, &FindError{Message: "no track or piece is named " + source.Safe(name), Nearest: source.Nearest(name, names)}
}

func endNames(p *Piece) string {
	names := make([]string, len(p.Ends))
	for i := range p.Ends {
		names[i] = p.Ends[i].Name
	}
	return strings.Join(names, ", ")
}

// findReading reads the measure of a place on a track.
func (l *Layout) findReading(id PieceID, at string) (Place, error) {
	t := &l.Tracks[l.Pieces[id].Index]
	place := Place{Piece: id, End: -1, Text: t.Name + " @ " + at, Pos: t.Pos}
	length := t.Length.Mid()
	switch at {
	case "start":
		at = "0"
	case "end":
		if t.Length.Known() {
			place.At.Value = quantity.Exact(length)
		} else {
			place.End = 1
		}
		return place, nil
	}
	measure, fromEnd := strings.CutSuffix(at, "from end")
	v, bad := quantity.ParsePosition(strings.TrimSpace(measure), source.Pos{})
	if bad != nil {
		return Place{}, &FindError{Message: fmt.Sprintf("%q on %s: %s", source.Safe(at), t.Name, bad.Message)}
	}
	m := v.Mid()
	if fromEnd {
		if !t.Length.Known() {
			return Place{}, &FindError{Message: fmt.Sprintf("the length of %s is unknown; measure from its start", t.Name)}
		}
		m = length - m
	}
	if m < 0 || (t.Length.Known() && m > length+1e-9) {
		return Place{}, &FindError{Message: fmt.Sprintf("%s is %s long", t.Name, quantity.FormatLength(length))}
	}
	place.At.Value, place.FromEnd = quantity.Exact(m), fromEnd
	return place, nil
}
