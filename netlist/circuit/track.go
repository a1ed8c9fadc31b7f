package circuit

import (
	"cmp"
	"math"
	"slices"

	"gapwise/netlist/layout"
)

// eventKind orders what stands at one place of a track.
type eventKind uint8

const (
	feederEvent eventKind = iota
	bondEvent
	markEvent
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
	kind   eventKind
	ref    int32
	from   layout.EndRef // the side of the joint on which it was typed
	turned bool          // its rails are named against the walk of that side
}

// collectEvents sorts what stands on tracks by place, and what stands at joints by joint.
func (b *builder) collectEvents() {
	l := b.l
	b.touchingEdges()
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
	for i := range b.o.Marks {
		if b.o.Marks[i].End < 0 {
			b.onTrack(b.o.Marks[i], event{kind: markEvent, ref: int32(i)})
		}
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
	if p.End < 0 && !p.At.Known() {
		b.leaveOut("where "+p.Text+" is", "it is measured from the end of a track whose length is unknown", p.Pos)
		if e.kind == feederEvent || e.kind == bondEvent {
			return
		}
	}
	b.events = append(b.events, e)
}

// atPlace files a gap or joint, which at a joint belongs to the joint itself.
func (b *builder) atPlace(p layout.Place, e event) {
	if p.Piece < 0 {
		return
	}
	if p.End >= 0 {
		from, turned := b.jointOf(layout.EndRef{Piece: p.Piece, End: p.End})
		key := b.jointKey(from)
		b.atJoint[key] = append(b.atJoint[key], jointEvent{kind: e.kind, ref: e.ref, from: from, turned: turned})
		return
	}
	b.onTrack(p, e)
}

// placeAt is the ruler reading of a place on a track: beyond all readings for the end of
// a track of unknown length, and short of that for what is measured from such an end.
func (b *builder) placeAt(p layout.Place) float64 {
	t := &b.l.Tracks[b.l.Pieces[p.Piece].Index]
	switch {
	case p.End == 0:
		return 0
	case p.End == 1 && t.Length.Known():
		return t.Length.Mid()
	case p.End == 1:
		return math.Inf(1)
	case !p.At.Known():
		return math.MaxFloat64
	default:
		return p.At.Mid()
	}
}

// rulerLength is how far a track's rails are laid, in metres; one of unknown length
// reaches as far as what is known to stand on it.
func (b *builder) rulerLength(t int32) float64 {
	tr := &b.l.Tracks[t]
	if tr.Length.Known() {
		return tr.Length.Mid()
	}
	reach := 0.0
	if n := len(tr.Stands); n > 0 {
		reach = tr.Stands[n-1].At.Mid() + tr.Stands[n-1].Length.Mid()
	}
	for _, e := range b.trackEvents(t) {
		if e.at < math.MaxFloat64 {
			reach = max(reach, e.at)
		}
	}
	return reach
}

// trackEvents are the events of one track, by rising place.
func (b *builder) trackEvents(t int32) []event { return b.events[b.eventEnd[t]:b.eventEnd[t+1]] }

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
	w := trackWalk{b: b, t: t, piece: tr.Piece, events: b.trackEvents(t)}
	length := b.rulerLength(t)
	if !tr.Length.Known() {
		b.leaveOut("how far "+tr.Name+" runs", "its length is unknown; its rails are laid as far as what stands on them", tr.Pos)
	}
	wrapped := 0.0 // where a body that passes a ring's start ends
	if n := len(tr.Stands); n > 0 {
		if last := tr.Stands[n-1]; tr.Closed && last.At.Mid()+last.Length.Mid() > length+touching {
			wrapped = last.At.Mid() + last.Length.Mid() - length
		}
	}
	w.begin(wrapped)
	if wrapped == 0 {
		b.c.EndSpot[tr.Piece][0] = w.here
	} else {
		b.bodyJoint(secondOf(&tr.Stands[len(tr.Stands)-1]), w.here, true)
	}
	for i := range tr.Stands {
		s := &tr.Stands[i]
		w.walkTo(s.At.Mid())
		if i == len(tr.Stands)-1 && wrapped > 0 {
			w.finish(s.At.Mid())
			b.bodyJoint(firstOf(s), w.here, false)
			return
		}
		b.bodyJoint(firstOf(s), w.here, false)
		w.begin(s.At.Mid() + s.Length.Mid())
		b.bodyJoint(secondOf(s), w.here, true)
	}
	w.finish(length)
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

// finish lays rail to where it stops. What a range of measures puts beyond stands there.
func (w *trackWalk) finish(to float64) {
	w.walkTo(to)
	for len(w.events) > 0 {
		e := w.events[0]
		w.events = w.events[1:]
		w.meet(e)
	}
}

// layTo lays a length of both rails up to a reading.
func (w *trackWalk) layTo(at float64) {
	if at <= w.at+touching {
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
		c := [2]cut{{metal: Joined, gap: -1, joint: OneJoint}, {metal: Joined, gap: -1, joint: OneJoint}}
		for r := range layout.Rail(2) {
			if inRails(j.Rails, r) {
				c[r] = cut{metal: b.jointMetal(j.Kind), gap: -1, joint: jointMake(j.Kind)}
			}
		}
		w.part(c, WayJoint, j.Entry)
	case gapEvent:
		c := [2]cut{{metal: Joined, gap: -1, joint: OneJoint}, {metal: Joined, gap: -1, joint: OneJoint}}
		w.cutRails(&c, e.ref)
		for len(w.events) > 0 && w.events[0].kind == gapEvent && w.events[0].at == e.at {
			w.cutRails(&c, w.events[0].ref) // a gap listed rail by rail is one gap
			w.events = w.events[1:]
		}
		w.part(c, WayCut, b.l.Gaps[e.ref].Entry)
	}
}

// cutRails enters a gap into what happens to the rails at its place.
func (w *trackWalk) cutRails(c *[2]cut, gap int32) {
	for r := range layout.Rail(2) {
		if inRails(w.b.l.Gaps[gap].Rails, r) {
			g := &w.b.l.Gaps[gap]
			c[r] = cut{metal: w.b.gapMetal(g), gap: gap, joint: gapMake(g)}
		}
	}
}

// cut is what happens to one rail at a joint: how it conducts, which gap is there, and
// what the joint is made of.
type cut struct {
	metal Metal
	gap   int32
	joint JointMake
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
			b.join(Conductor{A: b.c.Spots[from].Node[r], B: nodes[r], Ref: int32(w.piece), Kind: JointMetal, Rail: r, Sure: c[r].metal == Joined, Joint: c[r].joint, From: w.at, To: w.at, Pos: entry.Pos})
		}
	}
	to := w.newSpot(w.at, nodes)
	b.way(Way{A: from, B: to, Kind: kind, Metal: [2]Metal{c[0].metal, c[1].metal}, Gaps: [2]int32{c[0].gap, c[1].gap}, Rails: rails, Piece: w.piece, Device: -1, Position: -1, Pos: entry.Pos})
	w.here = to
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

// jointMake is what a rail joint of a kind is made of.
func jointMake(k layout.JointKind) JointMake {
	switch k {
	case layout.Soldered:
		return SolderedJoint
	case layout.Plain:
		return PlainJoint
	default:
		return UnknownJoint
	}
}

// gapMake is what joins the rails at a gap, where anything does.
func gapMake(g *layout.Gap) JointMake {
	switch {
	case g.Kind == layout.Insulated:
		return BridgedGap
	case g.Joint == layout.Bonded:
		return BondedJoint
	default:
		return SlidingJoint
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
