package reports

import (
	"fmt"
	"io"
	"strings"

	"gapwise/rules/catalogue"
)

// RuleTable writes every rule as a row of a Markdown table: name, severity, practice that
// raises it, title. The error is the writer's.
func RuleTable(w io.Writer) error {
	var b strings.Builder
	b.WriteString("| rule | severity | practice | what is wrong |\n| --- | --- | --- | --- |\n")
	for _, r := range catalogue.All() {
		practice, severity := "", r.Severity.String()
		if r.Practice != "" {
			practice, severity = "`"+r.Practice+"`", "note, or caution as practice"
		}
		if r.OnlyListed {
			severity = "caution, only as practice"
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", r.ID, severity, practice, cell(r.Title))
	}
	_, err := io.WriteString(w, b.String())
	return err
}
