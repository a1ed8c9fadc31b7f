package catalogue

import (
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var crossingFrogsConflict = rule.Rule{
	ID:       rule.CrossingFrogs,
	Severity: finding.Fault,
	Title:    "the frogs of a crossing or slip join opposite legs",
	Doc: rule.Doc{
		What:    "Each frog of a crossing belongs to a rail of both routes, and those two rails carry opposite legs in two of the four frogs. A frog that is metal and fixed to both, a contact that gives a frog the rail of the route that is not set, contacts that make before they break, or a slip whose two routes are wired as one although each is fed the other way round, joins leg A to leg B.",
		Why:     "The booster trips as soon as it is switched on, when the setting is made, or when the first metal wheel rolls over that frog.",
		Fix:     "Use a crossing with dead frogs, or feed the frogs by contacts that follow the route that is set and break before they make.",
		Example: "crossings:\n  X1: {angle: 60 deg, length: 6 in, wiring: joined}   # both routes fed",
	},
	Sources:      []string{"electrical necessity: a short circuit"},
	CannotAccept: true,
}

func init() { crossingFrogsConflict.Check = reportTrackWork }
