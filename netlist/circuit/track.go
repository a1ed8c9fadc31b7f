package circuit

import (
	"cmp"
	"slices"

	"gapwise/netlist/layout"
)

// eventKind orders what stands at one place of a track.
type eventKind uint8

const (
	feederEvent eventKind = iota
	bondEvent
	loadEvent
	jointEventKind
	gapEvent
)

// event is something at a place of a track where its rails are broken up.
type event struct {
	track int32
	at    float64
	kind  eventKind
	ref   int32
	side  int8 // of a bond: 0 from, 1 to
}

// jointEvent is a gap or joint kind that stands at a joint between two pieces.
type jointEvent struct {
	kind eventKind
	ref  int32
	from layout.EndRef // the side by whose walk its rails are named
}

// collectEvents sorts what stands on tracks by place, and what stands at joints by joint.
func (b *builder) collectEvents() {
	l := b.l
	b.atJoint = map[layout.EndRef][]jointEvent{}
	b.bondSpot = make([][2]int32, len(l.Bonds))
	b.c.FeederSpot = make([]int32, len(l.Feeders))
	b.events = make([]event, 0, len(l.Feeders)+len(l.Gaps)+len(l.Joints)+2*len(l.Bonds))
	for i := range b.c.FeederSpot {
		b.c.FeederSpot[i] = -1
		b.onTrack(l.Feeders[i].Place, event{kind: feederEvent, ref: int32(i)})
	}
	for i := range l.Bonds {
		b.bondSpot[i] = [2]int32{-1, -1}
		b.onTrack(l.Bonds[i].From, event{kind: bondEvent, ref: int32(i)})
		b.onTrack(l.Bonds[i].To, event{kind: bondEvent, ref: int32(i), side: 1})
	}
	for i := range l.Joints {
		b.atPlace(l.Joints[i].Place, event{kind: jointEventKind, ref: int32(i)})
	}
	for i := range l.Gaps {
		b.atPlace(l.Gaps[i].Place, event{kind: gapEvent, ref: int32(i)})
	}
	slices.SortStableFunc(b.events, func(x, y event) int {
		return cmp.Or(cmp.Compare(x.track, y.track), cmp.Compare(x.at, y.at), cmp.Compare(x.kind, y.kind), cmp.Compare(x.ref, y.ref))
	})
	b.eventEnd = make([]int, len(l.Tracks)+1)
	for _, e := range b.events {
		b.eventEnd[e.track+1]++
	}
	for t := range l.Tracks {
		b.eventEnd[t+1] += b.eventEnd[t]
	}
}

// onTrack files what hangs on a rail; at a piece's end it hangs on the piece's own spot
// and needs no event.
func (b *builder) onTrack(p layout.Place, e event) {
	if p.Piece < 0 || b.l.Pieces[p.Piece].Kind != layout.TrackPiece {
		return
	}
	e.track = b.l.Pieces[p.Piece].Index
	e.at = b.placeAt(p)
	b.events = append(b.events, e)
}

// atPlace files a gap or joint, which at a joint belongs to the joint itself.
func (b *builder) atPlace(p layout.Place, e event) {
	if p.Piece < 0 {
		return
	}
	if p.End >= 0 {
		ref := layout.EndRef{Piece: p.Piece, End: p.End}
		key := b.jointKey(ref)
		b.atJoint[key] = append(b.atJoint[key], jointEvent{kind: e.kind, ref: e.ref, from: ref})
		return
	}
	b.onTrack(p, e)
}

// placeAt is the ruler reading of a place on a track.
func (b *builder) placeAt(p layout.Place) float64 {
	t := &b.l.Tracks[b.l.Pieces[p.Piece].Index]
	switch p.End {
	case 0:
		return 0
	case 1:
		return t.Length.Mid()
	default:
		return p.At.Mid()
	}
}

// jointKey is the one name of a joint: the lesser of its two ends.
func (b *builder) jointKey(e layout.EndRef) layout.EndRef {
	o := b.l.Pieces[e.Piece].Ends[e.End].Joint
	if o.Piece < 0 || o.End < 0 || e.Piece < o.Piece || (e.Piece == o.Piece && e.End < o.End) {
		return e
	}
	return o
}

// tracks walks every track's ruler, from body to body.
func (b *builder) tracks() {
	l := b.l
	b.c.TrackSpots = make([][]int32, len(l.Tracks))
	for t := range l.Tracks {
		b.track(int32(t))
	}
}

// track lays one track's rails: a spot at each event and at each body's edge, a length
// of rail between, a cut or joint where one stands.
func (b *builder) track(t int32) {
	tr := &b.l.Tracks[t]
	w := trackWalk{b: b, t: t, piece: tr.Piece, events: b.events[b.eventEnd[t]:b.eventEnd[t+1]]}
	length := tr.Length.Mid()
	wrapped := 0.0 // where a body that passes a ring's start ends
	if n := len(tr.Stands); n > 0 {
		if last := tr.Stands[n-1]; tr.Closed && last.At.Mid()+last.Length.Mid() > length {
			wrapped = last.At.Mid() + last.Length.Mid() - length
		}
	}
	w.begin(wrapped)
	if wrapped == 0 {
		b.c.EndSpot[tr.Piece][0] = w.here
	} else {
		last := tr.Stands[len(tr.Stands)-1]
		b.bodyJoint(layout.EndRef{Piece: last.Piece, End: last.Second}, w.here, true)
	}
	for i := range tr.Stands {
		s := &tr.Stands[i]
		w.walkTo(s.At.Mid())
		b.bodyJoint(layout.EndRef{Piece: s.Piece, End: s.First}, w.here, false)
		if i == len(tr.Stands)-1 && wrapped > 0 {
			return
		}
		w.begin(s.At.Mid() + s.Length.Mid())
		b.bodyJoint(layout.EndRef{Piece: s.Piece, End: s.Second}, w.here, true)
	}
	w.walkTo(length)
	b.c.EndSpot[tr.Piece][1] = w.here
}

// trackWalk is the state of laying one track.
type trackWalk struct {
	b      *builder
	t      int32
	piece  layout.PieceID
	events []event
	here   int32 // spot we stand on
	at     float64
}

// begin starts a stretch of rail at a ruler reading.
func (w *trackWalk) begin(at float64) {
	w.at = at
	w.here = w.newSpot(at, w.b.nodes())
}

func (w *trackWalk) newSpot(at float64, nodes [2]int32) int32 {
	s := w.b.spot(Spot{Piece: w.piece, End: -1, At: at, Node: nodes})
	w.b.c.TrackSpots[w.t] = append(w.b.c.TrackSpots[w.t], s)
	return s
}

// walkTo lays rail to a ruler reading, past the events on the way.
func (w *trackWalk) walkTo(to float64) {
	for len(w.events) > 0 && w.events[0].at <= to {
		e := w.events[0]
		w.events = w.events[1:]
		w.layTo(e.at)
		w.meet(e)
	}
	w.layTo(to)
}

// layTo lays a length of both rails up to a reading.
func (w *trackWalk) layTo(at float64) {
	if at <= w.at {
		return
	}
	b := w.b
	from := w.here
	nodes := b.nodes()
	to := w.newSpot(at, nodes)
	tr := &b.l.Tracks[w.t]
	first := int32(len(b.c.Conductors))
	for r := range layout.Rail(2) {
		b.join(Conductor{A: b.c.Spots[from].Node[r], B: nodes[r], Ref: int32(w.piece), Kind: RailLength, Rail: r, Sure: true, From: w.at, To: at, Pos: tr.Pos})
	}
	b.way(Way{A: from, B: to, Kind: WayTrack, Metal: [2]Metal{Joined, Joined}, Gaps: noGaps, Rails: [2]int32{first, first + 1}, Piece: w.piece, Device: -1, Position: -1, Length: at - w.at, Pos: tr.Pos})
	w.here, w.at = to, at
}

var noGaps = [2]int32{-1, -1}

// meet handles what stands where we are.
func (w *trackWalk) meet(e event) {
	b := w.b
	switch e.kind {
	case feederEvent:
		b.c.FeederSpot[e.ref] = w.here
	case bondEvent:
		b.bondSpot[e.ref][e.side] = w.here
	case jointEventKind:
		j := &b.l.Joints[e.ref]
		m := b.jointMetal(j.Kind)
		w.part([2]cut{{metal: orJoined(m, inRails(j.Rails, layout.Left)), gap: -1}, {metal: orJoined(m, inRails(j.Rails, layout.Right)), gap: -1}}, WayJoint, j.Entry)
	case gapEvent:
		g := &b.l.Gaps[e.ref]
		c := [2]cut{{metal: Joined, gap: -1}, {metal: Joined, gap: -1}}
		for r := range layout.Rail(2) {
			if inRails(b.gapRails(e.ref), r) {
				c[r] = cut{metal: b.gapMetal(g), gap: e.ref}
			}
		}
		w.part(c, WayCut, g.Entry)
	}
}

// cut is what happens to one rail at a joint: how it conducts, and which gap is there.
type cut struct {
	metal Metal
	gap   int32
}

// part puts a joint or gap where we are: a second spot at the same reading.
func (w *trackWalk) part(c [2]cut, kind WayKind, entry layout.Entry) {
	b := w.b
	from := w.here
	nodes := b.nodes()
	rails := noGaps
	for r := range layout.Rail(2) {
		if c[r].metal != Open {
			rails[r] = int32(len(b.c.Conductors))
			b.join(Conductor{A: b.c.Spots[from].Node[r], B: nodes[r], Ref: int32(w.piece), Kind: JointMetal, Rail: r, Sure: c[r].metal == Joined, From: w.at, To: w.at, Pos: entry.Pos})
		}
	}
	to := w.newSpot(w.at, nodes)
	b.way(Way{A: from, B: to, Kind: kind, Metal: [2]Metal{c[0].metal, c[1].metal}, Gaps: [2]int32{c[0].gap, c[1].gap}, Rails: rails, Piece: w.piece, Device: -1, Position: -1, Pos: entry.Pos})
	w.here = to
}

func orJoined(m Metal, here bool) Metal {
	if here {
		return m
	}
	return Joined
}

// inRails reports whether rail r is among rs, for sets already resolved to both, left or right.
func inRails(rs layout.RailSet, r layout.Rail) bool {
	switch rs {
	case layout.LeftRail:
		return r == layout.Left
	case layout.RightRail:
		return r == layout.Right
	default:
		return true
	}
}

// jointMetal says how a rail joint conducts.
func (b *builder) jointMetal(k layout.JointKind) Metal {
	switch {
	case k == layout.Soldered, k == layout.Plain && b.o.JoinersTrusted:
		return Joined
	default:
		return Perhaps
	}
}

// gapMetal says how a gap conducts: an insulated gap and a cut not at all, a sliding
// joint perhaps, a bonded one by its wire.
func (b *builder) gapMetal(g *layout.Gap) Metal {
	if g.Kind == layout.Insulated {
		if g.BridgedBy >= 0 {
			return Perhaps
		}
		return Open
	}
	switch g.Joint {
	case layout.Sliding:
		return Perhaps
	case layout.Bonded:
		return Joined
	default:
		return Open
	}
}

// gapRails resolves a gap's rails; those given by leg follow the nearest feeder of the
// same track, which the reader has made sure of.
func (b *builder) gapRails(g int32) layout.RailSet {
	gap := &b.l.Gaps[g]
	if gap.Rails != layout.RailOfA && gap.Rails != layout.RailOfB {
		return gap.Rails
	}
	best, found := layout.Left, false
	distance := 0.0
	for i := range b.l.Feeders {
		f := &b.l.Feeders[i]
		if f.Place.Piece != gap.Place.Piece {
			continue
		}
		d := abs(b.placeAt(f.Place) - b.placeAt(gap.Place))
		if !found || d < distance {
			best, distance, found = f.ARail, d, true
		}
	}
	if !found {
		return layout.BothRails
	}
	if gap.Rails == layout.RailOfB {
		best = best.Other()
	}
	if best == layout.Left {
		return layout.LeftRail
	}
	return layout.RightRail
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}
