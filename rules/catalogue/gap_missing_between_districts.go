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
	Title:    "two districts are tied through rail or by a stray feeder",
	Doc: rule.Doc{
		What:    "Rails that are fed from one booster, breaker or reverser are joined by metal to rails fed from another: a gap is missing between them, or one feeder hangs from the wrong bus. A fault between two boosters or beside a reverser, a caution between two breakers of one booster.",
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
		c.Report(f)
	}
}

func tieWhy(c *rule.Case, t *districts.Tie) string {
	switch {
	case c.TieSeverity(t) == finding.Caution:
		return "a short in one of them is fed through the other, so its own protection does not clear it"
	case c.Free(t.Classes[0]) || c.Free(t.Classes[1]):
		return "when the reverser changes over, the rail joins leg A to leg B"
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
	f.Fix = "cut both rails " + where
	if blocks := boundHere(c, t); blocks != "" {
		f.Message += "; " + blocks
	}
	for _, near := range t.Near {
		if near >= 0 {
			f.Also = append(f.Also, fmt.Sprintf("feeder at %s from %s", c.Place(c.L.Feeders[near].Place).Text, c.SourceName(c.T.Feeds[near].Source())))
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
