package reader

import (
	"cmp"
	"slices"
	"strings"

	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

// lineAt is one line of one file.
type lineAt struct{ file, line int32 }

// findTorn notes the lines on which the tree reported a mistake of structure, such as a
// brace that is not closed. What is odd on such a line may follow from it, so nothing
// else is told of it. A mistake inside one value, or a key typed twice, tears no line.
func (r *reader) findTorn(root *tree.Node, problems []source.Problem) {
	if len(problems) == 0 {
		return
	}
	var bad []*tree.Node
	badTexts(root, &bad)
	slices.SortFunc(bad, func(a, b *tree.Node) int {
		return cmp.Or(cmp.Compare(a.Pos.Line, b.Pos.Line), cmp.Compare(a.Pos.Col, b.Pos.Col))
	})
	for _, p := range problems {
		i, _ := slices.BinarySearchFunc(bad, p.Pos, func(n *tree.Node, at source.Pos) int {
			return cmp.Or(cmp.Compare(n.Pos.Line, at.Line), cmp.Compare(n.Pos.Col+int32(n.Width), at.Col))
		})
		inValue := i < len(bad) && bad[i].Pos.Line == p.Pos.Line && bad[i].Pos.Col <= p.Pos.Col
		if !inValue && !strings.Contains(p.Message, "` again; first at ") {
			r.torn[lineAt{p.Pos.File, p.Pos.Line}] = true
		}
	}
}

// badTexts collects the single values that a mistake was reported in.
func badTexts(n *tree.Node, bad *[]*tree.Node) {
	if n == nil {
		return
	}
	if n.Kind == tree.Scalar && n.Bad {
		*bad = append(*bad, n)
	}
	for i := range n.Fields {
		badTexts(n.Fields[i].Value, bad)
	}
	for _, item := range n.Items {
		badTexts(item, bad)
	}
}
