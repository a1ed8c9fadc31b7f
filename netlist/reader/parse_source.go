package reader

import (
	"gapwise/netlist/tree"
)

// rawSource is what something hangs from, as typed: `breaker yard`, `yard`, `ring @ 20
// ft`, `unknown`, `nothing`.
type rawSource struct {
	kind text
	name text
	tap  *rawPlace
	text text
}

// parseSource takes a source apart.
func (r *reader) parseSource(t text) (rawSource, bool) {
	s := rawSource{text: t}
	if _, _, isTap := t.around("@"); isTap {
		p, ok := r.parsePlace(t)
		s.tap = &p
		return s, ok
	}
	ws := t.words()
	switch {
	case len(ws) == 1 && isReference(ws[0].s):
		s.name = ws[0]
		return s, true
	case len(ws) == 2 && isKindWord(ws[0].s) && isReference(ws[1].s):
		s.kind, s.name = ws[0], ws[1]
		return s, true
	case len(ws) == 2 && isReference(ws[1].s) && !startsMeasure(ws[1].s):
		r.blame(ws[0], problem{message: "no such kind", expected: listed(sourceWords), nearest: r.nearest(ws[0].s, sourceWords)})
	case len(ws) > 1 && startsMeasure(ws[1].s):
		r.blamef(t, "a tap is `%s @ %s`", ws[0].s, joined(ws[1:]))
	default:
		r.blame(t, problem{message: "no such source", expected: "such as breaker yard, or ring @ 20 ft"})
	}
	return s, false
}

var sourceKind = kind{value: "source", noun: "a source such as breaker yard, or ring @ 20 ft", shape: fixed(sourceShape), decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
	t, ok := r.scalar(n, k)
	if !ok {
		return nil, false
	}
	return r.parseSource(t)
}}

// sourceWords are the kinds that something may hang from by name.
var sourceWords = []string{"booster", "breaker", "reverser", "detector", "in-line", "changeover", "plug", "supply", "cab"}
