package reader

import (
	"strings"

	"gapwise/netlist/tree"
)

// rawStretch is a stretch as typed: a whole piece, part of a track, one route of a
// piece, or a block.
type rawStretch struct {
	block  bool
	name   text
	bounds *bounds
	route  text
	text   text
}

// parseStretch takes a stretch apart.
func (r *reader) parseStretch(t text) (rawStretch, bool) {
	s := rawStretch{text: t}
	if before, after, ok := t.around("@"); ok {
		if !isReference(before.s) {
			r.blame(before, problem{message: "before the @ belongs one track's name", expected: "a stretch such as M1 @ 4 ft .. 9 ft"})
			return s, false
		}
		s.name = before
		b, ok := r.parseBounds(after, true)
		s.bounds = &b
		return s, ok
	}
	ws := t.words()
	switch {
	case len(ws) == 1 && isReference(ws[0].s):
		s.name = ws[0]
		return s, true
	case len(ws) == 2 && ws[0].s == "block" && isReference(ws[1].s):
		s.block, s.name = true, ws[1]
		return s, true
	case len(ws) == 2 && isReference(ws[0].s) && strings.Contains(ws[1].s, "-") && isName(ws[1].s):
		s.name, s.route = ws[0], ws[1]
		return s, true
	case len(ws) > 1 && isReference(ws[0].s) && startsMeasure(ws[1].s):
		r.blamef(t, "a stretch is `%s @ %s`", ws[0].s, joined(ws[1:]))
	default:
		r.blame(t, problem{message: "no such stretch", expected: "such as M1 @ 4 ft .. 9 ft, T3, or X1 a-c"})
	}
	return s, false
}

var stretchesKind = kind{value: "stretches", noun: "stretches such as M1 @ 4 ft .. 9 ft, T3, or X1 a-c", shape: fixed(oneOrMore(stretchShape)), partial: true, decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
	return r.parseStretches(n, k)
}}

func (r *reader) parseStretches(n *tree.Node, k *key) ([]rawStretch, bool) {
	ts, ok := r.texts(n, k)
	stretches := make([]rawStretch, 0, len(ts))
	for _, t := range ts {
		s, fine := r.parseStretch(t)
		ok = ok && fine
		if fine {
			stretches = append(stretches, s)
		}
	}
	return stretches, ok
}

// rawUnder is one entry of a bus's `under`.
type rawUnder struct {
	at        *text
	stretches []rawStretch
}

// underKind is stretches, or a map from places on the bus to stretches.
var underKind = kind{value: "stretches, or {place on the bus: stretches}", noun: "what the bus runs below, such as M2, or {1 .. 18 ft: M2}", shape: fixed(underShape), partial: true, decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
	if n.Kind != tree.Map {
		stretches, ok := r.parseStretches(n, k)
		return []rawUnder{{stretches: stretches}}, ok
	}
	ok := true
	var unders []rawUnder
	for i := range n.Fields {
		f := &n.Fields[i]
		at := keyText(f)
		if f.Value.IsEmpty() {
			if !f.Value.Bad {
				r.blame(at, problem{message: "no value; what the bus runs below"})
			}
			ok = false
			continue
		}
		stretches, fine := r.parseStretches(f.Value, k)
		ok = ok && fine
		unders = append(unders, rawUnder{at: &at, stretches: stretches})
	}
	return unders, ok
}}
