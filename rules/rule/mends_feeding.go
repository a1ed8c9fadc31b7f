package rule

import (
	"container/heap"
	"fmt"
	"math"
	"slices"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts"
	"gapwise/rules/finding"
)

// NearFeeder is a feeder as a walk along the track comes to it: Turned says that what is left where the walk began is right there.
type NearFeeder struct {
	Feeder int32
	Turned bool
	Metres float64
}

// mostNear bounds how many feeders a walk looks for.
const mostNear = 40

// FeedersNear lists whole feeders of both rails, nearest first, that a walk from a spot comes to over rail, gaps and track work of any setting.
func (c *Case) FeedersNear(spot int32) []NearFeeder {
	if spot < 0 {
		return nil
	}
	hung := map[int32][]int32{}
	for i := range c.L.Feeders {
		if f := &c.L.Feeders[i]; f.Broken == layout.No && f.Rails == layout.BothRails && c.T.Feeds[i].Source() >= 0 {
			hung[c.C.FeederSpot[i]] = append(hung[c.C.FeederSpot[i]], int32(i))
		}
	}
	var out []NearFeeder
	seen := map[int32]bool{}
	open := walk{{spot: spot}}
	for len(open) > 0 && len(out) < mostNear {
		at := heap.Pop(&open).(reached)
		if seen[at.spot] {
			continue
		}
		seen[at.spot] = true
		for _, f := range hung[at.spot] {
			out = append(out, NearFeeder{f, at.turned, at.metres})
		}
		for _, w := range c.T.Ways.Of(at.spot) {
			way := &c.C.Ways[w]
			if to := way.A + way.B - at.spot; !seen[to] {
				heap.Push(&open, reached{to, at.turned != way.Turned, at.metres + way.Length})
			}
		}
	}
	return out
}

// reached is a spot that a walk comes to; a walk goes on from the nearest.
type reached struct {
	spot   int32
	turned bool
	metres float64
}

type walk []reached

func (w walk) Len() int { return len(w) }
func (w walk) Less(i, j int) bool {
	return w[i].metres < w[j].metres || w[i].metres == w[j].metres && w[i].spot < w[j].spot
}
func (w walk) Swap(i, j int) { w[i], w[j] = w[j], w[i] }
func (w *walk) Push(x any)   { *w = append(*w, x.(reached)) }
func (w *walk) Pop() any {
	last := (*w)[len(*w)-1]
	*w = (*w)[:len(*w)-1]
	return last
}

// SpotNear is the spot of a track nearest to metres of it, -1 for a track without any.
func (c *Case) SpotNear(track int32, at float64) int32 {
	best := int32(-1)
	for _, s := range c.C.TrackSpots[track] {
		if best < 0 || math.Abs(c.C.Spots[s].At-at) < math.Abs(c.C.Spots[best].At-at) {
			best = s
		}
	}
	return best
}

// MeantAt is the block that is meant to cover a place of a track, -1 for none.
func (c *Case) MeantAt(track int32, at float64) int32 {
	length := c.L.Tracks[track].Length.Mid()
	for b := range c.L.Blocks {
		for _, s := range c.L.Blocks[b].Covers {
			if s.Piece != c.L.Tracks[track].Piece {
				continue
			}
			from, to := s.From.Mid(), s.To.Mid()
			if s.Whole {
				from, to = 0, length
			}
			if from <= at && at <= to || to < from && (at >= from || at <= to) {
				return int32(b)
			}
		}
	}
	return -1
}

// Suits reports whether a feeder comes from the source and through the detector that a block is meant to have; what the layout does
// not say suits any. A block of -1 is meant to have no detector.
func (c *Case) Suits(feeder, block int32) bool {
	feed := &c.T.Feeds[feeder]
	if block >= 0 {
		if meant := c.T.Meant.SourceOf[block]; meant >= 0 && feed.Source() != meant {
			return false
		}
	}
	return c.Watched(feeder, block)
}

// Watched reports whether a feeder passes the detector that a block is meant to have, and no other.
func (c *Case) Watched(feeder, block int32) bool {
	meant := int32(-1)
	if block >= 0 {
		meant = c.L.Blocks[block].Detector
	}
	feed := &c.T.Feeds[feeder]
	for leg, d := range feed.Detector {
		want := int32(-1)
		if meant >= 0 && c.L.Detectors[meant].Leg == layout.Leg(leg) {
			want = meant
		}
		if d != want {
			return false
		}
	}
	return true
}

// TapNear is where a wire at metres of a track meets a bus: where the layout says that the bus runs below, else beside the feeder of that
// track from that bus that is nearest, else where another hangs. Far is how far from there the bus begins or ends.
func (c *Case) TapNear(bus, track int32, at, other float64) (tap, far float64) {
	reach, run, station := c.below(bus, track, at)
	if !run {
		if !station {
			reach = other
		}
		nearest := math.Inf(1)
		for i := range c.L.Feeders {
			f := &c.L.Feeders[i]
			if f.Place.Piece != c.L.Tracks[track].Piece || f.Place.End >= 0 || !f.Place.At.Known() {
				continue
			}
			for _, t := range f.From {
				if d := at - f.Place.At.Mid(); t.Bus == bus && math.Abs(d) < nearest {
					nearest, reach = math.Abs(d), t.At.Mid()+d
				}
			}
		}
	}
	reach = c.L.Handy(reach)
	tap = math.Max(0, reach)
	if b := &c.L.Buses[bus]; b.Length.Known() {
		tap = math.Min(b.Length.Mid(), tap)
	}
	return tap, math.Abs(reach - tap)
}

// below is the place of a bus that runs below metres of a track, as its stations say: within a run of them, or at one.
func (c *Case) below(bus, track int32, at float64) (place float64, run, station bool) {
	for _, u := range c.L.Buses[bus].Under {
		s := &u.Stretch
		if !u.AtKnown || u.Bus >= 0 || u.Block >= 0 || s.Piece != c.L.Tracks[track].Piece || !u.At.Known() {
			continue
		}
		from, to := s.From.Mid(), s.To.Mid()
		if s.Whole {
			from, to = 0, c.L.Tracks[track].Length.Mid()
		}
		if at < from-Stub || at > to+Stub || to <= from {
			continue
		}
		share := math.Max(0, math.Min(1, (at-from)/(to-from)))
		return u.At.Lo + share*(u.At.Hi-u.At.Lo), u.At.Hi > u.At.Lo, true
	}
	return 0, false, false
}

// longest is how far the wires of a feeder go to the end of its bus before the bus is made longer instead: 24 in. Common practice, no source.
const longest = 0.6096

// HangFeeder is a new feeder at metres of a track from what one that was found near hangs from, and that in words: "bus ring @ 8 ft (2.44 m)". A
// bus that ends too far from there is made longer.
func (c *Case) HangFeeder(like NearFeeder, track int32, at float64) (changes []finding.Change, from string) {
	f := &c.L.Feeders[like.Feeder]
	var taps, words [2]string
	most := 0.0
	for leg := range taps {
		taps[leg], words[leg] = "unknown", "an unknown place"
		if t := &f.From[leg]; t.Bus >= 0 {
			tap, far := c.TapNear(t.Bus, track, at, t.At.Mid())
			b := &c.L.Buses[t.Bus]
			longer := ""
			if far > longest && tap > 0 && b.Returns.Bus < 0 {
				longer = ", made " + quantity.FormatLength(far) + " longer"
				tap, far = tap+far, 0
				if leg == 0 || f.From[layout.A].Bus != t.Bus {
					changes = append(changes, SetKey("buses", b.Name, "length", c.L.Spell(tap)))
				}
			}
			taps[leg], most = c.TapText(t.Bus, tap), max(most, far)
			words[leg] = fmt.Sprintf("bus %s @ %s%s", b.Name, quantity.FormatLength(tap), longer)
		}
	}
	from = words[layout.B]
	if words[layout.A] != from {
		from += ", " + c.LegWord(layout.A) + " from " + words[layout.A]
	}
	value := "{from: " + taps[layout.B]
	if taps[layout.A] != taps[layout.B] {
		value = "{A-from: " + taps[layout.A] + ", B-from: " + taps[layout.B]
	}
	rail := f.ARail
	if like.Turned {
		rail = rail.Other()
	}
	value += ", A: " + [2]string{"left", "right"}[rail]
	if wire := c.usualWire(); wire != "" {
		value += ", wire: " + wire
	}
	if length := c.usualLength(); length > 0 {
		value += ", length: " + c.L.Spell(length+most)
	}
	return append(changes, finding.Change{Op: finding.OpPlace, Section: "feeders", Piece: c.L.Tracks[track].Name, Where: c.L.Spell(at), Value: value + "}"}), from
}

// usualWire is the wire that most feeders are of, "" where none says; of those as usual the thicker.
func (c *Case) usualWire() string {
	count := map[string]int{}
	best := -1
	for i := range c.L.Feeders {
		w := &c.L.Feeders[i].Wire
		if !w.Known() {
			continue
		}
		count[w.String()]++
		if best < 0 || count[w.String()] > count[c.L.Feeders[best].Wire.String()] ||
			count[w.String()] == count[c.L.Feeders[best].Wire.String()] && w.Lo > c.L.Feeders[best].Wire.Lo {
			best = i
		}
	}
	if best < 0 {
		return ""
	}
	return c.L.Feeders[best].Wire.String()
}

// usualLength is the length that the middle one of all feeders has, in metres, 0 where none says.
func (c *Case) usualLength() float64 {
	var lengths []float64
	for i := range c.L.Feeders {
		if x := &c.L.Feeders[i].Length; x.Known() {
			lengths = append(lengths, x.Mid())
		}
	}
	if len(lengths) == 0 {
		return 0
	}
	slices.Sort(lengths)
	return lengths[(len(lengths)-1)/2]
}

// RehangLike hangs legs of a feeder from the buses from which another one hangs, where each is nearest, and says so: "with leg A from bus D1-wire @ 2 ft
// (610 mm)". The change has no keys where the feeder hangs from these buses already.
func (c *Case) RehangLike(feeder, like int32, legs ...layout.Leg) (change finding.Change, words string) {
	bus := [2]int32{-1, -1}
	for _, leg := range legs {
		if t := &c.L.Feeders[like].From[leg]; t.Bus >= 0 && t.Bus != c.L.Feeders[feeder].From[leg].Bus {
			bus[leg] = t.Bus
		}
	}
	return c.rehang(feeder, bus, like)
}

// RehangFrom hangs legs of a feeder from a bus, where that is nearest, and says so.
func (c *Case) RehangFrom(feeder, bus int32, legs ...layout.Leg) (change finding.Change, words string) {
	buses := [2]int32{-1, -1}
	for _, leg := range legs {
		buses[leg] = bus
	}
	return c.rehang(feeder, buses, -1)
}

// rehang hangs the legs of a feeder from buses, -1 as they are, where each is nearest; the wires are as much longer as a bus begins or ends away from there.
func (c *Case) rehang(feeder int32, buses [2]int32, like int32) (change finding.Change, words string) {
	change = finding.Change{Op: finding.OpSetFeeder, Ref: feeder}
	most := 0.0
	for leg, bus := range buses {
		if bus < 0 {
			continue
		}
		other := -1.0
		if like >= 0 {
			other = c.L.Feeders[like].From[leg].At.Mid()
		}
		tap, far := c.tapFor(feeder, bus, other)
		most = max(most, far)
		at := fmt.Sprintf("bus %s @ %s", c.L.Buses[bus].Name, quantity.FormatLength(tap))
		f := &c.L.Feeders[feeder]
		if both := buses[layout.A] == buses[layout.B]; both && f.From[layout.A].Text == f.From[layout.B].Text {
			change.Keys, words = []finding.Key{{Name: "from", Value: c.TapText(bus, tap)}}, "from "+at
			continue
		}
		change.Keys = append(change.Keys, finding.Key{Name: layout.Leg(leg).String() + "-from", Value: c.TapText(bus, tap)})
		if words != "" {
			words += " and "
		} else {
			words = "with "
		}
		words += c.LegWord(layout.Leg(leg)) + " from " + at
	}
	if f := &c.L.Feeders[feeder]; most > 0 && f.Length.Known() {
		change.Keys = append(change.Keys, finding.Key{Name: "length", Value: c.L.Spell(f.Length.Mid() + most)})
		words += ", by wires of " + quantity.FormatLength(f.Length.Mid()+most)
	}
	return change, words
}

// tapFor is where a feeder meets a bus, as TapNear has it; where nothing tells and no other place is given, as far along the bus as along the track.
func (c *Case) tapFor(feeder, bus int32, other float64) (tap, far float64) {
	p := &c.L.Feeders[feeder].Place
	if p.Piece < 0 || c.L.Pieces[p.Piece].Kind != layout.TrackPiece {
		return math.Max(0, other), 0
	}
	piece := &c.L.Pieces[p.Piece]
	at := p.At.Mid()
	switch p.End {
	case 0:
		at = 0
	case 1:
		at = c.L.Tracks[piece.Index].Length.Mid()
	}
	if other < 0 {
		if other = at; c.L.Buses[bus].Length.Known() {
			other = math.Min(at, c.L.Buses[bus].Length.Mid())
		}
	}
	return c.TapNear(bus, piece.Index, at, other)
}

// BusesFrom lists the buses behind a source, straight or through wire alone, that a feeder may hang from; with detector not -1 those
// that hang from it.
func (c *Case) BusesFrom(source, detector int32) []int32 {
	var out []int32
	for b := range c.L.Buses {
		bus := &c.L.Buses[b]
		if bus.Use != layout.BusTrack {
			continue
		}
		if detector >= 0 {
			if c.DetectorAbove(bus.From) == detector {
				out = append(out, int32(b))
			}
			continue
		}
		if s, crossed := c.C.SourceAbove(bus.From); s == source && !crossed && bus.Legs == layout.LegsBoth && c.DetectorAbove(bus.From) < 0 {
			out = append(out, int32(b))
		}
	}
	return out
}

// DetectorAbove is the detector that a bus hangs from, straight or by another bus, -1 for none.
func (c *Case) DetectorAbove(s layout.Source) int32 {
	for range c.L.Buses {
		switch {
		case s.Kind == layout.FromDetector:
			return s.Index
		case s.Kind == layout.FromTap && s.Tap.Bus >= 0:
			s = c.L.Buses[s.Tap.Bus].From
		default:
			return -1
		}
	}
	return -1
}

// CutSpan is the track on which a tie's missing gap belongs, where it is best cut and between which bounds: where blocks are meant to part, else in
// the middle of the stretch any point of which will do. On a ring whose start the stretch passes it is the part before the start.
func (c *Case) CutSpan(t *districts.Tie) (track int32, at, lo, hi float64, ok bool) {
	track, lo, hi, ok = c.cutRange(t)
	if !ok {
		return 0, 0, 0, 0, false
	}
	if hi < lo {
		hi = c.L.Tracks[track].Length.Mid()
	}
	if place, meant := c.meantCut(t); meant {
		return track, place.AtM, place.AtM - Stub/2, place.AtM + Stub/2, true
	}
	return track, (lo + hi) / 2, lo, hi, true
}
