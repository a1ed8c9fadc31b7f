package districts

import (
	"math"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// nearJoint is how near a `joints` entry stands to a joint of a row of default joints to
// be that joint, in metres (1/2 in). Common practice, no source.
const nearJoint = 0.0127

// jointRows are the joints that `defaults: joint` puts on every track, by track: how far
// apart in metres (0 for none that part) and of what kind.
type jointRows struct {
	every []float64
	kind  []layout.JointKind
	named [][]layout.RailJoint
}

// defaultJoints reads the rows of default joints; soldered ones part nothing.
func defaultJoints(c *circuit.Circuit) *jointRows {
	l := c.Layout
	j := &jointRows{every: make([]float64, len(l.Tracks)), kind: make([]layout.JointKind, len(l.Tracks)), named: make([][]layout.RailJoint, len(l.Tracks))}
	for t := range l.Tracks {
		tr := &l.Tracks[t]
		if f := int(tr.Pos.File); f < len(l.JointDefaults) {
			j.kind[t] = l.JointDefaults[f]
		}
		if j.kind[t] != layout.Soldered && tr.JointEvery.Known() {
			j.every[t] = tr.JointEvery.Mid()
		}
	}
	for i := range l.Joints {
		x := &l.Joints[i]
		if p := x.Place.Piece; p >= 0 && l.Pieces[p].Kind == layout.TrackPiece && x.Place.End < 0 {
			j.named[l.Pieces[p].Index] = append(j.named[l.Pieces[p].Index], *x)
		}
	}
	return j
}

// within lists the default joints inside a length of rail, rising. One where a joint is
// named for this rail is that joint; one at the very end of the length, where something else
// stands, is left out: a feeder on a joint feeds both its sides. Where that is a joint
// named for the other rail alone, the default joint stands in this one.
func (j *jointRows) within(c *circuit.Circuit, k *circuit.Conductor) []float64 {
	track := c.Layout.Pieces[k.Ref].Index
	every := j.every[track]
	if every <= 0 {
		return nil
	}
	var out []float64
	for n := math.Floor(k.From/every) + 1; n*every <= k.To+nearJoint; n++ {
		at := n * every
		own, other := j.namedAt(track, at, k.Rail), j.namedAt(track, at, k.Rail.Other())
		switch {
		case own || at <= k.From+nearJoint:
		case at < k.To-nearJoint:
			out = append(out, at)
		case other:
			out = append(out, k.To)
		}
	}
	return out
}

// namedAt reports whether a joint is named for a rail at a reading of a track.
func (j *jointRows) namedAt(track int32, at float64, rail layout.Rail) bool {
	return slices.ContainsFunc(j.named[track], func(x layout.RailJoint) bool {
		inRail := (x.Rails != layout.LeftRail && x.Rails != layout.RightRail) || (x.Rails == layout.LeftRail) == (rail == layout.Left)
		return inRail && abs(x.Place.At.Mid()-at) <= nearJoint
	})
}
