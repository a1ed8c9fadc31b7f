package catalogue

import (
	"context"
	"fmt"
	"slices"

	"gapwise/netlist/circuit"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// straddles lists what trains join, of some kinds, and what the search left open.
func straddles(c *rule.Case, kind func(*districts.Straddle) bool) (list, open []districts.Straddle, stopped []int32) {
	s, err := c.T.Straddles(context.Background())
	if err != nil {
		return nil, nil, nil // never: the context does not end
	}
	of := func(all []districts.Straddle) []districts.Straddle {
		return slices.DeleteFunc(slices.Clone(all), func(x districts.Straddle) bool { return !kind(&x) })
	}
	return of(s.List), of(s.Open), s.Stopped
}

// overPit reports whether a straddle needs the edge of a pit.
func overPit(c *rule.Case, s *districts.Straddle) bool {
	return slices.ContainsFunc(s.Places, func(w int32) bool { return c.C.Ways[w].Kind == circuit.WayPit })
}

// straddlePlace names a place that a train bridges: a gap, the edge of a pit, or a piece of track work.
func straddlePlace(c *rule.Case, way int32) finding.Place {
	w := &c.C.Ways[way]
	switch w.Kind {
	case circuit.WayPit:
		return c.SpotPlace(w.B)
	case circuit.WayThrough:
		return c.PiecePlace(w.Piece)
	default:
		return c.WayPlace(way)
	}
}

// straddleWord is what a train bridges at a place.
func straddleWord(c *rule.Case, way int32) string {
	switch c.C.Ways[way].Kind {
	case circuit.WayPit:
		return "the edge of the pit at " + straddlePlace(c, way).Text
	case circuit.WayThrough:
		return "the frog of " + straddlePlace(c, way).Text
	default:
		return "the gap at " + straddlePlace(c, way).Text
	}
}

// straddleTrain says which train stands where.
func straddleTrain(c *rule.Case, s *districts.Straddle) string {
	first, last := straddlePlace(c, s.Places[0]).Text, straddlePlace(c, s.Places[len(s.Places)-1]).Text
	length := rule.Length("", s.Reach).Text
	if !districts.IsTrainLength(c.L, s.Train) {
		return fmt.Sprintf("what draws power in train %s, with pick-ups %s apart, its first wheels just past %s and its last not yet over %s",
			c.L.Trains[s.Train].Name, length, last, first)
	}
	return fmt.Sprintf("a train of %s (%s) with its head just past %s and its last wheels not yet over %s, metal wheels throughout assumed",
		length, c.L.Trains[s.Train].Name, last, first)
}

// straddleFinding fills in what all findings of straddles have in common.
func straddleFinding(c *rule.Case, s *districts.Straddle) finding.Finding {
	f := finding.Finding{
		Severity: finding.Fault,
		Pos:      c.WayPos(s.Places[0]),
		Place:    straddlePlace(c, s.Places[0]),
		Settings: c.Settings(s.Settings),
		Train:    straddleTrain(c, s),
		Numbers: []finding.Number{{
			Name: "between the two", Text: rule.Length("", s.Span).Text, SI: s.Span, Unit: "m",
			Limit: "at least " + rule.Length("", s.Reach).Text, Source: "the longest train that may stand there (" + c.L.Trains[s.Train].Name + "), yours",
		}},
	}
	for _, w := range s.Places {
		f.Witness = append(f.Witness, finding.Step{Text: straddleWord(c, w), Pos: c.WayPos(w)})
	}
	return f
}

// leaveStraddleOpen says what only a train or a track of unknown length would do.
func leaveStraddleOpen(c *rule.Case, s *districts.Straddle) {
	why := "no train that may stand there has a length"
	switch {
	case s.Unsure:
		why = "a length on the way from the one to the other is unknown"
	case s.Reach > 0 || len(c.L.Trains) > 0:
		why = "the length of a train that may stand there is unknown"
	}
	first, last := s.Places[0], s.Places[len(s.Places)-1]
	c.LeaveOpen(fmt.Sprintf("whether a train joins opposite legs over %s and %s at once", straddleWord(c, first), straddleWord(c, last)), why, c.WayPos(first))
}
