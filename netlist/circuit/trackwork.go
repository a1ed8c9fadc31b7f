package circuit

import (
	"slices"

	"gapwise/netlist/layout"
)

// trackWork lays the conductors inside every piece that is not plain track.
func (b *builder) trackWork() {
	for id := range b.l.Pieces {
		p := layout.PieceID(id)
		switch b.l.Pieces[id].Kind {
		case layout.TurnoutPiece:
			b.turnout(p)
		case layout.ThreeWayPiece:
			b.threeWay(p)
		case layout.CrossingPiece:
			b.crossing(p)
		case layout.TurntablePiece:
			b.turntable(p)
		case layout.TransferTablePiece:
			b.transferTable(p)
		}
	}
}

// end gives the two rail nodes of a piece's end.
func (b *builder) end(p layout.PieceID, e int32) [2]int32 {
	return b.c.Spots[b.c.EndSpot[p][e]].Node
}

// part is a conductor inside a piece that holds in every setting.
func (b *builder) part(p layout.PieceID, x, y int32, part Part, sure bool) {
	b.join(Conductor{A: x, B: y, Ref: int32(p), Kind: PiecePart, Part: part, Sure: sure, Pos: b.l.Pieces[p].Pos})
}

// partWhen is a conductor inside a piece that holds in one position.
func (b *builder) partWhen(p layout.PieceID, x, y int32, part Part, device int32, position int) {
	b.joinWhen(Conductor{A: x, B: y, Ref: int32(p), Kind: PiecePart, Part: part, Sure: true, Pos: b.l.Pieces[p].Pos}, device, position)
}

// route adds the way through a piece from end e to end f. Piece walks run from AtStart
// ends to AtEnd ends, so left stays left on every route between unlike ends.
func (b *builder) route(p layout.PieceID, e, f int32, length float64, metal [2]Metal, device int32, position int) {
	ends := b.l.Pieces[p].Ends
	b.way(Way{
		A: b.c.EndSpot[p][e], B: b.c.EndSpot[p][f], Kind: WayThrough, Turned: ends[e].Facing == ends[f].Facing,
		Metal: metal, Gaps: noGaps, Rails: noGaps, Piece: p, Device: device, Position: int16(position), Length: length, Pos: b.l.Pieces[p].Pos,
	})
}

// moment is a position that lasts only while a piece is thrown, by name.
type moment struct {
	name string
	Moment
}

// pieceDevice makes the device of a piece, with its settings and the moments of its throws.
func (b *builder) pieceDevice(p layout.PieceID, settings []string, moments []moment) int32 {
	d := Device{Kind: PieceDevice, Ref: int32(p), Name: b.l.Pieces[p].Name, Positions: slices.Clone(settings), Pos: b.l.Pieces[p].Pos}
	for i := range moments {
		d.Positions = append(d.Positions, moments[i].name)
		d.Moments = append(d.Moments, moments[i].Moment)
	}
	b.c.PieceDevice[p] = b.device(d)
	return b.c.PieceDevice[p]
}

// inner makes the node of a frog, or of a rail that is at no spot.
func (b *builder) inner(p layout.PieceID, name string) int32 {
	n := b.node()
	b.c.Inner = append(b.c.Inner, InnerMetal{Piece: p, Name: name, Node: n})
	return n
}

// flippedFrog puts a frog behind a device that flips it by itself: it goes with either
// stock rail in every setting, with one at a time. It gives way to the wheels, so they
// demand nothing of it.
func (b *builder) flippedFrog(p layout.PieceID, name string, frog int32, points [2]int32) {
	d := b.device(Device{Kind: FrogDevice, Ref: int32(p), Name: name + " device of " + b.l.Pieces[p].Name, Positions: []string{"stock-left", "stock-right"}, Pos: b.l.Pieces[p].Pos})
	b.partWhen(p, frog, points[layout.Left], FrogDevicePart, d, 0)
	b.partWhen(p, frog, points[layout.Right], FrogDevicePart, d, 1)
}

// jumperMetal says how a typed or defaulted `jumpers` conducts.
func jumperMetal(y layout.YesNo) Metal {
	switch y {
	case layout.Yes:
		return Joined
	case layout.No:
		return Open
	default:
		return Perhaps
	}
}

// gets is what one contact does in one position: the nodes it joins the frog to, or
// known false when the layout does not say.
func gets(ms []layout.ContactMap, frog, setting string) (layout.FrogGets, bool) {
	for i := range ms {
		if ms[i].Frog == frog && ms[i].Setting == setting {
			return ms[i].Gets, true
		}
	}
	return layout.GetsUnsaid, false
}
