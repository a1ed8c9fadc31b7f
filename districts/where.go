package districts

import (
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// Where is what the trace knows about one place of the track.
type Where struct {
	Spot  int32   // the spot at the place, or the one next to it on the same stretch
	At    float64 // the place itself, metres of its track's ruler; the spot's for a piece end
	State [2]FedState
	// From is the leg that feeds each rail and Path the wires and rails it comes by, in
	// order; Fed false when none does.
	Fed  [2]bool
	From [2]Label
	Path [2][]Step
	Zone int32
	// Meant lists the blocks meant to cover the place.
	Meant []int32
}

// At looks a place up. ok is false when it lies inside a body standing on the track.
func (t *Trace) At(p layout.Place) (w Where, ok bool) {
	spot, at := t.spotFor(p)
	if spot < 0 {
		return Where{}, false
	}
	w = Where{Spot: spot, At: at, Zone: t.Zones.Of[spot], Meant: t.Meant.atSpot(t.C, spot)}
	if piece := &t.C.Layout.Pieces[p.Piece]; piece.Kind == layout.TrackPiece {
		w.Meant = t.Meant.onTrack(piece.Index, at)
	}
	for r := range layout.Rail(2) {
		n := t.C.Spots[spot].Node[r]
		w.State[r] = t.Fed[n]
		w.From[r], w.Path[r], w.Fed[r] = t.PathTo(n)
	}
	return w, true
}

// spotFor is the spot at a place, or the nearest one that rail joins to it.
func (t *Trace) spotFor(p layout.Place) (spot int32, at float64) {
	piece := &t.C.Layout.Pieces[p.Piece]
	if piece.Kind != layout.TrackPiece {
		return t.C.EndSpot[p.Piece][max(p.End, 0)], 0
	}
	if p.End >= 0 {
		s := t.C.EndSpot[p.Piece][p.End]
		if s < 0 {
			return -1, 0
		}
		return s, t.C.Spots[s].At
	}
	at = p.At.Mid()
	spots := t.C.TrackSpots[piece.Index]
	for i, s := range spots {
		if t.C.Spots[s].At == at {
			return s, at
		}
		if i+1 < len(spots) && t.C.Spots[s].At < at && at < t.C.Spots[spots[i+1]].At {
			if !t.adjoin(s, spots[i+1]) {
				return -1, at
			}
			if at-t.C.Spots[s].At > t.C.Spots[spots[i+1]].At-at {
				return spots[i+1], at
			}
			return s, at
		}
	}
	return -1, at
}

// adjoin reports whether a length of track leads from one spot to the other.
func (t *Trace) adjoin(x, y int32) bool {
	return slices.ContainsFunc(t.Ways.Of(x), func(k int32) bool {
		w := &t.C.Ways[k]
		return w.Kind == circuit.WayTrack && w.A+w.B-x == y
	})
}

// Summary is one district as wired.
type Summary struct {
	Source  int32
	Feeders []int32
	Zones   []int32
	Blocks  []int32 // blocks as meant that lie in its zones
	Length  float64 // metres of track in its zones
	Shared  bool    // another source feeds a zone of it too
}

// Summaries lists the districts in the order of Circuit.Sources; those without rails included.
func (t *Trace) Summaries() []Summary {
	out := make([]Summary, len(t.C.Sources))
	for s := range out {
		out[s].Source = int32(s)
	}
	for i := range t.Feeds {
		if s := t.Feeds[i].Source(); s >= 0 && t.Feeds[i].Spot >= 0 {
			out[s].Feeders = append(out[s].Feeders, int32(i))
		}
	}
	for z := range t.Zones.List {
		zone := &t.Zones.List[z]
		for _, s := range zone.Sources {
			out[s].Zones = append(out[s].Zones, int32(z))
			out[s].Length += zone.Length
			out[s].Shared = out[s].Shared || len(zone.Sources) > 1
			for _, m := range zone.Meant {
				if m.Length > stub && !slices.Contains(out[s].Blocks, m.Block) {
					out[s].Blocks = append(out[s].Blocks, m.Block)
				}
			}
		}
	}
	for s := range out {
		slices.Sort(out[s].Blocks)
	}
	return out
}
