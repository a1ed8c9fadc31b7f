package catalogue

import (
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var railDrop = rule.Rule{
	ID:       "rail-drop",
	Severity: finding.Caution,
	Title:    "the rails lose too many volts on the way to a train",
	Doc: rule.Doc{
		What:    "The drop is computed at every point of every rail, with all trains that may move at once drawing their current there, up to what trips. Where wires, joints and rails lose more than a tenth of the source's volts even when every joint is good, and most of it in the rails and their joints, that is a caution. What it may come to with every joint and contact as bad as they come is told by `gapwise trace`. A limit of your own, `limits: {rail-drop: 5 %}`, is held against this part by itself; where only bad joints break that, it is a note.",
		Why:     "Trains slow down and lights dim there, and a short there is weaker too.",
		Fix:     "One more feeder near the worst point.",
		Example: "feeders:\\n  M1: {A: left, 1 ft: main @ 1 ft}   # the only one on 40 ft of code 70",
	},
	Sources: []string{"a tenth of the source's volts: NEM 604:2013, 2.2; resistances as `gapwise explain numbers` lists them"},
}

func init() { railDrop.Check = tellVerdicts }
