package catalogue

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var turntableCrossesPolarity = rule.Rule{
	ID:       "turntable-crosses-polarity",
	Severity: finding.Fault,
	Title:    "a bridge meets a track with its legs the other way round",
	Doc: rule.Doc{
		What:    "With the bridge of a turntable or transfer table at one of its tracks, head or tail towards it, a bridge rail carries leg A and the track rail beyond the edge of the pit leg B. A split ring changes the legs at `split-at` and half a turn on; a plain feed keeps them, so that a track suits the head or the tail of the bridge, not both. A bridge behind a reverser suits every track.",
		Why:     "The first metal wheel that rolls over the edge of the pit shorts the booster.",
		Fix:     "Turn the split of the ring to where no track lies between it and the tracks it serves, swap the wires of the tracks on the wrong side, or feed the bridge from a reverser.",
		Example: "turntables:\n  TT: {bridge: 10 in, tracks: {lead: 0 deg, r1: 90 deg}, feed: plain, from: main @ 4 ft, A: left}",
	},
	CannotAccept: true,
	Sources:      []string{"electrical necessity: a short circuit through the wheel"},
}

func init() { turntableCrossesPolarity.Check = checkTurntableCrossesPolarity }

func checkTurntableCrossesPolarity(c *rule.Case) {
	byPiece := map[layout.PieceID][]districts.PitEdge{}
	var pieces []layout.PieceID
	for _, e := range c.T.PitEdges() {
		if byPiece[e.Piece] == nil {
			pieces = append(pieces, e.Piece)
		}
		byPiece[e.Piece] = append(byPiece[e.Piece], e)
	}
	slices.Sort(pieces)
	for _, p := range pieces {
		crossedEdges(c, p, byPiece[p])
	}
}

// crossedEdges tells of one table: one finding, with every track and position it concerns.
func crossedEdges(c *rule.Case, p layout.PieceID, edges []districts.PitEdge) {
	var settings, tracks, right []string
	var first *districts.PitEdge
	for i := range edges {
		e := &edges[i]
		name := c.L.Pieces[p].Ends[e.End].Name
		switch {
		case !e.Known:
		case e.Crossed:
			if first == nil {
				first = e
			}
			if s := c.Setting(e.Setting.Device, e.Setting.Position); !slices.Contains(settings, s) {
				settings = append(settings, s)
			}
			if !slices.Contains(tracks, name) {
				tracks = append(tracks, name)
			}
		case !slices.Contains(right, name):
			right = append(right, name)
		}
	}
	if first == nil {
		return
	}
	piece := &c.L.Pieces[p]
	f := finding.Finding{
		Severity: finding.Fault,
		Pos:      piece.Pos,
		Place:    c.PiecePlace(p),
		Message:  fmt.Sprintf("where the bridge of %s meets %s, its rails carry the opposite legs of the track's", piece.Name, strings.Join(tracks, ", ")),
		Why:      "the first metal wheel that rolls over the edge of the pit shorts the booster",
		Settings: settings,
		Train:    "a wheel over the edge of the pit",
		Fix:      pitFix(c, piece, tracks, right),
	}
	c.Report(f)
}

// pitFix says what to do about the tracks that a bridge meets the wrong way round.
func pitFix(c *rule.Case, piece *layout.Piece, wrong, right []string) string {
	split := piece.Kind == layout.TurntablePiece && c.L.Turntables[piece.Index].SplitRing
	all := !slices.ContainsFunc(wrong, func(name string) bool { return slices.Contains(right, name) }) && len(right) == 0
	switch {
	case piece.Kind == layout.TurntablePiece && !split:
		return "feed the bridge from a reverser, or by a split ring that changes its legs half way round"
	case all && split:
		return "swap the two wires to the ring"
	case all:
		return "swap the two wires to the bridge"
	case split:
		return "turn the split of the ring so that " + strings.Join(wrong, ", ") + " lies on its other side, swap the two wires of every feeder of that track, or feed the bridge from a reverser"
	default:
		return "swap the two wires of every feeder of " + strings.Join(wrong, ", ") + ", or feed the bridge from a reverser"
	}
}
