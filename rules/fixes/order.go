package fixes

import (
	"cmp"

	"gapwise/netlist/layout"

	"gapwise/rules/finding"
)

// compareSteps orders steps as they are done.
func compareSteps(x, y *Step) int {
	return cmp.Or(
		last(x.hidden, y.hidden),
		cmp.Compare(stage(&x.Work), stage(&y.Work)),
		cmp.Compare(x.piece, y.piece),
		cmp.Compare(x.For.AtM, y.For.AtM),
		cmp.Compare(x.Text, y.Text),
	)
}

// stage is when work is done: settings, wires, devices, cuts.
func stage(w *finding.Work) int {
	switch {
	case w.Cuts > 0:
		return 3
	case w.Devices > 0:
		return 2
	case w.Wires > 0:
		return 1
	}
	return 0
}

func last(x, y bool) int {
	switch {
	case x == y:
		return 0
	case x:
		return 1
	}
	return -1
}

// pieceNamed is the index of a piece, past the last where there is none of that name.
func pieceNamed(l *layout.Layout, name string) int {
	for p := range l.Pieces {
		if l.Pieces[p].Name == name {
			return p
		}
	}
	return len(l.Pieces)
}

// hidden reports whether a mend works on a track that cannot be seen or reached easily.
func hidden(l *layout.Layout, m *finding.Mend) bool {
	on := func(p layout.PieceID) bool {
		return p >= 0 && int(p) < len(l.Pieces) && l.Pieces[p].Kind == layout.TrackPiece && l.Tracks[l.Pieces[p].Index].Hidden == layout.Yes
	}
	for i := range m.Changes {
		c := &m.Changes[i]
		switch c.Op {
		case finding.OpSetFeeder, finding.OpMoveFeeder:
			if on(l.Feeders[c.Ref].Place.Piece) {
				return true
			}
		case finding.OpSetGap, finding.OpMoveGap, finding.OpCloseGap:
			if on(l.Gaps[c.Ref].Place.Piece) {
				return true
			}
		case finding.OpPlace:
			if on(layout.PieceID(pieceNamed(l, c.Piece))) {
				return true
			}
		}
	}
	return false
}
