package rule

import (
	"fmt"
	"strings"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/source"

	"gapwise/districts"
	"gapwise/rules/finding"
)

// RailWord is how a rail is named: the owner's word beside left or right.
func (c *Case) RailWord(r layout.Rail) string {
	word := [2]string{"left", "right"}[r]
	if own := c.L.RailNames[r]; own != "" && own != word {
		return word + " (" + own + ")"
	}
	return word
}

// LegWord is how a leg is named: with its wire colour where the owner gives one.
func (c *Case) LegWord(l layout.Leg) string {
	if colour := c.L.Colours[l]; colour != "" {
		return "leg " + l.String() + " (" + colour + ")"
	}
	return "leg " + l.String()
}

// TrackPlace is a place on a track.
func (c *Case) TrackPlace(track int32, at float64) finding.Place {
	name := c.L.Tracks[track].Name
	return finding.Place{Piece: name, AtM: at, HasAt: true, Text: fmt.Sprintf("%s @ %s", name, quantity.FormatLength(at))}
}

// PiecePlace is a piece as a whole.
func (c *Case) PiecePlace(p layout.PieceID) finding.Place {
	return finding.Place{Piece: c.L.Pieces[p].Name, Text: c.L.Pieces[p].Name}
}

// SpotPlace is where a spot is: on a track, or at an end of a piece.
func (c *Case) SpotPlace(spot int32) finding.Place {
	s := &c.C.Spots[spot]
	p := &c.L.Pieces[s.Piece]
	if p.Kind == layout.TrackPiece {
		return c.TrackPlace(p.Index, s.At)
	}
	if s.End >= 0 {
		return finding.Place{Piece: p.Name, Text: p.Name + " " + p.Ends[s.End].Name}
	}
	return c.PiecePlace(s.Piece)
}

// WayPlace is where a way is: the gap on it if there is one, else its nearer spot, a
// track's before a piece's.
func (c *Case) WayPlace(way int32) finding.Place {
	w := &c.C.Ways[way]
	for _, g := range w.Gaps {
		if g >= 0 {
			return c.GapPlace(g)
		}
	}
	if c.L.Pieces[c.C.Spots[w.A].Piece].Kind != layout.TrackPiece && c.L.Pieces[c.C.Spots[w.B].Piece].Kind == layout.TrackPiece {
		return c.SpotPlace(w.B)
	}
	return c.SpotPlace(w.A)
}

// WayPos is the line of a way's gap, else of its piece.
func (c *Case) WayPos(way int32) source.Pos { return c.C.Ways[way].Pos }

// GapPlace is where a gap is.
func (c *Case) GapPlace(g int32) finding.Place {
	gap := &c.L.Gaps[g]
	p := c.Place(gap.Place)
	if gap.Name != "" {
		p.Text = "gap " + gap.Name + " (" + p.Text + ")"
	}
	return p
}

// Place is where a resolved place is.
func (c *Case) Place(p layout.Place) finding.Place {
	if p.Piece < 0 {
		return finding.Place{Text: p.Text}
	}
	piece := &c.L.Pieces[p.Piece]
	switch {
	case piece.Kind == layout.TrackPiece && p.End == 1:
		return c.TrackPlace(piece.Index, c.L.Tracks[piece.Index].Length.Mid())
	case piece.Kind == layout.TrackPiece && p.End == 0:
		return c.TrackPlace(piece.Index, 0)
	case piece.Kind == layout.TrackPiece:
		return c.TrackPlace(piece.Index, p.At.Mid())
	case p.End >= 0:
		return finding.Place{Piece: piece.Name, Text: piece.Name + " " + piece.Ends[p.End].Name}
	default:
		return c.PiecePlace(p.Piece)
	}
}

// FeederPlace is where a feeder meets the rails.
func (c *Case) FeederPlace(f int32) finding.Place {
	p := c.Place(c.L.Feeders[f].Place)
	if name := c.L.Feeders[f].Name; name != "" {
		p.Text = "feeder " + name + " (" + p.Text + ")"
	}
	return p
}

// FeederTo says what a feeder hangs from: "harbour @ 9 ft".
func (c *Case) FeederTo(f int32) string {
	from := c.L.Feeders[f].From
	switch {
	case from[0].Bus < 0 && from[1].Bus < 0:
		return "an unknown place"
	case from[0].Bus < 0:
		return c.tapText(from[1])
	case from[1].Bus < 0 || from[0].Text == from[1].Text:
		return c.tapText(from[0])
	default:
		return c.tapText(from[1]) + ", leg A from " + c.tapText(from[0])
	}
}

// FeederLegTo says what one leg of a feeder hangs from.
func (c *Case) FeederLegTo(f int32, l layout.Leg) string {
	if t := c.L.Feeders[f].From[l]; t.Bus >= 0 {
		return c.tapText(t)
	}
	return "an unknown place"
}

func (c *Case) tapText(t layout.Tap) string {
	return fmt.Sprintf("bus %s @ %s", c.L.Buses[t.Bus].Name, quantity.FormatLength(t.At.Mid()))
}

// SourceName names a district's source: "breaker yard".
func (c *Case) SourceName(s int32) string {
	if s < 0 {
		return "an unknown source"
	}
	return c.C.Sources[s].Name
}

// BlockName names a block as meant.
func (c *Case) BlockName(b int32) string { return "block " + c.L.Blocks[b].Name }

// DetectorName names a detector; -1 is none.
func (c *Case) DetectorName(d int32) string {
	if d < 0 {
		return "no detector"
	}
	return "detector " + c.L.Detectors[d].Name
}

// Setting names a device's position: "T9 straight".
func (c *Case) Setting(device int32, position int16) string {
	d := &c.C.Devices[device]
	return d.Name + " " + d.Positions[position]
}

// Settings names settings: "T9 straight".
func (c *Case) Settings(settings []districts.Setting) []string {
	out := make([]string, len(settings))
	for i, s := range settings {
		out[i] = c.Setting(s.Device, s.Position)
	}
	return out
}

// Length is a number of a finding that is a length.
func Length(name string, metres float64) finding.Number {
	return finding.Number{Name: name, Text: quantity.FormatLength(metres), SI: metres, Unit: "m"}
}

// Witness tells a walk of conductors in words, joining what lies along one rail or bus.
func (c *Case) Witness(from string, fromPos source.Pos, path []districts.Step) []finding.Step {
	out := []finding.Step{{Text: from, Pos: fromPos}}
	for i := 0; i < len(path); {
		j := i + 1
		for j < len(path) && c.sameRun(path[i].Conductor, path[j].Conductor) {
			j++
		}
		if text := c.runText(path[i:j], i, path); text != "" {
			out = append(out, finding.Step{Text: text, Pos: c.C.Conductors[path[i].Conductor].Pos})
		}
		i = j
	}
	return out
}

// sameRun reports whether two conductors of a walk are told in one step.
func (c *Case) sameRun(x, y int32) bool {
	a, b := &c.C.Conductors[x], &c.C.Conductors[y]
	if railKind(a.Kind) && railKind(b.Kind) && c.onTrack(a) && c.onTrack(b) {
		return a.Ref == b.Ref && a.Rail == b.Rail
	}
	return a.Kind == b.Kind && a.Ref == b.Ref && a.Kind == circuit.BusSpan
}

// railKind reports whether a conductor is rail of plain track or a joint in it.
func railKind(k circuit.Kind) bool { return k == circuit.RailLength || k == circuit.JointMetal }

// onTrack reports whether a conductor lies on a track.
func (c *Case) onTrack(k *circuit.Conductor) bool {
	return c.L.Pieces[k.Ref].Kind == layout.TrackPiece
}

func (c *Case) runText(run []districts.Step, at int, path []districts.Step) string {
	k := &c.C.Conductors[run[0].Conductor]
	switch k.Kind {
	case circuit.RailLength, circuit.JointMetal:
		return c.railText(run)
	case circuit.PiecePart:
		return c.L.Pieces[k.Ref].Name + ": " + c.PartText(layout.PieceID(k.Ref), k.Part)
	case circuit.BondWire:
		return "bond from " + c.L.Bonds[k.Ref].From.Text + " to " + c.L.Bonds[k.Ref].To.Text
	case circuit.FeederWire:
		return fmt.Sprintf("feeder %s: wire of %s, %s rail", c.FeederPlace(k.Ref).Text, c.LegWord(k.Leg), c.RailWord(k.Rail))
	case circuit.BusSpan:
		lo, hi := c.span(run)
		return fmt.Sprintf("bus %s, %s, %s", c.L.Buses[k.Ref].Name, c.LegWord(k.Leg), fromTo(lo, hi))
	case circuit.BreakerLeg:
		return "breaker " + c.L.Breakers[k.Ref].Name
	case circuit.ReverserLeg:
		return "reverser " + c.L.Reversers[k.Ref].Name
	case circuit.DetectorLeg:
		return "detector " + c.L.Detectors[k.Ref].Name
	case circuit.InLineLeg:
		return "in-line " + c.L.InLines[k.Ref].Name
	case circuit.ChangeoverLeg:
		return "changeover " + c.L.Changeovers[k.Ref].Name
	case circuit.PlugLeg:
		return "plug " + c.L.Plugs[k.Ref].Name
	case circuit.BridgeFeed:
		return c.L.Pieces[k.Ref].Name + ": bridge rail"
	default:
		return ""
	}
}

// ConductorText names one conductor in words: what it is, of what, from where to where.
func (c *Case) ConductorText(id int32) string {
	run := []districts.Step{{Conductor: id, Node: c.C.Conductors[id].B}}
	if text := c.runText(run, 0, run); text != "" {
		return text
	}
	k := &c.C.Conductors[id]
	switch k.Kind {
	case circuit.WireEnd:
		return fmt.Sprintf("where bus %s is joined, %s", c.L.Buses[k.Ref].Name, c.LegWord(k.Leg))
	case circuit.JointMetal:
		return fmt.Sprintf("rail joint of %s, %s rail", c.L.Pieces[k.Ref].Name, c.RailWord(k.Rail))
	default:
		return "joint"
	}
}

// span is the first and last reading of a run, in walking order.
func (c *Case) span(run []districts.Step) (from, to float64) {
	from, _ = c.ends(run[0])
	_, to = c.ends(run[len(run)-1])
	return from, to
}

// ends are the readings where a step begins and ends, by the node it arrives at.
func (c *Case) ends(s districts.Step) (from, to float64) {
	k := &c.C.Conductors[s.Conductor]
	if s.Node == k.B {
		return k.From, k.To
	}
	return k.To, k.From
}

func (c *Case) railText(run []districts.Step) string {
	lo, hi, known := 0.0, 0.0, false
	first := &c.C.Conductors[run[0].Conductor]
	for _, s := range run {
		if c.C.Conductors[s.Conductor].Kind != circuit.RailLength {
			continue
		}
		from, to := c.ends(s)
		if !known {
			lo, known = from, true
		}
		hi = to
	}
	if !known {
		return ""
	}
	return fmt.Sprintf("%s, %s rail, %s", c.L.Pieces[first.Ref].Name, c.RailWord(first.Rail), fromTo(lo, hi))
}

func fromTo(lo, hi float64) string {
	return fmt.Sprintf("%s to %s (%s to %s)", quantity.FormatPlace(lo), quantity.FormatPlace(hi), quantity.FormatMetric(lo), quantity.FormatMetric(hi))
}

// Between names a stretch of one track.
func (c *Case) Between(track int32, lo, hi float64) string {
	return c.L.Tracks[track].Name + " @ " + strings.Replace(fromTo(lo, hi), " to ", " .. ", 1)
}

// PartText names a part of track work, with a turnout's legs by their own names.
func (c *Case) PartText(p layout.PieceID, part circuit.Part) string {
	text := part.String()
	piece := &c.L.Pieces[p]
	if piece.Kind != layout.TurnoutPiece {
		return text
	}
	hand := c.L.Turnouts[piece.Index].Hand
	text = strings.ReplaceAll(text, "left leg", piece.Ends[hand.LegLeft()].Name+" leg")
	return strings.ReplaceAll(text, "right leg", piece.Ends[hand.LegRight()].Name+" leg")
}

// Terminal names one leg of a source: "booster front, leg A".
func (c *Case) Terminal(l districts.Label) string {
	return c.SourceName(l.Source) + ", " + c.LegWord(l.Leg)
}

// WitnessFrom tells a walk that starts at a source's leg.
func (c *Case) WitnessFrom(from districts.Label, path []districts.Step) []finding.Step {
	return c.Witness(c.Terminal(from), c.C.Sources[from.Source].Pos, path)
}

// WitnessTo tells how a rail of a spot is fed: from the source to the rail.
func (c *Case) WitnessTo(spot int32, r layout.Rail) []finding.Step {
	from, path, ok := c.T.PathTo(c.C.Spots[spot].Node[r])
	if !ok {
		return nil
	}
	return c.WitnessFrom(from, path)
}

// BothSides tells how one rail is fed on either side of a way: first up to its A spot, then
// up to its B spot. Where one rail is cut and the other whole, it follows the whole one.
func (c *Case) BothSides(way int32) []finding.Step {
	w := &c.C.Ways[way]
	rail := layout.Left
	switch {
	case w.Metal[layout.Left] == circuit.Open && w.Metal[layout.Right] != circuit.Open:
		rail = layout.Right
	case !c.alwaysFed(w, layout.Left) && c.alwaysFed(w, layout.Right):
		rail = layout.Right // what blades feed in some setting says nothing of another
	}
	across := rail
	if w.Turned {
		across = rail.Other()
	}
	near, one := c.witnessApart(w.A, rail, way)
	far, other := c.witnessApart(w.B, across, way)
	if len(near) == 0 || len(far) == 0 {
		return append(near, far...)
	}
	if c.C.Sources[one].Booster != c.C.Sources[other].Booster {
		near[0].Text += c.signalWord(one)
		far[0].Text += c.signalWord(other)
	}
	near[0].Text = "on one side: " + near[0].Text
	far[0].Text = "on the other side: " + far[0].Text
	return append(near, far...)
}

// alwaysFed reports whether a rail of a way's A spot, and what wheels join it to, are fed in
// every setting.
func (c *Case) alwaysFed(w *circuit.Way, r layout.Rail) bool {
	across := r
	if w.Turned {
		across = r.Other()
	}
	return c.T.Fed[c.C.Spots[w.A].Node[r]] == districts.FedAlways && c.T.Fed[c.C.Spots[w.B].Node[across]] == districts.FedAlways
}

// witnessApart tells how a rail of a spot is fed without passing a way's own metal, and by
// which source.
func (c *Case) witnessApart(spot int32, r layout.Rail, way int32) ([]finding.Step, int32) {
	from, path, ok := c.T.PathApart(c.C.Spots[spot].Node[r], way)
	if !ok {
		return nil, -1
	}
	return c.WitnessFrom(from, path), from.Source
}

// signalWord marks a source whose booster has its signal wires crossed: its legs are those of the
// other boosters the other way round.
func (c *Case) signalWord(s int32) string {
	b := c.C.Sources[s].Booster
	if b < 0 || c.C.Sources[b].Kind != circuit.BoosterSource || c.L.Boosters[c.C.Sources[b].Ref].SignalWired != layout.SignalCrossed {
		return ""
	}
	return " (its signal wires are crossed)"
}
