package reader

import "gapwise/netlist/layout"

// hangPieces resolves the feed of turntables and transfer tables, and the taps of frogs.
func (r *reader) hangPieces() {
	l := r.lay
	for i := range l.Pieces {
		p := &l.Pieces[i]
		rec := r.pieceRecord(layout.PieceID(i))
		switch p.Kind {
		case layout.TurntablePiece:
			l.Turntables[p.Index].From = r.bridgeFeed(rec)
		case layout.TransferTablePiece:
			l.TransferTables[p.Index].From = r.bridgeFeed(rec)
		case layout.TurnoutPiece:
			r.frogTap(rec, &l.Turnouts[p.Index])
		}
	}
}

// bridgeFeed is what feeds the rails of a bridge, which needs both legs.
func (r *reader) bridgeFeed(rec *record) layout.Source {
	raw, ok := get[rawSource](rec, "from")
	if !ok {
		return layout.Source{Index: -1, Tap: noTap()}
	}
	s, _ := r.source(rec, raw)
	r.needSource(s, bothLegs, raw.text)
	return s
}

// frogTap is where a frog's contacts take the legs of a bus.
func (r *reader) frogTap(rec *record, t *layout.Turnout) {
	raw, ok := get[rawPlace](rec, "frog-from")
	if !ok {
		return
	}
	t.FrogTap, _ = r.tap(rec.unit, raw)
	for _, g := range t.FrogGets {
		switch g.Gets {
		case layout.GetsLegA:
			ok = ok && r.needLeg(t.FrogTap, layout.A, raw.text)
		case layout.GetsLegB:
			ok = ok && r.needLeg(t.FrogTap, layout.B, raw.text)
		}
	}
}
