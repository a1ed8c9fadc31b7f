package catalogue

import (
	"fmt"

	"gapwise/netlist/layout"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// turnoutStub is how long a stub beyond a turnout may be without its own feeder when it
// is fed through the turnout by whole rail. Common practice, no source.
const turnoutStub = 0.3048

// stubSlack is half of 1/16 in: a stub typed as 305 mm is one of 12 in.
const stubSlack = 0.0008

var feederMissingAtTurnoutSide = rule.Rule{
	ID:       "feeder-missing-at-turnout-side",
	Severity: finding.Caution,
	Practice: "feeders-at-turnouts",
	Title:    "one side of a turnout has no feeder of its own",
	Doc: rule.Doc{
		What:    "Walking away from an end of a turnout, the track reaches a gap, its end or the next track work before it reaches a feeder. A stub of up to 12 in that is joined to the turnout by soldered joints and fed through whole rail or jumpers is exempt, and so is track that blades or contacts feed on purpose, in some settings only.",
		Why:     "That side hangs on the turnout's blades, jumpers and joiners, which are what fails first.",
		Fix:     "Hang a feeder on that side. On a stub of up to 12 in, say instead what feeds it if it is sound: `jumpers: yes` and `joint: {kind: soldered}`.",
		Example: "feeders:\n  M1: {A: left, 2 ft: main @ 2 ft}   # before T1; nothing on the siding behind it",
	},
	Sources: []string{rule.CommonPractice},
}

func init() { feederMissingAtTurnoutSide.Check = checkFeederMissingAtTurnoutSide }

func checkFeederMissingAtTurnoutSide(c *rule.Case) {
	for id := range c.L.Pieces {
		p := &c.L.Pieces[id]
		if p.Kind != layout.TurnoutPiece && p.Kind != layout.ThreeWayPiece {
			continue
		}
		for e := range p.Ends {
			side := c.T.SideOf(c.C.EndSpot[id][e])
			if side.Fed || side.Length == 0 || side.Dead {
				continue
			}
			if side.Length <= turnoutStub+stubSlack && side.Whole {
				continue
			}
			if side.Routed && !side.Loose {
				continue // switched by blades on purpose: a feeder there would short
			}
			if p.Kind == layout.TurnoutPiece && e != layout.TurnoutPoints && routesPower(&c.L.Turnouts[p.Index]) {
				continue
			}
			f := finding.Finding{
				Severity: c.PracticeSeverity(),
				Pos:      p.Pos,
				Place:    finding.Place{Piece: p.Name, Text: p.Name + " " + p.Ends[e].Name},
				Message:  fmt.Sprintf("no feeder on the %s side of %s: %s of track hangs on the turnout", p.Ends[e].Name, p.Name, rule.Length("", side.Length).Text),
				Why:      "that side depends on the turnout's blades, jumpers and joints, which fail first",
				Numbers:  []finding.Number{{Name: "track without a feeder", Text: rule.Length("", side.Length).Text, SI: side.Length, Unit: "m", Limit: "at most " + rule.Length("", turnoutStub).Text, Source: rule.CommonPractice}},
				Fix:      "hang a feeder on that side, between the turnout and " + untilText(c, &side),
				Mends:    sideMends(c, c.C.EndSpot[id][e], -1, side.Length),
			}
			if side.Length <= turnoutStub+stubSlack {
				doubtfulStub(c, &f, c.C.EndSpot[id][e])
			}
			c.Report(f)
		}
	}
}

// doubtfulStub tells of a side that is short enough to do without a feeder, were what feeds it
// through the turnout said to be sound.
func doubtfulStub(c *rule.Case, f *finding.Finding, spot int32) {
	node := c.C.Spots[spot].Node
	doubt := c.DoubtAt(node[layout.Left], node[layout.Right])
	stub := f.Numbers[0].Text
	f.Message = fmt.Sprintf("nothing feeds the %s beyond %s but the turnout, by %s that the file does not call sound", stub, f.Place.Text, doubt.Things())
	f.Numbers = []finding.Number{{Name: "track without a feeder", Text: stub, SI: f.Numbers[0].SI, Unit: "m"}}
	sound := ""
	switch {
	case doubt.Jumpers && doubt.Joints:
		sound = "wires carry both rails past the frog and the joints are soldered"
	case doubt.Jumpers:
		sound = "wires carry both rails past the frog"
	case doubt.Joints:
		sound = "the joints are soldered"
	default:
		return
	}
	f.Fix = fmt.Sprintf("if %s, say %s; else hang a feeder on that side%s", sound, doubt.Keys(), passTest)
}

// routesPower reports whether a turnout feeds its legs by its blades on purpose.
func routesPower(t *layout.Turnout) bool {
	return t.Wiring.FrogMetal && !t.Wiring.IsolatedHeel
}
