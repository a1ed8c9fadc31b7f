package catalogue

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/source"

	"gapwise/districts"
	"gapwise/rules/rule"
)

// untilText says where a side of track work or of a gap ends.
func untilText(c *rule.Case, s *districts.Side) string {
	if s.Stop < 0 {
		return "the end of the track"
	}
	return c.WayPlace(s.Stop).Text
}

// switchingAutomatic reports whether a reverser acts by itself; one that does not say is
// taken to.
func switchingAutomatic(s layout.Switching) bool { return s != layout.ByHand }

// feederPos is the place of the first feeder of a list, or of the first source.
func feederPos(c *rule.Case, feeders []int32) source.Pos {
	if len(feeders) > 0 {
		return c.L.Feeders[feeders[0]].Pos
	}
	if len(c.C.Sources) > 0 {
		return c.C.Sources[0].Pos
	}
	return source.Pos{}
}
