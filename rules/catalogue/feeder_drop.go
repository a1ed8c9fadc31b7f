package catalogue

import (
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var feederDrop = rule.Rule{
	ID:       "feeder-drop",
	Severity: finding.Caution,
	Title:    "the feeders lose too many volts on the way to a train",
	Doc: rule.Doc{
		What:    "The drop is computed at every point of every rail, with all trains that may move at once drawing their current there, up to what trips. Where wires, joints and rails lose more than a tenth of the source's volts even when every joint is good, and most of it in feeders and bonds, that is a caution. What it may come to with every joint and contact as bad as they come is told by `gapwise trace`. A limit of your own, `limits: {feeder-drop: 5 %}`, is held against this part by itself; where only bad joints break that, it is a note.",
		Why:     "Trains slow down and lights dim there, and a short there is weaker too.",
		Fix:     "Thicker or shorter feeders, or more of them.",
		Example: "feeders:\\n  M1: {A: left, wire: 26 AWG, length: 6 ft, 4 ft: main @ 4 ft}",
	},
	Sources: []string{"a tenth of the source's volts: NEM 604:2013, 2.2; resistances as `gapwise explain numbers` lists them"},
}

func init() { feederDrop.Check = tellVerdicts }
