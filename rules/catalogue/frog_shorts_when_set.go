package catalogue

import (
	"strings"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var frogShortsWhenSet = rule.Rule{
	ID:       rule.FrogShorts,
	Severity: finding.Fault,
	Title:    "track work shorts, always or in some setting",
	Doc: rule.Doc{
		What:    "The metal inside a turnout or three-way joins a rail of leg A to a rail of leg B: a metal frog joined to two legs that are both fed from beyond, a contact that gives the frog the wrong rail, blades or contacts that touch both stock rails while they change over. Each piece is looked at in each of its settings, together with what is thrown with it, and several pieces together where rail without a feeder of its own lies between them. Settings listed under `never-together` are left out.",
		Why:     "The booster trips whenever that setting is made, or when the first wheel rolls over the frog.",
		Fix:     "Cut the inner rails beyond a frog that is joined to its legs, swap the contacts of a frog that gets the wrong rail, or choose contacts that break before they make.",
		Example: "turnouts:\n  T9: {hand: right, wiring: power-routing}   # with feeders on both legs and no gap beyond the frog",
	},
	Sources:      []string{"electrical necessity: a short circuit"},
	CannotAccept: true,
}

func init() { frogShortsWhenSet.Check = checkFrogShortsWhenSet }

func checkFrogShortsWhenSet(c *rule.Case) {
	reportTrackWork(c)
	if len(c.T.Unproven) > 0 {
		names := make([]string, len(c.T.Unproven))
		for i, d := range c.T.Unproven {
			names[i] = c.C.Devices[d].Name
		}
		c.GiveUp("shorts that need several of these set at once: "+strings.Join(names, ", "), "the search over their settings reached its bound on work", c.C.Devices[c.T.Unproven[0]].Pos)
	}
}
