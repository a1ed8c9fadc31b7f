package rule

import (
	"fmt"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts"
	"gapwise/rules/finding"
)

// Stub is how much track on the wrong side of a gap does not count, in metres. Common
// practice, no source.
const Stub = districts.Stub

// Free reports whether a source's phase is not tied to what feeds it: a reverser.
func (c *Case) Free(source int32) bool { return source >= 0 && c.C.Sources[source].Free }

// TieSeverity of two tied districts: a caution between two breakers of one booster, else
// a fault.
func (c *Case) TieSeverity(t *districts.Tie) finding.Severity {
	return c.PairSeverity(t.Classes[0], t.Classes[1])
}

// PairSeverity is TieSeverity for two sources; what a changeover may feed from elsewhere is
// never a matter between two breakers.
func (c *Case) PairSeverity(x, y int32) finding.Severity {
	fixed := func(s int32) bool {
		return s >= 0 && !c.Free(s) && c.C.Sources[s].Kind != circuit.ChangeoverSource && c.C.Sources[s].Booster >= 0
	}
	if fixed(x) && fixed(y) && c.C.Sources[x].Booster == c.C.Sources[y].Booster {
		return finding.Caution
	}
	return finding.Fault
}

// CutPlace is where a missing gap should be cut: the place itself where only one fits,
// else the stretch of track any point of which will do, and the words for it ("at M1 @ 8 in",
// "between HA @ 34 ft and HA @ 40 ft 8 in").
func (c *Case) CutPlace(t *districts.Tie) (finding.Place, string) {
	if at, ok := c.meantCut(t); ok {
		return at, "at " + at.Text
	}
	track, lo, hi, ok := c.cutRange(t)
	if !ok {
		place := c.WayPlace(t.Cut)
		return place, "at " + place.Text
	}
	place := c.TrackPlace(track, lo)
	if -1e-6 < hi-lo && hi-lo < 1e-6 {
		return place, "at " + place.Text
	}
	place.Text = c.Between(track, lo, hi)
	name := c.L.Tracks[track].Name
	return place, fmt.Sprintf("between %s @ %s and %s @ %s", name, quantity.FormatLength(lo), name, quantity.FormatLength(hi))
}

// meantCut is the bound of blocks as meant that lies on a tie, if one does.
func (c *Case) meantCut(t *districts.Tie) (finding.Place, bool) {
	track, lo, hi, ok := c.cutRange(t)
	if !ok {
		return finding.Place{}, false
	}
	for _, d := range c.T.Differences {
		after, before := lo-1e-6 <= d.At, d.At <= hi+1e-6
		if d.Missing && d.Track == track && ((after && before) || (hi < lo && (after || before))) {
			return c.TrackPlace(track, d.At), true
		}
	}
	return finding.Place{}, false
}

// cutRange is the stretch of the track on which a tie's chosen cut lies; on a ring it may
// pass the start, and then hi is less than lo.
func (c *Case) cutRange(t *districts.Tie) (track int32, lo, hi float64, ok bool) {
	w := &c.C.Ways[t.Cut]
	for _, s := range [2]int32{w.A, w.B} {
		if p := &c.L.Pieces[c.C.Spots[s].Piece]; p.Kind == layout.TrackPiece {
			track, ok = p.Index, true
		}
	}
	if !ok {
		return 0, 0, 0, false
	}
	first := true
	for _, k := range t.Ways {
		v := &c.C.Ways[k]
		for _, s := range [2]int32{v.A, v.B} {
			spot := &c.C.Spots[s]
			if p := &c.L.Pieces[spot.Piece]; p.Kind != layout.TrackPiece || p.Index != track {
				continue
			}
			if first {
				lo, hi, first = spot.At, spot.At, false
			}
			lo, hi = min(lo, spot.At), max(hi, spot.At)
		}
	}
	if c.L.Tracks[track].Closed && lo == 0 && hi == c.L.Tracks[track].Length.Mid() {
		lo, hi = c.pastStart(t, lo, hi)
	}
	return track, lo, hi, true
}

// pastStart is the stretch that the ways of a tie make on a ring whose start they pass: it
// begins where what they leave out ends.
func (c *Case) pastStart(t *districts.Tie, lo, hi float64) (from, to float64) {
	var starts, ends []float64
	for _, k := range t.Ways {
		if w := &c.C.Ways[k]; w.Kind == circuit.WayTrack {
			a, b := c.C.Spots[w.A].At, c.C.Spots[w.B].At
			starts, ends = append(starts, min(a, b)), append(ends, max(a, b))
		}
	}
	for _, s := range starts {
		if s > lo && !slices.Contains(ends, s) {
			from = max(from, s)
		}
	}
	for _, e := range ends {
		if e < hi && !slices.Contains(starts, e) && (to == 0 || e < to) {
			to = e
		}
	}
	if from == 0 || to == 0 {
		return lo, hi
	}
	return from, to
}

// CutOn reports whether a tie's missing gap could be cut on a track.
func (c *Case) CutOn(t *districts.Tie, track int32) bool {
	return t.Cut >= 0 && slices.ContainsFunc(t.Ways, func(k int32) bool {
		w := &c.C.Ways[k]
		for _, s := range [2]int32{w.A, w.B} {
			if p := &c.L.Pieces[c.C.Spots[s].Piece]; p.Kind == layout.TrackPiece && p.Index == track {
				return true
			}
		}
		return false
	})
}

// SameCut reports whether two ties could be undone by one gap.
func (c *Case) SameCut(x, y *districts.Tie) bool {
	return slices.ContainsFunc(x.Ways, func(w int32) bool { return slices.Contains(y.Ways, w) })
}

// StrayFeeder reports whether a feeder is already named as hanging from the wrong bus.
func (c *Case) StrayFeeder(f int32) bool {
	return slices.ContainsFunc(c.T.Ties, func(t districts.Tie) bool { return t.Feeder == f })
}

// OnlyFeeder reports whether a feeder is the only one of its section, missing gaps taken as cut.
func (c *Case) OnlyFeeder(feeder int32) bool {
	section := c.T.Polarity.Sections.Of[c.T.Feeds[feeder].Spot]
	return !slices.ContainsFunc(c.T.Feeds, func(f districts.Feed) bool {
		return f.Feeder != feeder && f.Spot >= 0 && c.T.Polarity.Sections.Of[f.Spot] == section
	})
}

// FeedersOf lists the feeders of a spot's section, in the layout's order.
func (c *Case) FeedersOf(spot int32) []int32 {
	section := c.T.Polarity.Sections.Of[spot]
	var out []int32
	for i := range c.T.Feeds {
		if f := &c.T.Feeds[i]; f.Spot >= 0 && c.T.Polarity.Sections.Of[f.Spot] == section {
			out = append(out, f.Feeder)
		}
	}
	return out
}

// TieWitness tells how the rail reaches both classes of a tie.
func (c *Case) TieWitness(t *districts.Tie) []finding.Step {
	if t.Feeder >= 0 {
		f := &c.L.Feeders[t.Feeder]
		out := c.feedWitness(t.Feeder, f.ARail)
		near := c.nearFeeder(t.Feeder, t.Classes[1], t.Detector)
		if near >= 0 {
			out = append(out, finding.Step{Text: "and by rail to feeder " + c.Place(c.L.Feeders[near].Place).Text + " from " + c.FeederTo(near), Pos: c.L.Feeders[near].Pos})
		}
		return out
	}
	return c.BothSides(t.Cut)
}

// feedWitness walks a feeder's wire of one rail from its source.
func (c *Case) feedWitness(feeder int32, r layout.Rail) []finding.Step {
	f := &c.T.Feeds[feeder]
	for i := range c.C.Conductors {
		k := &c.C.Conductors[i]
		if k.Kind != circuit.FeederWire || k.Ref != feeder || k.Rail != r {
			continue
		}
		from, path, ok := c.T.PathTo(k.A)
		if !ok {
			return nil
		}
		return c.WitnessFrom(from, append(path, districts.Step{Conductor: int32(i), Node: k.B}))
	}
	if f.Spot < 0 {
		return nil
	}
	return c.WitnessTo(f.Spot, r)
}

// nearFeeder is the first feeder of a class in the same section; -1 when there is none.
func (c *Case) nearFeeder(feeder, class int32, detector bool) int32 {
	section := c.T.Polarity.Sections.Of[c.T.Feeds[feeder].Spot]
	for i := range c.T.Feeds {
		f := &c.T.Feeds[i]
		if f.Spot < 0 || f.Feeder == feeder || c.T.Polarity.Sections.Of[f.Spot] != section {
			continue
		}
		if (!detector && f.Source() == class) || (detector && (f.Detector[0] == class || f.Detector[1] == class)) {
			return f.Feeder
		}
	}
	return -1
}

// LegRail is the rail that a feeder puts a leg on.
func (c *Case) LegRail(feeder int32, leg layout.Leg) layout.Rail {
	r := c.L.Feeders[feeder].ARail
	if leg == layout.B {
		return r.Other()
	}
	return r
}

// DiffersFromMeant reports whether a block, as wired, is already said to differ.
func (c *Case) DiffersFromMeant(block int32) bool {
	return slices.ContainsFunc(c.T.Differences, func(d districts.Difference) bool {
		return d.Blocks[0] == block || d.Blocks[1] == block
	})
}

// DiffersOn reports whether a zone's blocks are already said to differ.
func (c *Case) DiffersOn(zone int32) bool {
	return slices.ContainsFunc(c.T.Zones.List[zone].Meant, func(s districts.Share) bool {
		return s.Length > Stub && slices.ContainsFunc(c.T.Differences, func(d districts.Difference) bool {
			return d.Missing && (d.Blocks[0] == s.Block || d.Blocks[1] == s.Block)
		})
	})
}

// Culprit names the thing a short's cause is made of: a bond, a feeder, a piece, a bus.
func (c *Case) Culprit(cause []int32) finding.Place {
	for _, k := range cause {
		x := &c.C.Conductors[k]
		switch x.Kind {
		case circuit.BondWire:
			p := c.Place(c.L.Bonds[x.Ref].From)
			p.Text = "the bond from " + p.Text + " to " + c.Place(c.L.Bonds[x.Ref].To).Text
			return p
		case circuit.PiecePart:
			return c.PiecePlace(layout.PieceID(x.Ref))
		}
	}
	for _, k := range cause {
		x := &c.C.Conductors[k]
		switch x.Kind {
		case circuit.FeederWire:
			p := c.FeederPlace(x.Ref)
			p.Text = "the feeder at " + p.Text
			return p
		case circuit.BusSpan, circuit.WireEnd:
			return finding.Place{Text: "bus " + c.L.Buses[x.Ref].Name}
		case circuit.RailLength:
			return c.TrackPlace(c.L.Pieces[x.Ref].Index, x.From)
		}
	}
	return finding.Place{Text: "an unnamed place"}
}
