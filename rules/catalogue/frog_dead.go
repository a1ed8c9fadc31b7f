package catalogue

import (
	"fmt"
	"strings"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var frogDead = rule.Rule{
	ID:       "frog-dead",
	Severity: finding.Caution,
	Title:    "a dead frog is as long as the shortest pick-up base",
	Doc: rule.Doc{
		What:    "A frog that is plastic, or metal that no leg reaches in a setting that leads wheels over it, is at least as long (`frog-length`) as the shortest distance over which an engine picks up power (`pickup` under `operations`). Of ranges the longest frog and the shortest base count.",
		Why:     "An engine whose wheels all stand on the frog has no power in that rail and stops.",
		Fix:     "Feed the frog by contacts that follow the points, or keep short engines off this route.",
		Example: "turnouts:\n  T1: {hand: left, wiring: unfed-frog, frog-length: 2 1/2 in}\noperations: {pickup: 2 in}",
	},
	Sources: []string{"geometry: all pick-up wheels of one side stand on the frog; your `pickup` and `frog-length`"},
}

func init() { frogDead.Check = checkFrogDead }

func checkFrogDead(c *rule.Case) {
	dead, open := c.T.DeadFrogs()
	if len(open) > 0 {
		names := make([]string, len(open))
		for i, d := range open {
			names[i] = c.C.Devices[d].Name
		}
		c.GiveUp("whether frogs fed through several of these are dead: "+strings.Join(names, ", "), "the search over their settings reached its bound on work", c.C.Devices[open[0]].Pos)
	}
	if len(dead) == 0 {
		return
	}
	pickup := c.L.Operations.Pickup
	if !pickup.Known() {
		if c.L.Operations.Said {
			c.LeaveOpen(fmt.Sprintf("whether %s stop a short engine", frogsText(c, dead)), "`operations` does not say the shortest `pickup`", c.L.Operations.Pos)
		}
		return
	}
	var unmeasured []districts.DeadFrog
	for i := range dead {
		d := &dead[i]
		piece := &c.L.Pieces[d.Piece]
		frog := c.L.FrogLength(d.Piece)
		if !frog.Known() {
			unmeasured = append(unmeasured, *d)
			continue
		}
		length := frog.Hi
		if length < pickup.Lo {
			continue
		}
		when := "whichever way it is set"
		if !d.Always {
			when = "when set " + strings.Join(c.Settings(d.Settings), ", ")
		}
		f := finding.Finding{
			Severity: finding.Caution,
			Pos:      piece.Pos,
			Place:    c.PiecePlace(d.Piece),
			Message:  fmt.Sprintf("the frog of %s is dead %s, and no shorter than the shortest pick-up base", piece.Name, when),
			Why:      "an engine whose wheels all stand on it has no power in that rail and stops",
			Numbers:  []finding.Number{{Name: "dead frog", Text: rule.Length("", length).Text, SI: length, Unit: "m", Limit: "shorter than " + rule.Length("", pickup.Lo).Text, Source: "yours: `pickup`"}},
			Fix:      "feed the frog by contacts that follow the points, or keep short engines off it",
			Mends:    liveFrogMends(c, d.Piece),
		}
		if !d.Always {
			f.Settings = c.Settings(d.Settings)
		}
		c.Report(f)
	}
	if len(unmeasured) > 0 {
		c.LeaveOpen(fmt.Sprintf("whether %s are shorter than the shortest pick-up base", frogsText(c, unmeasured)), "the layout does not say `frog-length`", c.L.Pieces[unmeasured[0].Piece].Pos)
	}
}

// frogsText names the pieces of dead frogs, the first few of many.
func frogsText(c *rule.Case, dead []districts.DeadFrog) string {
	const few = 6
	var names []string
	for i := range dead {
		name := c.L.Pieces[dead[i].Piece].Name
		if len(names) > 0 && names[len(names)-1] == name {
			continue
		}
		if len(names) == few {
			return "the dead frogs of " + strings.Join(names, ", ") + " and more"
		}
		names = append(names, name)
	}
	return "the dead frogs of " + strings.Join(names, ", ")
}
