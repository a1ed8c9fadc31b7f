package catalogue

import (
	"cmp"
	"slices"
	"strings"

	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/rule"
)

// railSpan is a stretch of track of which one rail or both are meant.
type railSpan struct {
	spans []districts.Interval
	rails string // "both rails", "the left rail", "one rail"
}

// spanOf names the stretch that parts of one rail lie on.
func spanOf(c *rule.Case, parts []districts.RailPart) railSpan {
	s := railSpan{rails: "the " + c.RailWord(parts[0].Rail) + " rail"}
	for _, p := range parts {
		if p.Rail != parts[0].Rail {
			s.rails = "one rail"
		}
		s.spans = append(s.spans, districts.Interval{Track: p.Track, From: p.From, To: p.To})
	}
	slices.SortFunc(s.spans, func(x, y districts.Interval) int {
		return cmp.Or(cmp.Compare(x.Track, y.Track), cmp.Compare(x.From, y.From), cmp.Compare(x.To, y.To))
	})
	return s
}

// addSpan adds a stretch to others; where it is there already, the other rail of it is
// meant too.
func addSpan(list []railSpan, s railSpan) []railSpan {
	for i := range list {
		if slices.Equal(list[i].spans, s.spans) {
			list[i].rails = "both rails"
			return list
		}
	}
	return append(list, s)
}

// text names the stretch: "M1 @ 3 ft .. 6 ft (914 mm .. 1.83 m)".
func (s *railSpan) text(c *rule.Case) string {
	words := make([]string, len(s.spans))
	for i, x := range s.spans {
		words[i] = c.IntervalText(x)
	}
	return strings.Join(words, ", ")
}

// spanNodes are the rails of a stretch.
func spanNodes(c *rule.Case, s *railSpan) []int32 {
	var out []int32
	for _, x := range s.spans {
		for _, spot := range c.C.TrackSpots[x.Track] {
			if at := c.C.Spots[spot].At; x.From-1e-9 <= at && at <= x.To+1e-9 {
				out = append(out, c.C.Spots[spot].Node[layout.Left], c.C.Spots[spot].Node[layout.Right])
			}
		}
	}
	return out
}

// length is how much track the stretch takes, in metres.
func (s *railSpan) length() float64 {
	total := 0.0
	for _, x := range s.spans {
		total += x.To - x.From
	}
	return total
}

// track is the track on which the stretch begins.
func (s *railSpan) track(c *rule.Case) *layout.Track { return &c.L.Tracks[s.spans[0].Track] }
