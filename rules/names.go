package rules

import (
	"slices"

	"gapwise/netlist/reader"

	"gapwise/rules/catalogue"
)

// joinersNotTrusted is the practice that makes plain joiners count as unknown.
const joinersNotTrusted = "joiners-not-trusted"

// limitNames are the limits an owner may set.
var limitNames = []string{"bus-drop", "feeder-drop", "rail-drop", "short-resistance", "temperature"}

// ReaderOptions are the names of rules, practices and limits that a layout may use.
func ReaderOptions() reader.Options {
	o := reader.Options{LimitNames: limitNames}
	for _, r := range catalogue.All() {
		o.RuleNames = append(o.RuleNames, r.ID)
		if r.CannotAccept {
			o.NeverAccepted = append(o.NeverAccepted, r.ID)
		}
		if r.Practice != "" {
			o.PracticeNames = append(o.PracticeNames, r.Practice)
		}
	}
	o.PracticeNames = append(o.PracticeNames, joinersNotTrusted)
	slices.Sort(o.PracticeNames)
	return o
}
