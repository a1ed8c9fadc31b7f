package districts

import (
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// PitEdge is the edge of a turntable's or transfer table's pit in one position of the
// bridge, where wheels roll from bridge rails to a track's.
type PitEdge struct {
	Piece   layout.PieceID
	End     int32 // of Piece: the track met
	Way     int32
	Setting Setting
	// Root is the phase of the bridge: a booster or a free source, -1 unknown.
	Root int32
	// Known says that both sides carry legs of one phase; Crossed that a wheel over the edge
	// then joins leg A to leg B.
	Known, Crossed bool
	// Dead says that the ring's contacts stand in its dead arc then.
	Dead bool
}

// PitEdges lists every edge in every position, by piece and position.
func (t *Trace) PitEdges() []PitEdge {
	feeds := map[layout.PieceID][]int32{}
	for i := range t.C.Conductors {
		if k := &t.C.Conductors[i]; k.Kind == circuit.BridgeFeed {
			feeds[layout.PieceID(k.Ref)] = append(feeds[layout.PieceID(k.Ref)], int32(i))
		}
	}
	var out []PitEdge
	for i := range t.C.Ways {
		w := &t.C.Ways[i]
		if w.Kind != circuit.WayPit {
			continue
		}
		e := PitEdge{Piece: w.Piece, End: t.C.Spots[w.B].End, Way: int32(i), Setting: Setting{w.Device, w.Position}, Root: -1}
		t.pitEdge(&e, w, feeds[w.Piece])
		out = append(out, e)
	}
	return out
}

// pitEdge compares what the bridge carries in one position with what the track does.
func (t *Trace) pitEdge(e *PitEdge, w *circuit.Way, feeds []int32) {
	piece := &t.C.Layout.Pieces[e.Piece]
	if piece.Kind == layout.TurntablePiece {
		table := &t.C.Layout.Turntables[piece.Index]
		e.Dead = table.SplitRing && circuit.InDeadArc(table, int(e.Setting.Position)/2)
	}
	at := slices.IndexFunc(feeds, func(i int32) bool {
		k := &t.C.Conductors[i]
		return k.Leg == layout.A && (k.Device < 0 || (k.Device == w.Device && k.Position == w.Position))
	})
	source, crossed := t.C.SourceAbove(t.bridgeFrom(e.Piece))
	if at < 0 || source < 0 {
		return
	}
	aRail := t.C.Conductors[feeds[at]].Rail
	root, turned := phaseRoot(t.C, source)
	e.Root = root
	track, known := t.Polarity.ARail(w.B)
	if !known {
		return
	}
	other := t.Polarity.Root[t.Polarity.Sections.Of[w.B]]
	if other != root && !inPhase(t.C, root, other) {
		return
	}
	e.Known = true
	if w.Turned {
		aRail = aRail.Other()
	}
	e.Crossed = (aRail != track) != crossed != turned != crossedSignals(t.C, root, other)
}

// bridgeFrom is what a bridge's rails hang from.
func (t *Trace) bridgeFrom(p layout.PieceID) layout.Source {
	piece := &t.C.Layout.Pieces[p]
	if piece.Kind == layout.TurntablePiece {
		return t.C.Layout.Turntables[piece.Index].From
	}
	return t.C.Layout.TransferTables[piece.Index].From
}
