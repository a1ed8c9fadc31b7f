package circuit

import (
	"math"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// turntable lays a bridge with two rails, fed as it stands, and the ways over the edge
// of the pit: no metal crosses it, only wheels do.
func (b *builder) turntable(p layout.PieceID) {
	t := &b.l.Turntables[b.l.Pieces[p].Index]
	ends := b.l.Pieces[p].Ends
	positions := b.l.SettingWords(p)
	d := b.pieceDevice(p, positions, nil)
	bridge := b.nodes()
	middle := b.spot(Spot{Piece: p, End: -1, Node: bridge})
	legs := b.sourceNodes(t.From)
	if !t.SplitRing {
		b.bridgeFeed(p, legs, bridge, t.ARail, -1, -1)
	}
	for i := range positions {
		track, tail := i/2, i%2 == 1
		if t.SplitRing {
			rail, known := splitRail(t, track, tail)
			switch {
			case InDeadArc(t, track):
			case known:
				b.bridgeFeed(p, legs, bridge, rail, d, i)
			default:
				b.leaveOut("which leg each bridge rail of "+t.Name+" has at "+positions[i], "its angles leave open on which half of the ring the bridge then stands", t.Pos)
			}
		}
		for e := range ends {
			// the other end of the bridge meets a track that lies straight across
			if e == track || opposite(t.TrackAngle[e], t.TrackAngle[track]) {
				b.way(Way{A: middle, B: b.c.EndSpot[p][e], Kind: WayPit, Turned: tail == (e == track), Gaps: noGaps, Rails: noGaps, Piece: p, Device: d, Position: int16(i), Length: t.Bridge.Mid() / 2, Pos: ends[e].Pos})
			}
		}
	}
}

// InDeadArc reports whether the bridge stands wholly inside a dead arc at a track: the
// contacts then touch no half of the ring. The arc lies evenly about both splits.
func InDeadArc(t *layout.Turntable, track int) bool {
	angle := t.TrackAngle[track]
	if !t.DeadArc.Known() || !angle.Known() || !t.SplitAt.Known() {
		return false
	}
	for _, split := range [2]float64{t.SplitAt.Mid(), t.SplitAt.Mid() + 180} {
		away := math.Abs(math.Mod(angle.Mid()-split+540, 360) - 180)
		if away <= t.DeadArc.Mid()/2 {
			return true
		}
	}
	return false
}

// opposite reports whether two tracks lie straight across the pit, within half a degree.
func opposite(x, y quantity.Angle) bool {
	if !x.Known() || !y.Known() {
		return false
	}
	d := math.Mod(math.Abs(x.Mid()-y.Mid()), 360)
	return math.Abs(d-180) < 0.5
}

// splitRail is the bridge rail that has leg A with an end of the bridge at a track;
// known is false where the angles leave that open.
func splitRail(t *layout.Turntable, track int, tail bool) (rail layout.Rail, known bool) {
	angle := t.TrackAngle[track].Value
	if tail {
		angle.Lo, angle.Hi = angle.Lo+180, angle.Hi+180
	}
	typed, sure := ringHalf(quantity.Value{State: quantity.Known}, t.SplitAt.Value)
	half, alsoSure := ringHalf(angle, t.SplitAt.Value)
	if !sure || !alsoSure {
		return t.ARail, false
	}
	if half != typed {
		return t.ARail.Other(), true
	}
	return t.ARail, true
}

// ringHalf says on which half of a split ring the bridge's head is; not known when an
// angle is unknown or the head may stand over a split.
func ringHalf(angle, split quantity.Value) (half, known bool) {
	if !angle.Known() || !split.Known() {
		return false, false
	}
	low, high := math.Floor((angle.Lo-split.Hi)/180), math.Floor((angle.Hi-split.Lo)/180)
	if low != high || low*180 == angle.Lo-split.Hi {
		return false, false
	}
	return math.Mod(low, 2) == 0, true
}

// transferTable lays one bridge that serves any a-b pair, walked from a to b.
func (b *builder) transferTable(p layout.PieceID) {
	t := &b.l.TransferTables[b.l.Pieces[p].Index]
	positions := b.l.SettingWords(p)
	d := b.pieceDevice(p, positions, nil)
	bridge := b.nodes()
	middle := b.spot(Spot{Piece: p, End: -1, Node: bridge})
	b.bridgeFeed(p, b.sourceNodes(t.From), bridge, t.ARail, -1, -1)
	ends := b.l.Pieces[p].Ends
	i := 0
	for x := range t.ACount {
		for y := t.ACount; y < len(ends); y++ {
			for _, e := range [2]int{x, y} {
				b.way(Way{A: middle, B: b.c.EndSpot[p][e], Kind: WayPit, Gaps: noGaps, Rails: noGaps, Piece: p, Device: d, Position: int16(i), Length: t.Bridge.Mid() / 2, Pos: ends[e].Pos})
			}
			i++
		}
	}
}

// bridgeFeed feeds a bridge's rails: leg A to aRail, B to the other.
func (b *builder) bridgeFeed(p layout.PieceID, legs, bridge [2]int32, aRail layout.Rail, device int32, position int) {
	for leg := range layout.Leg(2) {
		rail := aRail
		if leg == layout.B {
			rail = rail.Other()
		}
		if legs[leg] < 0 {
			continue
		}
		c := Conductor{A: legs[leg], B: bridge[rail], Ref: int32(p), Kind: BridgeFeed, Rail: rail, Leg: leg, Sure: true, Pos: b.l.Pieces[p].Pos, Device: device, Position: int16(position)}
		b.c.Conductors = append(b.c.Conductors, c)
	}
}
