package catalogue

import (
	"fmt"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var programmingTrackJoined = rule.Rule{
	ID:       "programming-track-joined",
	Severity: finding.Fault,
	Title:    "a programming track is joined to other track",
	Doc: rule.Doc{
		What:    "Track of `use: programming` is one piece of rail with other track, or hangs for good from a booster that feeds other track too; or a booster of `use: programming` feeds other track, always or in some position of a changeover. Where the programming track hangs from a changeover, the position in which it is a track like any other is sound. A programming track that meets other track at a gap, and no changeover lets a train pass, is a note. Less than 6 in of other track do not count.",
		Why:     "What is programmed there is programmed into every engine that the same rails reach, and the weak programming output is shorted or overdriven by the main.",
		Fix:     "Cut both rails of the programming track and feed it alone from the programming output, or through a changeover that opens both legs.",
		Example: "tracks:\n  line:  {from: end, to: bench start, length: 12 ft, use: main}\n  bench: {from: line end, to: end, length: 4 ft, use: programming}   # and no gap between",
	},
	Sources: []string{"topology; that programming is meant for one engine alone is " + rule.CommonPractice},
}

func init() { programmingTrackJoined.Check = checkProgrammingTrackJoined }

// sideTracks is what lies on one side: the first programming track and the first other
// track (-1 none), and how much there is of either, in metres.
type sideTracks struct {
	programming, other int32
	metres             [2]float64
}

func checkProgrammingTrackJoined(c *rule.Case) {
	sides := c.T.Sides()
	tracks := tracksBySide(c, sides)
	var order []int32
	for s := range sides.Of {
		if sides.Of[s] == int32(s) && tracks[int32(s)] != nil {
			order = append(order, int32(s))
		}
	}
	heads := make([][]districts.Head, len(c.C.Sources))
	for s := range heads {
		var whole bool
		if heads[s], whole = c.T.Heads(int32(s)); !whole {
			c.GiveUp("every source that "+c.SourceName(int32(s))+" leads to", "there are too many ways up from it", c.C.Sources[s].Pos)
		}
	}
	named := map[int32]bool{} // programming tracks, and boosters by their complement
	for _, s := range order {
		if t := tracks[s]; t.programming >= 0 && t.other >= 0 && !c.TiedAt(t.programming) && !c.TiedAt(t.other) {
			named[t.programming] = true
			c.Report(programmingTied(c, t))
		}
	}
	for _, s := range order {
		t, source := tracks[s], sides.Source[s]
		if source < 0 || (t.programming >= 0 && t.other >= 0) {
			continue
		}
		if t.programming >= 0 && len(heads[source]) == 1 && !named[t.programming] {
			if other := feedsOther(c, order, tracks, sides, heads, heads[source][0].Source); other >= 0 && len(heads[source][0].Settings) == 0 {
				named[t.programming] = true
				c.Report(programmingOnMain(c, t.programming, heads[source][0].Source, other))
			}
		}
		for _, h := range heads[source] {
			if t.other >= 0 && isProgrammer(c, h.Source) && !named[-2-h.Source] && !c.TiedAt(t.other) {
				named[-2-h.Source] = true
				c.Report(programmerFeeds(c, h, t.other))
			}
		}
	}
	programmingMeets(c, sides, tracks, named)
}

// mainSides is the side on which most of each track lies, -1 for a track without length.
func mainSides(c *rule.Case, sides *districts.Sides) []int32 {
	type part struct{ track, side int32 }
	metres := map[part]float64{}
	out, most := make([]int32, len(c.L.Tracks)), make([]float64, len(c.L.Tracks))
	for i := range out {
		out[i] = -1
	}
	for i := range c.C.Ways {
		w := &c.C.Ways[i]
		if w.Kind != circuit.WayTrack {
			continue
		}
		p := part{c.L.Pieces[w.Piece].Index, sides.Of[w.A]}
		metres[p] += w.Length
		if metres[p] > most[p.track] {
			out[p.track], most[p.track] = p.side, metres[p]
		}
	}
	return out
}

// tracksBySide sorts track by the side it lies on and by its use. Of a programming track that
// a gap parts, only the longer part counts: the rest is the way to it.
func tracksBySide(c *rule.Case, sides *districts.Sides) map[int32]*sideTracks {
	out := map[int32]*sideTracks{}
	most := mainSides(c, sides)
	for i := range c.C.Ways {
		w := &c.C.Ways[i]
		if w.Kind != circuit.WayTrack {
			continue
		}
		t := out[sides.Of[w.A]]
		if t == nil {
			t = &sideTracks{programming: -1, other: -1}
			out[sides.Of[w.A]] = t
		}
		track := c.L.Pieces[w.Piece].Index
		first, k := &t.other, 0
		if c.L.Tracks[track].Use == layout.UseProgramming {
			if most[track] != sides.Of[w.A] {
				continue
			}
			first, k = &t.programming, 1
		}
		t.metres[k] += w.Length
		if *first < 0 {
			*first = track
		}
	}
	for _, t := range out {
		if t.metres[0] <= rule.Stub {
			t.other = -1
		}
	}
	return out
}

// isProgrammer reports whether a head is a booster for programming.
func isProgrammer(c *rule.Case, head int32) bool {
	return head >= 0 && c.C.Sources[head].Kind == circuit.BoosterSource && programs(c, c.C.Sources[head].Ref)
}

// feedsOther is the first track that a booster not for programming feeds and that is no
// programming track; -1 for none.
func feedsOther(c *rule.Case, order []int32, tracks map[int32]*sideTracks, sides *districts.Sides, heads [][]districts.Head, head int32) int32 {
	if head < 0 || isProgrammer(c, head) {
		return -1
	}
	for _, s := range order {
		if t, source := tracks[s], sides.Source[s]; t.other >= 0 && source >= 0 {
			if slices.ContainsFunc(heads[source], func(h districts.Head) bool { return h.Source == head }) {
				return t.other
			}
		}
	}
	return -1
}

func trackFinding(c *rule.Case, track int32) finding.Finding {
	t := &c.L.Tracks[track]
	return finding.Finding{
		Severity: finding.Fault,
		Pos:      t.Pos,
		Place:    c.PiecePlace(t.Piece),
		Why:      "what is programmed there is programmed into every engine that the same rails reach",
		Witness:  c.WitnessTo(c.C.TrackSpots[track][0], layout.Left),
	}
}

func programmingTied(c *rule.Case, t *sideTracks) finding.Finding {
	f := trackFinding(c, t.programming)
	own, other := c.L.Tracks[t.programming].Name, c.L.Tracks[t.other].Name
	f.Message = fmt.Sprintf("programming track %s is one piece of rail with track %s", own, other)
	f.Fix = fmt.Sprintf("cut both rails where %s begins, and feed it from the programming output alone", own)
	f.Candidates = []string{fmt.Sprintf("or %s is part of the programming track, and lacks `use: programming`", other)}
	return f
}

func programmingOnMain(c *rule.Case, track, head, other int32) finding.Finding {
	f := trackFinding(c, track)
	f.Message = fmt.Sprintf("programming track %s hangs for good from %s, which feeds track %s too", c.L.Tracks[track].Name, c.SourceName(head), c.L.Tracks[other].Name)
	f.Fix = "feed it from the programming output alone, or through a changeover that opens both legs"
	f.Candidates = []string{"or it is no programming track, and `use: programming` is wrong"}
	return f
}

func programmerFeeds(c *rule.Case, h districts.Head, track int32) finding.Finding {
	f := trackFinding(c, track)
	f.Message = fmt.Sprintf("%s is for programming, and it feeds track %s", c.SourceName(h.Source), c.L.Tracks[track].Name)
	f.Settings = c.Settings(h.Settings)
	f.Fix = fmt.Sprintf("feed %s from a booster that runs trains, and leave %s to the programming track", c.L.Tracks[track].Name, c.SourceName(h.Source))
	f.Mends = runningMends(c, track)
	f.Candidates = []string{fmt.Sprintf("or %s is part of the programming track, and lacks `use: programming`", c.L.Tracks[track].Name)}
	return f
}

// programmingMeets notes programming track that meets other track at a gap, where no
// position of a changeover hangs both from one source.
func programmingMeets(c *rule.Case, sides *districts.Sides, tracks map[int32]*sideTracks, named map[int32]bool) {
	list := encounters(c)
	shares := func(e *districts.Encounter) bool {
		return slices.ContainsFunc(list, func(o districts.Encounter) bool { return o.Sources == e.Sources && o.Heads[0] == o.Heads[1] })
	}
	for i := range list {
		e := &list[i]
		if !isProgrammer(c, e.Heads[0]) && !isProgrammer(c, e.Heads[1]) || e.Heads[0] == e.Heads[1] || shares(e) {
			continue
		}
		track := int32(-1)
		w := &c.C.Ways[e.Ways[0]]
		for _, s := range [2]int32{w.A, w.B} {
			if t := tracks[sides.Of[s]]; t != nil && t.programming >= 0 {
				track = t.programming
			}
		}
		if track < 0 || named[track] {
			continue
		}
		named[track] = true
		f := finding.Finding{
			Severity: finding.Note,
			Pos:      c.WayPos(e.Ways[0]),
			Place:    c.WayPlace(e.Ways[0]),
			Message:  fmt.Sprintf("programming track %s meets track of another source at %s, and no changeover lets a train pass", c.L.Tracks[track].Name, c.WayPlace(e.Ways[0]).Text),
			Why:      "a vehicle that bridges the gap drives the main's full voltage into the programming output",
			Train:    "a vehicle on the gap",
			Fix:      "hang it from a changeover with a position for running, and program only in the other",
		}
		meetAt(c, &f, e.Ways, 1)
		c.Report(f)
	}
}
