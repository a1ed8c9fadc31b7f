package power

import (
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// wayAt is the length of track that holds a place, and the share of it there; -1 when there is none.
func (s *Study) wayAt(p layout.Place) (way int32, t float64) {
	if p.Piece < 0 {
		return -1, 0
	}
	piece := &s.C.Layout.Pieces[p.Piece]
	if p.End >= 0 {
		spot := s.C.EndSpot[p.Piece][p.End]
		if spot < 0 {
			return -1, 0
		}
		return s.wayFrom(spot)
	}
	if piece.Kind != layout.TrackPiece || !p.At.Known() {
		return -1, 0
	}
	return s.WayOn(piece.Index, p.At.Mid())
}

// WayOn is the length of track that holds a reading of a track's ruler, and the share of it there;
// -1 when no rail of the track's own is there.
func (s *Study) WayOn(track int32, at float64) (way int32, t float64) {
	for _, spot := range s.C.TrackSpots[track] {
		for _, w := range s.T.Ways.Of(spot) {
			x := &s.C.Ways[w]
			if x.Kind != circuit.WayTrack || x.A != spot {
				continue
			}
			from, to := s.C.Spots[x.A].At, s.C.Spots[x.B].At
			if from-1e-9 <= at && at <= to+1e-9 && to > from {
				return w, min(1, max(0, (at-from)/(to-from)))
			}
		}
	}
	return -1, 0
}

// wayFrom is a length of track that begins or ends at a spot, or at one joined to it.
func (s *Study) wayFrom(spot int32) (way int32, t float64) {
	for _, w := range s.T.Ways.Of(spot) {
		if x := &s.C.Ways[w]; x.Kind == circuit.WayTrack {
			if x.A == spot {
				return w, 0
			}
			return w, 1
		}
	}
	for _, w := range s.T.Ways.Of(spot) {
		x := &s.C.Ways[w]
		if x.Kind != circuit.WayJoint {
			continue
		}
		for _, o := range s.T.Ways.Of(x.A + x.B - spot) {
			if y := &s.C.Ways[o]; y.Kind == circuit.WayTrack {
				if y.A == x.A+x.B-spot {
					return o, 0
				}
				return o, 1
			}
		}
	}
	return -1, 0
}
