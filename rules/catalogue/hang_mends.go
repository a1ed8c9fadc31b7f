package catalogue

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// crossedTrackMends swap the feeders of tracks that the bridge of a table meets the wrong way round in every position.
func crossedTrackMends(c *rule.Case, edges []districts.PitEdge) []finding.Mend {
	right := map[int32]bool{}
	for i := range edges {
		if e := &edges[i]; e.Known && !e.Crossed {
			right[e.End] = true
		}
	}
	var all []int32
	for i := range edges {
		e := &edges[i]
		if !e.Known || !e.Crossed || right[e.End] {
			continue
		}
		w := &c.C.Ways[e.Way]
		out := w.A
		if c.C.Spots[out].Piece == e.Piece {
			out = w.B
		}
		for _, f := range feedersOfSection(c, out) {
			if !slices.Contains(all, f) {
				all = append(all, f)
			}
		}
	}
	slices.Sort(all)
	return swapMends(c, all, "swap the two wires of each feeder of the tracks that lie the wrong way round, at "+feedersText(c, all)+meterAfterSwap)
}

// newReverser is a new reverser behind what a source hangs from: its entry, and in words how it is set. ok is false where what protects it above does not say how.
func newReverser(c *rule.Case, source int32, from string) (name string, add finding.Change, set string, ok bool) {
	if source < 0 {
		return "", add, "", false
	}
	above, protects := protectionOf(c, source)
	if !protects || !above.trips.Known() || !above.time.Known() {
		return "", add, "", false
	}
	amps, seconds := wellBelow(above.trips.Lo), quicker(above.time.Lo)
	name = freeName("loop", func(n string) bool { return taken(c, n) })
	trip := fmt.Sprintf("switching: automatic, trips-at: %s, trip-time: %s", amperes(amps), milliseconds(seconds))
	if l := c.L; len(l.Reversers) > 0 && l.Reversers[0].Resistance.Known() {
		trip += ", resistance: " + l.Reversers[0].Resistance.Text
	}
	set = fmt.Sprintf("one that changes over at %s within %s, below and before %s", amperes(amps), quantity.FormatTime(seconds), c.SourceName(source))
	return name, finding.Change{Op: finding.OpAdd, Section: "reversers", Name: name, Value: "{from: " + from + ", " + trip + "}"}, set, true
}

// bridgeMends feed the bridge of a turntable or transfer table through a reverser.
func bridgeMends(c *rule.Case, p layout.PieceID) []finding.Mend {
	piece := &c.L.Pieces[p]
	section, from := "turntables", layout.Source{}
	switch piece.Kind {
	case layout.TurntablePiece:
		from = c.L.Turntables[piece.Index].From
	case layout.TransferTablePiece:
		section, from = "transfer-tables", c.L.TransferTables[piece.Index].From
	default:
		return nil
	}
	source, _ := c.C.SourceAbove(from)
	name, add, set, ok := newReverser(c, source, from.Text)
	if !ok || from.Text == "" {
		return nil
	}
	return []finding.Mend{{
		Text:    fmt.Sprintf("put a reverser (%s) between %s and the bridge of %s", set, from.Text, piece.Name),
		Work:    finding.Work{Wires: 1, Devices: 1},
		Changes: []finding.Change{add, rule.SetKey(section, piece.Name, "from", "reverser "+name)},
	}}
}

// weakGapMends hang a feeder outside a gap of a reversing section, close to it; where blades bring a rail there its leg, the inner rail is cut first beyond
// the frog. Or the joints that are not soldered between there and the feeders are.
func weakGapMends(c *rule.Case, exit, spot int32) []finding.Mend {
	hang := sideMends(c, spot, exit, 2*rule.Stub)
	out := slices.Clone(hang)
	for _, p := range bladesBefore(c, spot) {
		for _, cut := range frogCutMends(c, p) {
			for _, h := range first(hang) {
				out = append(out, together(cut, h))
			}
		}
	}
	return out
}

// bladesBefore are the pieces whose blades or contacts bring a spot's rails their legs.
func bladesBefore(c *rule.Case, spot int32) []layout.PieceID {
	var out []layout.PieceID
	for r := range layout.Rail(2) {
		_, path, _ := c.T.PathTo(c.C.Spots[spot].Node[r])
		for _, s := range path {
			if k := &c.C.Conductors[s.Conductor]; k.Device >= 0 && k.Kind == circuit.PiecePart && !slices.Contains(out, layout.PieceID(k.Ref)) {
				out = append(out, layout.PieceID(k.Ref))
			}
		}
	}
	return out
}

// oneBusMends take both legs of a feeder from the bus of the one or of the other.
func oneBusMends(c *rule.Case, feeder int32) []finding.Mend {
	f := &c.L.Feeders[feeder]
	var out []finding.Mend
	for _, leg := range [2]layout.Leg{layout.A, layout.B} {
		moved := layout.A + layout.B - leg
		bus := f.From[leg].Bus
		if bus < 0 || c.L.Buses[bus].Legs != layout.LegsBoth {
			continue
		}
		change, words := c.RehangFrom(feeder, bus, moved)
		if len(change.Keys) > 0 {
			out = append(out, finding.Mend{
				Text:    fmt.Sprintf("hang the feeder at %s %s, as its other leg", c.Place(f.Place).Text, words),
				Work:    finding.Work{Wires: 1},
				Changes: []finding.Change{change},
			})
		}
	}
	return out
}

// commonRailMends cut a declared common rail at the gaps where it goes on, and take it out of the file's list.
func commonRailMends(c *rule.Case, ways []int32) []finding.Mend {
	var m finding.Mend
	var texts []string
	for _, w := range ways {
		for _, cut := range wholeGapMends(c, w) {
			texts = append(texts, cut.Text)
			m.Work.Cuts += cut.Work.Cuts
			m.Changes = append(m.Changes, cut.Changes...)
		}
	}
	if len(texts) == 0 {
		return nil
	}
	m.Text = strings.Join(texts, "; ")
	for i := range c.L.CommonRails {
		one := m
		one.Text += ", and take that rail out of `common-rail`"
		one.Changes = append(slices.Clone(m.Changes), finding.Change{Op: finding.OpRemoveItem, Section: "common-rail", Ref: int32(i)})
		return []finding.Mend{one}
	}
	return []finding.Mend{m}
}

// oneSignalMends drive two boosters from the command source of the one or of the other.
func oneSignalMends(c *rule.Case, boosters [2]int32) []finding.Mend {
	var out []finding.Mend
	for i := range boosters {
		to, from := &c.L.Boosters[boosters[1-i]], &c.L.Boosters[boosters[i]]
		out = append(out, finding.Mend{
			Text:    fmt.Sprintf("drive booster %s from command source %s, which drives booster %s", to.Name, from.Signal, from.Name),
			Work:    finding.Work{Wires: 1},
			Changes: []finding.Change{rule.SetKey("boosters", to.Name, "signal", from.Signal)},
		})
	}
	return out
}

// idleMends hang from a source that feeds nothing a bus that hangs past it: one that begins where it does, or one of its name.
func idleMends(c *rule.Case, s int32) []finding.Mend {
	text, ok := sourceKind(c, s)
	if !ok {
		return nil
	}
	_, name, _ := strings.Cut(text, " ")
	above := sourceFrom(c, s)
	var out []finding.Mend
	for i := range c.L.Buses {
		b := &c.L.Buses[i]
		own, _ := c.C.SourceAbove(b.From)
		if own == s || b.Use != layout.BusTrack || !sameName(b.Name, name) && (above == "" || b.From.Text != above) {
			continue
		}
		out = append(out, finding.Mend{
			Text:    fmt.Sprintf("hang bus %s from %s instead of %s", b.Name, text, b.From.Text),
			Work:    finding.Work{Wires: 1},
			Changes: []finding.Change{rule.SetKey("buses", b.Name, "from", text)},
		})
	}
	return out
}

// sourceFrom is what a breaker or reverser hangs from, as its file has it, "" for any other source.
func sourceFrom(c *rule.Case, s int32) string {
	switch src := &c.C.Sources[s]; src.Kind {
	case circuit.BreakerSource:
		return c.L.Breakers[src.Ref].From.Text
	case circuit.ReverserSource:
		return c.L.Reversers[src.Ref].From.Text
	}
	return ""
}

// byHandMends let one of two reversers be thrown by hand.
func byHandMends(c *rule.Case, sources ...int32) []finding.Mend {
	var out []finding.Mend
	for _, s := range sources {
		src := &c.C.Sources[s]
		if src.Kind != circuit.ReverserSource {
			continue
		}
		name := c.L.Reversers[src.Ref].Name
		out = append(out, finding.Mend{
			Text:    fmt.Sprintf("throw reverser %s by hand, by a switch of two poles in its place, before a train comes to its gaps", name),
			Work:    finding.Work{Devices: 1},
			Changes: []finding.Change{rule.SetKey("reversers", name, "switching", "by-hand")},
		})
	}
	return out
}

// runs reports whether a source is, or hangs for good from, a booster that is not for programming.
func runs(c *rule.Case, s int32) bool {
	return s >= 0 && c.C.Sources[s].Booster >= 0 && c.C.Sources[s].Kind != circuit.ChangeoverSource && !programs(c, c.C.Sources[s].Booster)
}

// runningMends hang the feeders of a track that a programming output feeds like the nearest one of a booster that runs trains.
func runningMends(c *rule.Case, track int32) []finding.Mend {
	var own []int32
	for i := range c.L.Feeders {
		if c.L.Feeders[i].Place.Piece == c.L.Tracks[track].Piece && !runs(c, c.T.Feeds[i].Source()) {
			own = append(own, int32(i))
		}
	}
	model := int32(-1)
	for _, n := range c.FeedersNear(c.SpotNear(track, 0)) {
		if runs(c, c.T.Feeds[n.Feeder].Source()) {
			model = n.Feeder
			break
		}
	}
	if model < 0 || len(own) == 0 {
		return nil
	}
	return []finding.Mend{rehangMend(c, own, func(f int32) (finding.Change, string) { return c.RehangLike(f, model, layout.A, layout.B) })}
}
