package districts

import (
	"gapwise/netlist/layout"
)

// Line is a row of tracks that meet end to end, without track work between.
type Line struct {
	Tracks []LineTrack // in walking order
	Length float64     // metres
}

// LineTrack is one track of a line: Start is the metres walked to where it is entered, and
// Reversed says that it is walked from its end to its start.
type LineTrack struct {
	Track    int32
	Start    float64
	Reversed bool
}

// Lines lists the lines that tracks of a kind make, each track in one, by their least track.
func Lines(l *layout.Layout, kind func(t *layout.Track) bool) []Line {
	seen := make([]bool, len(l.Tracks))
	next := func(track int32, end int) (other int32, at int, ok bool) {
		e := &l.Pieces[l.Tracks[track].Piece].Ends[end]
		if e.Dead != layout.Joined || e.Joint.Piece < 0 || l.Pieces[e.Joint.Piece].Kind != layout.TrackPiece {
			return -1, 0, false
		}
		other = l.Pieces[e.Joint.Piece].Index
		return other, int(e.Joint.End), kind(&l.Tracks[other])
	}
	var out []Line
	for i := range l.Tracks {
		if seen[i] || !kind(&l.Tracks[i]) {
			continue
		}
		first, enter := int32(i), 0 // walk back to where the line begins
		for range l.Tracks {
			other, at, ok := next(first, enter)
			if !ok || other == int32(i) {
				break
			}
			first, enter = other, 1-at
		}
		var r Line
		for !seen[first] {
			seen[first] = true
			r.Tracks = append(r.Tracks, LineTrack{Track: first, Start: r.Length, Reversed: enter == 1})
			r.Length += l.Tracks[first].Length.Mid()
			other, at, ok := next(first, 1-enter)
			if !ok {
				break
			}
			first, enter = other, at
		}
		out = append(out, r)
	}
	return out
}

// At is where a reading of one of the line's tracks lies in the line.
func (r *LineTrack) At(l *layout.Layout, reading float64) float64 {
	if r.Reversed {
		return r.Start + l.Tracks[r.Track].Length.Mid() - reading
	}
	return r.Start + reading
}
