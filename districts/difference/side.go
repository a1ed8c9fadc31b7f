package difference

import (
	"fmt"
	"strconv"

	"gapwise/netlist/layout"
)

// side is one of the two layouts with what is known of its entries in the other.
type side struct {
	l       *layout.Layout
	mark    byte // tells unmatched entries of the two layouts apart
	pair    [kindEnd][]int32
	on      []laid  // by track: where it lies on its line
	chains  []chain // of tracks
	chainOf []int32 // by track
	stand   []layout.PieceID
}

func newSide(l *layout.Layout, mark byte) *side {
	s := &side{l: l, mark: mark, on: make([]laid, len(l.Tracks)), stand: make([]layout.PieceID, len(l.Pieces))}
	for k := range kindEnd {
		s.pair[k] = make([]int32, s.count(k))
		for i := range s.pair[k] {
			s.pair[k][i] = -1
			if k.single() {
				s.pair[k][i] = 0
			}
		}
	}
	for i := range s.on {
		s.on[i].line = -1
	}
	for i := range s.stand {
		s.stand[i] = -1
	}
	for t := range l.Tracks {
		for _, x := range l.Tracks[t].Stands {
			s.stand[x.Piece] = l.Tracks[t].Piece
		}
	}
	s.findChains()
	return s
}

// match makes entry i before and entry j after one.
func (d *Difference) match(k Kind, i, j int32) {
	d.old.pair[k][i], d.new.pair[k][j] = j, i
}

// token is what an entry is called while the layouts are compared: alike on both sides when it is one entry.
func (s *side) token(k Kind, i int32) string {
	switch {
	case i < 0:
		return "none"
	case s.pair[k][i] < 0:
		return fmt.Sprintf("%d!%c%d", k, s.mark, i)
	case s.mark == 'b':
		return fmt.Sprintf("%d#%d", k, i)
	default:
		return fmt.Sprintf("%d#%d", k, s.pair[k][i])
	}
}

// isTrack reports whether a piece is a track.
func (s *side) isTrack(p layout.PieceID) bool { return s.l.Pieces[p].Kind == layout.TrackPiece }

// endToken is what an end of track work is called: ends of a turntable go by their bearing, those of a transfer table by
// their offset, because tracks may have been added between.
func (s *side) endToken(e layout.EndRef) string {
	return s.token(KindPiece, int32(e.Piece)) + "." + s.endKey(e)
}

func (s *side) endKey(e layout.EndRef) string {
	p := &s.l.Pieces[e.Piece]
	switch p.Kind {
	case layout.TurntablePiece:
		if a := s.l.Turntables[p.Index].TrackAngle; int(e.End) < len(a) && a[e.End].Known() {
			return "at " + strconv.FormatFloat(a[e.End].Mid(), 'f', 2, 64)
		}
	case layout.TransferTablePiece:
		t := &s.l.TransferTables[p.Index]
		if int(e.End) < len(t.Offset) && t.Offset[e.End].Known() {
			return strconv.FormatBool(int(e.End) < t.ACount) + strconv.FormatFloat(t.Offset[e.End].Mid(), 'f', 4, 64)
		}
	}
	return strconv.Itoa(int(e.End))
}

// endText names an end: "T9 straight".
func (s *side) endText(e layout.EndRef) string {
	p := &s.l.Pieces[e.Piece]
	return p.Name + " " + p.Ends[e.End].Name
}
