package reports

import (
	"fmt"
	"io"
	"strings"

	"gapwise/netlist/quantity"
	"gapwise/netlist/reader"
)

// LanguageReference writes every section and key of the layout language as Markdown, from
// the tables the reader decodes by.
func LanguageReference(w io.Writer) error {
	var b strings.Builder
	for _, s := range reader.Reference() {
		fmt.Fprintf(&b, "#### %s\n\n%s\n\n| key | takes | default | meaning |\n| --- | --- | --- | --- |\n", s.Name, cell(s.Doc))
		for _, k := range s.Keys {
			name := "`" + k.Name + "`"
			if k.Required {
				name = "**" + name + "**"
			}
			fallback := k.Default
			if fallback == "" && !k.Required {
				fallback = "unknown"
			}
			fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", name, cell(k.Value), cell(fallback), cell(k.Doc))
		}
		b.WriteString("\n")
	}
	b.WriteString("#### units\n\n| quantity | written in | from | to |\n| --- | --- | --- | --- |\n")
	seen := map[string]bool{}
	for _, k := range quantity.Kinds() {
		name, units := k.Words()
		if seen[name] {
			continue
		}
		seen[name] = true
		bound := k.Bounds()
		fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", cell(name), cell(units), bound.MinText, bound.MaxText)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// cell keeps a text from breaking a Markdown table.
func cell(s string) string { return strings.ReplaceAll(s, "|", "\\|") }
