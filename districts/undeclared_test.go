package districts_test

import (
	"fmt"
	"testing"

	"gapwise/districts"
)

// TestUndeclared closes in the middle of a line and covers more and more of it.
func TestUndeclared(t *testing.T) {
	const shelf = `gapwise: 1
layout: Shelf
defaults:
  gap: {rails: both, kind: insulated, fill: styrene}
tracks:
  line: {from: end, to: end, length: 20 ft}
gaps:
  line: [5 ft, 15 ft]
`
	for _, c := range []struct{ blocks, want string }{
		{"", "0-5 beside -, 5-15 beside -, 15-20 beside - of 0%"},
		{"blocks:\n  W: {covers: line @ 0 .. 5 ft}\n  E: {covers: line @ 15 ft .. end}\n", "5-15 beside W E of 50%"},
		{"blocks:\n  W: {covers: line @ 0 .. 5 ft 5 in}\n", "5-15 beside W, 15-20 beside - of 25%"},
		{"blocks:\n  W: {covers: line @ 0 .. 7 ft}\n", "15-20 beside W of 75%"},
		{"blocks:\n  W: {covers: line}\n", "- of 100%"},
	} {
		tr := trace(t, shelf+c.blocks)
		got := names(tr.Undeclared(), func(u districts.Undeclared) string {
			text := ""
			for _, s := range u.On {
				text += fmt.Sprintf("%.0f-%.0f", s.From/0.3048, s.To/0.3048)
			}
			text += " beside"
			for _, b := range u.Beside {
				text += " " + tr.C.Layout.Blocks[b].Name
			}
			if len(u.Beside) == 0 {
				text += " -"
			}
			return text
		})
		if got = fmt.Sprintf("%s of %.0f%%", got, 100*tr.DeclaredShare()); got != c.want {
			t.Errorf("%q: %s, want %s", c.blocks, got, c.want)
		}
	}
}
