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
	piece := &c.L.Pieces[p]
	var tracks, right []string
	crossed := map[int16]bool{} // positions in which a track is met the wrong way round
	for end := range piece.Ends {
		name := piece.Ends[end].Name
		for i := range edges {
			e := &edges[i]
			switch {
			case e.End != int32(end):
			case !e.Known:
			case e.Crossed:
				crossed[e.Setting.Position] = true
				if !slices.Contains(tracks, name) {
					tracks = append(tracks, name)
				}
			case !slices.Contains(right, name):
				right = append(right, name)
			}
		}
	}
	if len(tracks) == 0 {
		return
	}
	why := "the first metal wheel that rolls over the edge of the pit shorts the booster"
	settings, single := pitSettings(c.L.SettingWords(p), piece, crossed)
	if single && piece.Kind == layout.TurntablePiece {
		why += ". In a setting, -head is the bridge with its head at that track, -tail with its tail there"
	}
	f := finding.Finding{
		Severity: finding.Fault,
		Pos:      piece.Pos,
		Place:    c.PiecePlace(p),
		Message:  fmt.Sprintf("where the bridge of %s meets %s, each of its rails carries the opposite leg to the track rail beyond the edge", piece.Name, strings.Join(tracks, ", ")),
		Why:      why,
		Settings: settings,
		Train:    "a wheel over the edge of the pit",
		Fix:      pitFix(c, piece, tracks, right) + liveOnly + "a meter on AC volts from a bridge rail to the track rail in line with it should read near 0",
	}
	f.Mends = append(crossedTrackMends(c, edges), append(splitMends(c, p), bridgeMends(c, p)...)...)
	c.Report(f)
}

// pitSettings names positions of a bridge in the order of its tracks, as one text where the bridge
// may face the track with either end; single says that one end is named.
func pitSettings(words []string, piece *layout.Piece, positions map[int16]bool) (settings []string, single bool) {
	either := 1
	if piece.Kind == layout.TurntablePiece {
		either = 2
	}
	var every []string
	for t := range piece.Ends {
		var here []string
		for k := t * either; k < min((t+1)*either, len(words)); k++ {
			if positions[int16(k)] {
				here = append(here, piece.Name+" "+words[k])
			}
		}
		if len(here) == 2 {
			every = append(every, piece.Ends[t].Name)
			continue
		}
		settings = append(settings, here...)
	}
	single = len(settings) > 0
	switch {
	case len(every) == len(piece.Ends):
		settings = append(settings, piece.Name+" at every track, whichever end of the bridge faces it")
	case len(every) > 0:
		settings = append(settings, piece.Name+" at "+strings.Join(every, ", ")+", whichever end of the bridge faces it")
	}
	return settings, single
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
		return "turn the split of the ring so that " + strings.Join(wrong, ", ") + " lies on its other side, swap the wires of every feeder of that track, or feed the bridge from a reverser"
	default:
		return "swap the two wires of every feeder of " + strings.Join(wrong, ", ") + ", or feed the bridge from a reverser"
	}
}
