package catalogue

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// reportTrackWork reports the shorts in track work that belong to the rule of a case: one
// finding a piece, and one for pieces that short only together.
func reportTrackWork(c *rule.Case) {
	single := map[layout.PieceID][]*districts.Conflict{}
	var pieces []layout.PieceID
	var several [][]*districts.Conflict // each shares devices with none of the others
	for i := range c.T.Conflicts {
		x := &c.T.Conflicts[i]
		id, piece := c.ConflictRule(x)
		switch {
		case id != c.Rule.ID:
		case x.Several:
			several = joinShared(several, x)
		default:
			if single[piece] == nil {
				pieces = append(pieces, piece)
			}
			single[piece] = append(single[piece], x)
		}
	}
	slices.Sort(pieces)
	for _, p := range pieces {
		c.Report(frogFinding(c, p, single[p]))
	}
	for _, xs := range several {
		_, piece := c.ConflictRule(xs[0])
		c.Report(frogFinding(c, piece, xs))
	}
}

// joinShared adds a short of several settings to those it shares a device with.
func joinShared(groups [][]*districts.Conflict, x *districts.Conflict) [][]*districts.Conflict {
	shares := func(y *districts.Conflict) bool {
		return slices.ContainsFunc(x.Settings, func(s districts.Setting) bool {
			return slices.ContainsFunc(y.Settings, func(t districts.Setting) bool { return s.Device == t.Device })
		})
	}
	own := []*districts.Conflict{}
	var out [][]*districts.Conflict
	for _, g := range groups {
		if slices.ContainsFunc(g, shares) {
			own = append(own, g...)
		} else {
			out = append(out, g)
		}
	}
	return append(out, append(own, x))
}

// passing reports whether a short is there while contacts change over.
func passing(c *rule.Case, x *districts.Conflict) bool {
	return slices.ContainsFunc(x.Settings, func(s districts.Setting) bool {
		return c.C.Devices[s.Device].Momentary(s.Position)
	})
}

func frogFinding(c *rule.Case, p layout.PieceID, xs []*districts.Conflict) finding.Finding {
	first := xs[0]
	name := c.L.Pieces[p].Name
	var settings, also []string
	every := false
	for i, x := range xs {
		if x.Several && i > 0 {
			const few = 6
			switch {
			case i < few:
				also = append(also, "set together "+strings.Join(c.Settings(x.Settings), ", "))
			case i == few:
				also = append(also, fmt.Sprintf("%d more settings", len(xs)-few))
			}
			continue
		}
		if len(x.Settings) == 0 {
			every = true
		}
		for _, s := range c.Settings(x.Settings) {
			if !slices.Contains(settings, s) {
				settings = append(settings, s)
			}
		}
	}
	if every {
		settings = nil
	}
	f := finding.Finding{
		Severity: finding.Fault,
		Pos:      c.L.Pieces[p].Pos,
		Place:    c.PiecePlace(p),
		Settings: settings,
		Also:     also,
		Witness:  c.WitnessFrom(first.From, first.Path),
		Why:      "the booster trips as soon as this setting is made",
	}
	when := "in every setting"
	switch {
	case first.Several:
		when = "when set together " + strings.Join(settings, ", ")
	case len(settings) > 0:
		when = "when set " + strings.Join(settings, ", ")
	}
	switch {
	case first.Demand >= 0:
		d := &c.C.Demands[first.Demand]
		f.Message = fmt.Sprintf("%s: the %s gets %s, but wheels on this route join it to a rail of %s (%s)", name, frogName(d.Name), c.Terminal(first.From), c.Terminal(first.To), when)
		f.Why = "the first metal wheel that rolls over the frog shorts the booster"
		f.Train = "a wheel on the frog"
		f.Fix = "swap the two contacts that feed this frog"
		if first.From.Source != first.To.Source {
			f.Fix = "feed the frog's contacts from " + c.SourceName(first.To.Source) + ", which feeds the rails around it"
		}
		f.Mends = contactMends(c, p, xs)
	case passing(c, first):
		f.Message = fmt.Sprintf("%s: its contacts make before they break, so the frog joins both stock rails while it is thrown", name)
		f.Why = "the booster is shorted for a moment at every throw"
		f.Fix = "use contacts that break before they make"
		f.Mends = breakFirstMends(c, p)
	default:
		f.Message = shortText(c, p, first, when)
		if every {
			f.Why = "the booster is shorted as soon as it is switched on"
		}
		f.Fix = frogFix(c, p) + shortTest + ", whichever way it is thrown"
		f.Mends = append(frogCutMends(c, p), deadFrogsMends(c, p)...)
	}
	return f
}

func frogName(n string) string {
	if n == "frog" || strings.HasSuffix(n, "-frog") {
		return strings.ReplaceAll(n, "-", " ")
	}
	return n + " frog"
}

// shortText says what happens where metal of a piece joins two legs: at a frog that is one with the
// inner rails of its legs, who puts which leg on it; else by which parts.
func shortText(c *rule.Case, p layout.PieceID, x *districts.Conflict, when string) string {
	name := c.L.Pieces[p].Name
	near, far := c.LegWord(x.From.Leg), c.LegWord(x.To.Leg)
	ends, feeders := frogFeeders(c, p, x)
	switch {
	case ends[0] != "" && ends[1] != "":
		return fmt.Sprintf("%s joins %s to %s %s: its frog gets %s from %s beyond the %s leg, %s from %s beyond the %s leg",
			name, near, far, when, near, feeders[0], ends[0], far, feeders[1], ends[1])
	case ends[0] != "":
		return fmt.Sprintf("%s its frog carries %s, and %s beyond the %s leg holds that rail at %s", withSet(c, name, x), far, feeders[0], ends[0], near)
	case ends[1] != "":
		return fmt.Sprintf("%s its frog carries %s, and %s beyond the %s leg holds that rail at %s", withSet(c, name, x), near, feeders[1], ends[1], far)
	default:
		return fmt.Sprintf("%s joins a rail of %s to a rail of %s %s: %s", name, near, far, when, causeText(c, x))
	}
}

// withSet begins a sentence about a piece with the settings of one short.
func withSet(c *rule.Case, name string, x *districts.Conflict) string {
	switch len(x.Settings) {
	case 0:
		return name + " in every setting:"
	case 1:
		if d := &c.C.Devices[x.Settings[0].Device]; d.Name == name {
			return fmt.Sprintf("with %s set %s,", name, d.Positions[x.Settings[0].Position])
		}
	}
	return name + " when set " + strings.Join(c.Settings(x.Settings), ", ") + ":"
}

// frogFeeders tells, for either side of a short, the leg of a turnout through whose inner rail it
// comes to the frog, "" for none, and what feeds that rail.
func frogFeeders(c *rule.Case, p layout.PieceID, x *districts.Conflict) (ends, feeders [2]string) {
	piece := &c.L.Pieces[p]
	first, last := -1, -1
	for i, s := range x.Path {
		if k := &c.C.Conductors[s.Conductor]; k.Kind == circuit.PiecePart && layout.PieceID(k.Ref) == p {
			if last = i; first < 0 {
				first = i
			}
		}
	}
	if first < 0 || piece.Kind != layout.TurnoutPiece {
		return ends, feeders
	}
	hand := c.L.Turnouts[piece.Index].Hand
	for side, at := range [2]int{first, last} {
		switch c.C.Conductors[x.Path[at].Conductor].Part {
		case circuit.FrogLegLeft:
			ends[side] = piece.Ends[hand.LegLeft()].Name
		case circuit.FrogLegRight:
			ends[side] = piece.Ends[hand.LegRight()].Name
		}
		feeders[side] = "what feeds the rail"
	}
	for i, s := range x.Path {
		k := &c.C.Conductors[s.Conductor]
		text := "the feeder at "
		switch {
		case k.Kind != circuit.FeederWire:
		case i < first:
			feeders[0] = text + c.Place(c.L.Feeders[k.Ref].Place).Text
		case i > last && feeders[1] == "what feeds the rail":
			feeders[1] = text + c.Place(c.L.Feeders[k.Ref].Place).Text
		}
	}
	return ends, feeders
}

// causeText names the parts of track work that a short runs through.
func causeText(c *rule.Case, x *districts.Conflict) string {
	var parts []string
	for _, k := range x.Cause {
		k := &c.C.Conductors[k]
		if k.Kind != circuit.PiecePart {
			continue
		}
		if text := c.PartText(layout.PieceID(k.Ref), k.Part); !slices.Contains(parts, text) {
			parts = append(parts, text)
		}
	}
	return strings.Join(parts, ", ")
}

// frogFix is what to do about a piece whose metal joins two legs.
func frogFix(c *rule.Case, p layout.PieceID) string {
	piece := &c.L.Pieces[p]
	if piece.Kind == layout.TurnoutPiece {
		w := c.L.Turnouts[piece.Index].Wiring
		if w.FrogMetal && !w.IsolatedHeel {
			return fmt.Sprintf("check that %s really is power-routing; if so, cut the inner rail just beyond the frog on both legs (gaps at %s %s and %s %s, rails: inner) and feed what lies beyond each cut, or take off the feeders beyond",
				piece.Name, piece.Name, piece.Ends[1].Name, piece.Name, piece.Ends[2].Name)
		}
	}
	if piece.Kind == layout.CrossingPiece && c.L.Crossings[piece.Index].Preset == layout.JoinedFrogs {
		return "use a crossing with dead or switched frogs, or cut the frogs off and feed them by contacts"
	}
	return "part the path inside the piece: check its wiring, its contacts and its jumpers"
}
