package districts

import (
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// Stub is how much of a block may lie on the wrong side of a gap before it counts, in
// metres (6 in). Common practice, no source.
const Stub = stub

// Sources are the circuit sources that the blocks at a spot are meant to hang from.
func (m *Meant) Sources(c *circuit.Circuit, spot int32) []int32 { return m.sources(c, spot) }

// Piece lists the blocks that are meant to cover a whole piece.
func (m *Meant) Piece(p layout.PieceID) []int32 { return m.byPiece[p] }

// DeclaredCommon reports whether the rail that goes on at a one-rail gap is declared common.
func (t *Trace) DeclaredCommon(way int32) bool { return t.common(way) }

// SignalKnown reports whether a booster says how its signal is wired.
func (t *Trace) SignalKnown(booster int32) bool {
	return knownSignal(t.C.Layout.Boosters[booster].SignalWired)
}

// MeetsBoosters reports whether a way is a gap with one booster's districts on one side
// and another booster's on the other.
func (t *Trace) MeetsBoosters(w *circuit.Way, booster int32) bool {
	if !isGap(w) {
		return false
	}
	p := t.Polarity
	a, b := p.Root[p.Sections.Of[w.A]], p.Root[p.Sections.Of[w.B]]
	return a >= 0 && b >= 0 && a != b && (a == booster || b == booster) && !t.C.Sources[a].Free && !t.C.Sources[b].Free
}

// ZoneOf is the block as wired that holds most of a block as meant; -1 when none does.
func (t *Trace) ZoneOf(block int32) int32 { return t.Zones.byBlock[block] }

// MainZone is the zone that holds most of a track; -1 when the track has no length.
func (t *Trace) MainZone(track int32) int32 {
	length := map[int32]float64{}
	best := int32(-1)
	id := t.C.Layout.Tracks[track].Piece
	for z := range t.Zones.List {
		for _, k := range t.Zones.List[z].Ways {
			if w := &t.C.Ways[k]; w.Kind == circuit.WayTrack && w.Piece == id {
				length[int32(z)] += w.Length
			}
		}
		if best < 0 && length[int32(z)] > 0 || best >= 0 && length[int32(z)] > length[best] {
			best = int32(z)
		}
	}
	return best
}

// OtherTracks lists the tracks other than one that have more than least metres in a zone, rising.
func (t *Trace) OtherTracks(zone, track int32, least float64) []int32 {
	length := make([]float64, len(t.C.Layout.Tracks))
	for _, k := range t.Zones.List[zone].Ways {
		if w := &t.C.Ways[k]; w.Kind == circuit.WayTrack {
			length[t.C.Layout.Pieces[w.Piece].Index] += w.Length
		}
	}
	var out []int32
	for i, m := range length {
		if int32(i) != track && m > least {
			out = append(out, int32(i))
		}
	}
	return out
}

// UseLength is how much track of some uses a zone holds, in metres.
func (t *Trace) UseLength(zone int32, uses ...layout.Use) float64 {
	total := 0.0
	for _, k := range t.Zones.List[zone].Ways {
		if w := &t.C.Ways[k]; w.Kind == circuit.WayTrack && slices.Contains(uses, t.C.Layout.Tracks[t.C.Layout.Pieces[w.Piece].Index].Use) {
			total += w.Length
		}
	}
	return total
}

// WholeLength is UseLength over the tracks that lie in the zone from end to end: a track
// that an insulated gap cuts somewhere is cut off.
func (t *Trace) WholeLength(zone int32, uses ...layout.Use) float64 {
	total := 0.0
	for _, k := range t.Zones.List[zone].Ways {
		w := &t.C.Ways[k]
		if w.Kind != circuit.WayTrack {
			continue
		}
		track := t.C.Layout.Pieces[w.Piece].Index
		if slices.Contains(uses, t.C.Layout.Tracks[track].Use) && t.wholeIn(zone, track) {
			total += w.Length
		}
	}
	return total
}

// wholeIn reports whether a track lies in a zone from end to end.
func (t *Trace) wholeIn(zone, track int32) bool {
	spots := t.C.TrackSpots[track]
	return t.Zones.Of[spots[0]] == zone && t.Zones.Of[spots[len(spots)-1]] == zone
}

// NearestToMain is the track of some uses, whole in a zone, that is fewest ways from the
// zone's main track; -1 when the zone lacks one or the other.
func (t *Trace) NearestToMain(zone int32, uses ...layout.Use) int32 {
	use := func(w *circuit.Way) layout.Use {
		return t.C.Layout.Tracks[t.C.Layout.Pieces[w.Piece].Index].Use
	}
	seen := map[int32]bool{}
	var queue []int32
	for _, k := range t.Zones.List[zone].Ways {
		if w := &t.C.Ways[k]; w.Kind == circuit.WayTrack && use(w) == layout.UseMain {
			for _, s := range [2]int32{w.A, w.B} {
				if !seen[s] {
					seen[s] = true
					queue = append(queue, s)
				}
			}
		}
	}
	for len(queue) > 0 {
		s := queue[0]
		queue = queue[1:]
		for _, k := range t.Ways.Of(s) {
			w := &t.C.Ways[k]
			if partsBlock(t.C, t.Meant, w) {
				continue
			}
			if w.Kind == circuit.WayTrack && slices.Contains(uses, use(w)) && t.wholeIn(zone, t.C.Layout.Pieces[w.Piece].Index) {
				return t.C.Layout.Pieces[w.Piece].Index
			}
			if o := w.A + w.B - s; !seen[o] {
				seen[o] = true
				queue = append(queue, o)
			}
		}
	}
	return -1
}

// EndsOnUse counts the ends of a piece that meet track of a use.
func (t *Trace) EndsOnUse(p layout.PieceID, use layout.Use) int {
	n := 0
	for _, s := range t.C.EndSpot[p] {
		for _, k := range t.Ways.Of(s) {
			w := &t.C.Ways[k]
			if w.Kind != circuit.WayJoint && w.Kind != circuit.WayCut {
				continue
			}
			o := &t.C.Layout.Pieces[t.C.Spots[w.A+w.B-s].Piece]
			if o.Kind == layout.TrackPiece && t.C.Layout.Tracks[o.Index].Use == use {
				n++
				break
			}
		}
	}
	return n
}

// LongestThrough is the longest of the shortest ways between any two ends of a zone (its
// gaps and track ends), in metres; open is true when a zone has no ends at all, so that a train has
// room without bound.
func (t *Trace) LongestThrough(zone int32) (metres float64, open bool) {
	inside := func(k, s int32) bool { return t.Zones.Of[s] == zone && !partsBlock(t.C, t.Meant, &t.C.Ways[k]) }
	ends := t.zoneEnds(zone)
	if len(ends) == 0 {
		return 0, true
	}
	for i, s := range ends {
		d := distances(t.C, t.Ways.adj, s, inside)
		for _, e := range ends[i:] {
			metres = max(metres, d[e])
		}
	}
	return metres, false
}

// zoneEnds lists the spots of a zone at its gaps, and where its track ends.
func (t *Trace) zoneEnds(zone int32) []int32 {
	var out []int32
	add := func(s int32) {
		if t.Zones.Of[s] == zone && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	for _, k := range t.Zones.List[zone].Bounds {
		add(t.C.Ways[k].A)
		add(t.C.Ways[k].B)
	}
	for _, k := range t.Zones.List[zone].Ways {
		for _, s := range [2]int32{t.C.Ways[k].A, t.C.Ways[k].B} {
			if len(t.Ways.Of(s)) == 1 {
				add(s)
			}
		}
	}
	return out
}

// Side is what lies on one side of track work or of a gap, up to the next gap, track work
// or end of track.
type Side struct {
	Fed    bool    // a feeder stands on it
	Dead   bool    // a rail of it is reached by no leg at all
	Whole  bool    // fed through sure metal in both rails, in every setting
	Routed bool    // a rail of it gets its leg from blades or contacts, in some settings only
	Loose  bool    // a rail of it hangs on joints or jumpers that nobody vouches for
	Length float64 // metres of track
	Stop   int32   // the way it ends at, -1 at an end of track
}

// SideOf walks away from an end of a piece.
func (t *Trace) SideOf(spot int32) Side { return t.side(spot, -1) }

// SideBeyond walks away from a gap, from its spot on the side to look at.
func (t *Trace) SideBeyond(spot, gap int32) Side { return t.side(spot, gap) }

func (t *Trace) side(spot, from int32) Side {
	side := Side{Stop: -1, Whole: true}
	fed := t.fedSpots()
	at := spot
	for range t.C.Ways {
		n := t.C.Spots[at].Node
		for _, node := range n {
			switch t.Fed[node] {
			case FedAlways:
			case Dead:
				side.Dead, side.Whole = true, false
			case InSetting:
				side.Routed, side.Whole = true, false
			default:
				side.Loose, side.Whole = true, false
			}
		}
		if fed[at] {
			side.Fed = true
			return side
		}
		next := int32(-1)
		for _, k := range t.Ways.Of(at) {
			if w := &t.C.Ways[k]; k != from && w.Kind != circuit.WayThrough {
				next = k
			}
		}
		if next < 0 {
			return side
		}
		w := &t.C.Ways[next]
		if w.Kind == circuit.WayPit || (w.Kind == circuit.WayCut && (w.Metal[0] != circuit.Joined || w.Metal[1] != circuit.Joined)) {
			side.Stop = next
			return side
		}
		at, from = w.A+w.B-at, next
		side.Length += w.Length
		if t.C.Layout.Pieces[t.C.Spots[at].Piece].Kind != layout.TrackPiece {
			side.Stop = next
			return side
		}
	}
	return side
}

// fedSpots marks the spots where a whole feeder stands.
func (t *Trace) fedSpots() map[int32]bool {
	if t.withFeeder == nil {
		t.withFeeder = map[int32]bool{}
		for i := range t.Feeds {
			if t.Feeds[i].Spot >= 0 {
				t.withFeeder[t.Feeds[i].Spot] = true
			}
		}
	}
	return t.withFeeder
}
