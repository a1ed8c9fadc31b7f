package catalogue

import (
	"fmt"

	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var gapMissingBetweenDistricts = rule.Rule{
	ID:       rule.GapMissing,
	Severity: finding.Fault,
	Title:    "two districts are tied through rail, a bond or a stray feeder",
	Doc: rule.Doc{
		What:    "Rails that are fed from one booster, breaker or reverser are joined by metal to rails fed from another: a gap is missing between them, a bond leads from one to the other, or one feeder hangs from the wrong bus or takes its two legs from two sources. A fault between two boosters or beside a reverser, a caution between two breakers of one booster.",
		Why:     "Two boosters work against each other through the rail; a breaker that is fed past no longer protects anything, and a short in one district stops the other.",
		Fix:     "Cut both rails where the districts should part, or move the stray feeder to the bus of its district.",
		Example: "feeders:\n  Y3: {A: right, 1 ft: harbour @ 12 ft}   # in a yard that breaker yard feeds",
	},
	Sources: []string{"NEM 609:2010, 6.1: outputs are never joined in parallel", "which feeder or gap is named, by the least that would have to change: " + rule.CommonPractice},
}

func init() { gapMissingBetweenDistricts.Check = checkGapMissingBetweenDistricts }

func checkGapMissingBetweenDistricts(c *rule.Case) {
	for i := range c.T.Ties {
		t := &c.T.Ties[i]
		if c.TieRule(t) != c.Rule.ID {
			continue
		}
		f := finding.Finding{Severity: c.TieSeverity(t), Witness: c.TieWitness(t), Why: tieWhy(c, t)}
		if t.Feeder >= 0 {
			strayFeeder(c, t, &f)
		} else {
			missingGap(c, t, &f)
		}
		f.Mends = tieMends(c, t)
		c.Report(f)
	}
	for i := range c.T.BondTies {
		c.Report(tyingBond(c, &c.T.BondTies[i]))
	}
	for i := range c.T.Feeds {
		if f := &c.T.Feeds[i]; f.Mixed(c.C) && !c.StrayFeeder(f.Feeder) {
			c.Report(mixedFeeder(c, f))
		}
	}
}

func tyingBond(c *rule.Case, t *districts.BondTie) finding.Finding {
	bond := &c.L.Bonds[t.Bond]
	place := c.Place(bond.From)
	place.Text = "the bond from " + place.Text + " to " + c.Place(bond.To).Text
	return finding.Finding{
		Severity: c.PairSeverity(t.Classes[0], t.Classes[1]),
		Pos:      bond.Pos,
		Place:    place,
		Message:  fmt.Sprintf("%s joins the rails of %s to the rails of %s", place.Text, c.SourceName(t.Classes[0]), c.SourceName(t.Classes[1])),
		Why:      pairWhy(c, t.Classes),
		Witness:  bondWitness(c, t),
		Fix:      "take this bond off",
		Mends:    bondOffMends(c, t.Bond),
	}
}

// bondWitness tells how either end of a bond is fed.
func bondWitness(c *rule.Case, t *districts.BondTie) []finding.Step {
	bond := &c.L.Bonds[t.Bond]
	var out []finding.Step
	for side, spot := range t.Spots {
		for _, f := range c.FeedersOf(spot) {
			out = append(out, finding.Step{Text: fmt.Sprintf("%s: feeder at %s from %s", [2]string{"at its start", "at its end"}[side], c.Place(c.L.Feeders[f].Place).Text, c.FeederTo(f)), Pos: c.L.Feeders[f].Pos})
			break
		}
	}
	return append(out, finding.Step{Text: "the bond between", Pos: bond.Pos})
}

func mixedFeeder(c *rule.Case, f *districts.Feed) finding.Finding {
	feeder := &c.L.Feeders[f.Feeder]
	a, b := f.Legs[layout.A].Source, f.Legs[layout.B].Source
	return finding.Finding{
		Severity: c.PairSeverity(a, b),
		Pos:      feeder.Pos,
		Place:    c.FeederPlace(f.Feeder),
		Message:  fmt.Sprintf("the feeder at %s takes %s from %s and %s from %s", c.Place(feeder.Place).Text, c.LegWord(layout.A), c.SourceName(a), c.LegWord(layout.B), c.SourceName(b)),
		Why:      "the current goes out from one and has no way back but through the other",
		Witness:  append(c.WitnessTo(f.Spot, feeder.ARail), c.WitnessTo(f.Spot, feeder.ARail.Other())...),
		Fix:      "take both legs of this feeder from one bus",
		Mends:    oneBusMends(c, f.Feeder),
	}
}

func tieWhy(c *rule.Case, t *districts.Tie) string { return pairWhy(c, t.Classes) }

func pairWhy(c *rule.Case, pair [2]int32) string {
	switch {
	case c.PairSeverity(pair[0], pair[1]) == finding.Caution:
		return "a short in one of them is fed through the other, so its own protection does not clear it"
	case c.Free(pair[0]) || c.Free(pair[1]):
		return "in at least one position of the reverser, the rail joins leg A to leg B"
	default:
		return "two boosters drive the same rail against each other"
	}
}

func strayFeeder(c *rule.Case, t *districts.Tie, f *finding.Finding) {
	feeder := &c.L.Feeders[t.Feeder]
	f.Pos = feeder.Pos
	f.Place = c.FeederPlace(t.Feeder)
	f.Message = fmt.Sprintf("the feeder at %s comes from %s (%s), and the rails around it are fed from %s", c.Place(feeder.Place).Text, c.SourceName(t.Classes[0]), c.FeederTo(t.Feeder), c.SourceName(t.Classes[1]))
	f.Fix = "hang this feeder from a bus of " + c.SourceName(t.Classes[1])
	if meant := meantSource(c, c.T.Feeds[t.Feeder].Spot); meant != "" {
		f.Message += "; the place is meant to hang from " + meant
	} else {
		f.Candidates = []string{fmt.Sprintf("or the feeder is right, and gaps in both rails are missing that part it from the track of %s", c.SourceName(t.Classes[1]))}
	}
}

// meantSource names what the blocks at a spot are meant to hang from; "" when nothing is said.
func meantSource(c *rule.Case, spot int32) string {
	for _, s := range c.T.Meant.Sources(c.C, spot) {
		return c.SourceName(s)
	}
	return ""
}

func missingGap(c *rule.Case, t *districts.Tie, f *finding.Finding) {
	place, where := c.CutPlace(t)
	f.Pos = c.WayPos(t.Cut)
	f.Place = place
	f.Message = fmt.Sprintf("nothing parts %s from %s %s", c.SourceName(t.Classes[0]), c.SourceName(t.Classes[1]), where)
	f.Fix = "cut both rails " + where + apartTest(c, t.Classes)
	if blocks := boundHere(c, t); blocks != "" {
		f.Message += "; " + blocks
	}
	for _, near := range t.Near {
		if near >= 0 {
			f.Also = append(f.Also, fmt.Sprintf("feeder at %s from %s", c.Place(c.L.Feeders[near].Place).Text, c.SourceName(c.T.Feeds[near].Source())))
			if c.OnlyFeeder(near) && len(c.T.Meant.Sources(c.C, c.T.Feeds[near].Spot)) == 0 {
				f.Candidates = append(f.Candidates, fmt.Sprintf("or the feeder at %s hangs from the wrong bus", c.Place(c.L.Feeders[near].Place).Text))
			}
		}
	}
}

// boundHere says which blocks are meant to meet where a gap is missing.
func boundHere(c *rule.Case, t *districts.Tie) string {
	for _, d := range c.T.Differences {
		if d.Missing && d.Track >= 0 && c.CutOn(t, d.Track) {
			return fmt.Sprintf("%s and %s are meant to part at %s", c.BlockName(d.Blocks[0]), c.BlockName(d.Blocks[1]), c.TrackPlace(d.Track, d.At).Text)
		}
	}
	w := &c.C.Ways[t.Cut]
	if p := &c.L.Pieces[c.C.Spots[w.A].Piece]; p.Kind == layout.TrackPiece && c.L.Tracks[p.Index].Use == layout.UseHelix {
		return "this is a helix, and its tracks are blocks of their own"
	}
	return ""
}
