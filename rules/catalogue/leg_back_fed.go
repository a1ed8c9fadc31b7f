package catalogue

import (
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var legBackFed = rule.Rule{
	ID:       rule.LegBackFed,
	Severity: finding.Fault,
	Title:    "a power-routing turnout is fed from beyond its frog",
	Doc: rule.Doc{
		What:    "A turnout whose frog is one metal with the inner rails of its legs is fed through one of those rails: a feeder, or a turnout at the other end of a crossover, stands beyond the frog and no gap parts them. In the setting for the other leg the blade then joins the frog to the opposite stock rail.",
		Why:     "The turnout works while it is set one way, and shorts the booster as soon as it is thrown.",
		Fix:     "Cut an insulated gap in the inner rail just beyond the frog of each leg, or feed the turnout from its points only.",
		Example: "turnouts:\n  T1: {hand: left, wiring: power-routing}   # with a feeder on its straight leg and no gap beyond the frog",
	},
	Sources:      []string{"electrical necessity: a short circuit"},
	CannotAccept: true,
}

func init() { legBackFed.Check = reportTrackWork }
