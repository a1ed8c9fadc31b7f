package districts

import (
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// LiftOutApproach is track beside a lift-out piece that stays live when the piece is out.
type LiftOutApproach struct {
	Track  int32 // the lift-out
	Spot   int32 // the end of the track that meets it
	Metres float64
	Way    int32 // the live length of track nearest to it, Metres from the end
}

// LiveApproaches takes every lift-out out, with its feeders and the plugs and switches that
// these hang behind, and lists what stays live within some metres of its ends, nearest
// first of each end.
func (t *Trace) LiveApproaches(within float64) []LiftOutApproach {
	var out []LiftOutApproach
	for i := range t.C.Layout.Tracks {
		tr := &t.C.Layout.Tracks[i]
		if tr.LiftOut != layout.Yes {
			continue
		}
		live := t.alive(t.liftedOut(tr.Piece))
		for _, end := range t.C.EndSpot[tr.Piece] {
			if end < 0 {
				continue
			}
			for _, k := range t.Ways.Of(end) {
				beside := t.C.Ways[k].A + t.C.Ways[k].B - end
				if t.C.Spots[beside].Piece == tr.Piece {
					continue
				}
				if a, found := t.liveNear(beside, tr.Piece, within, live); found {
					a.Track = int32(i)
					out = append(out, a)
				}
			}
		}
	}
	return out
}

// liveNear finds the nearest live length of track that is less than within metres from a spot.
func (t *Trace) liveNear(spot int32, lifted layout.PieceID, within float64, live []bool) (LiftOutApproach, bool) {
	d := distances(t.C, t.Ways.adj, spot, func(_, s int32) bool { return t.C.Spots[s].Piece != lifted })
	best := LiftOutApproach{Spot: spot, Way: -1}
	for i := range t.C.Ways {
		w := &t.C.Ways[i]
		if w.Kind != circuit.WayTrack || w.Piece == lifted || !t.bothAlive(live, w) {
			continue
		}
		for _, s := range [2]int32{w.A, w.B} {
			if m, found := d[s]; found && m < within-1e-6 && (best.Way < 0 || m < best.Metres) {
				best.Way, best.Metres = int32(i), m
			}
		}
	}
	return best, best.Way >= 0
}

// liftedOut is the removal of a lift-out: all that touches its rails, and the plugs and
// switches behind which its feeders hang.
func (t *Trace) liftedOut(piece layout.PieceID) Removal {
	rails := map[int32]bool{}
	for s := range t.C.Spots {
		if t.C.Spots[s].Piece == piece {
			rails[t.C.Spots[s].Node[0]], rails[t.C.Spots[s].Node[1]] = true, true
		}
	}
	var plugs, switches []int32
	for i := range t.Feeds {
		if s := t.Feeds[i].Spot; s < 0 || t.C.Spots[s].Piece != piece {
			continue
		}
		for _, tap := range t.C.Layout.Feeders[i].From {
			if tap.Bus >= 0 {
				p, s := t.above(layout.Source{Kind: layout.FromTap, Tap: tap})
				plugs, switches = append(plugs, p...), append(switches, s...)
			}
		}
	}
	return Removal{takes: func(k *circuit.Conductor) bool {
		switch {
		case rails[k.A] || rails[k.B]:
			return true
		case k.Kind == circuit.PlugLeg:
			return slices.Contains(plugs, k.Ref)
		case k.Kind == circuit.InLineLeg:
			return slices.Contains(switches, k.Ref)
		default:
			return false
		}
	}}
}

// above lists the plugs, and the in-line switches, that something hangs behind.
func (t *Trace) above(s layout.Source) (plugs, switches []int32) {
	l := t.C.Layout
	for range len(l.Buses) + len(l.Detectors) + len(l.InLines) + len(l.Plugs) + len(l.Breakers) + len(l.Reversers) + 1 {
		switch s.Kind {
		case layout.FromTap:
			if s.Tap.Bus < 0 {
				return plugs, switches
			}
			s = l.Buses[s.Tap.Bus].From
		case layout.FromDetector:
			s = l.Detectors[s.Index].From
		case layout.FromInLine:
			if l.InLines[s.Index].Kind == layout.Switch {
				switches = append(switches, s.Index)
			}
			s = l.InLines[s.Index].From
		case layout.FromPlug:
			plugs = append(plugs, s.Index)
			s = l.Plugs[s.Index].From
		case layout.FromBreaker:
			s = l.Breakers[s.Index].From
		case layout.FromReverser:
			s = l.Reversers[s.Index].From
		default:
			return plugs, switches
		}
	}
	return plugs, switches
}
