package catalogue

import (
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// acceptanceStale is reported by the engine, which alone knows what every acceptance
// met; its check is empty on purpose.
var acceptanceStale = rule.Rule{
	ID:       "acceptance-stale",
	Severity: finding.Caution,
	Title:    "an acceptance no longer matches any finding",
	Doc: rule.Doc{
		What:    "An entry under `accept` names a finding and a place, and the check finds nothing like it there any more.",
		Why:     "An acceptance that nobody needs hides the next real finding at that place.",
		Fix:     "Take the entry out.",
		Example: "accept:\n  - {finding: gap-one-rail, at: gap east, because: kept}   # and gap east is cut in both rails",
	},
	Sources: []string{"yours: `accept`"},
	Check:   func(*rule.Case) {},
}
