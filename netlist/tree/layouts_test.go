package tree

import (
	"testing"

	"gapwise/netlist/source"
)

// TestLayouts reads the examples of the language's reference, which are sound.
func TestLayouts(t *testing.T) {
	for _, text := range layouts(t) {
		root, problems := Parse(0, &source.File{Name: "layout.yaml", Text: text})
		if len(problems) > 0 || root == nil || root.Kind != Map || root.Bad {
			t.Errorf("told %v", problems)
		}
		checkPromises(t, text)
	}
}
