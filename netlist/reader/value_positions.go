package reader

import "gapwise/netlist/tree"

// rawPosition is one position of a changeover.
type rawPosition struct {
	source  rawSource
	crossed bool
	text    text
}

// positionsKind is the positions of a changeover, by name.
var positionsKind = kind{value: "{name: source, nothing or {from, legs}}", noun: "positions such as {run: main @ 28 ft}", shape: fixed(mapOf(nameShape.Pattern, positionShape)), partial: true, decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
	list, ok := pairs(r, k, n, readPosition)
	for _, p := range list {
		ok = r.checkName(p.key, thingWords[positionThing]) && ok
	}
	return list, ok
}}

func readPosition(r *reader, k *key, n *tree.Node) (rawPosition, bool) {
	p := rawPosition{text: nodeText(n)}
	if n.Kind == tree.Map {
		rec := r.record(&unit{}, positionSection, n, text{})
		r.refuseOthers(rec)
		ok := r.require(rec) && !rec.excused("legs")
		p.source = value[rawSource](rec, "from")
		p.crossed = rec.word("legs") > 0
		return p, ok
	}
	t, ok := r.scalar(n, k)
	if !ok {
		return p, false
	}
	if t.s == "nothing" {
		p.source = rawSource{name: t, text: t}
		return p, true
	}
	p.source, ok = r.parseSource(t)
	return p, ok
}

// bondRailsKind is both, or [rail at from, rail at to].
var bondRailsKind = kind{value: "both, or [rail, rail]", noun: "both, or [rail at from, rail at to]", shape: fixed(bondRailsShape), decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
	ts, ok := r.texts(n, k)
	if !ok {
		return nil, false
	}
	if len(ts) == 1 && ts[0].s == "both" {
		return []int{}, true
	}
	if len(ts) != 2 {
		r.blame(nodeText(n), problem{message: "both, or two rails", expected: "both, or such as [left, right]"})
		return nil, false
	}
	rails := key{name: "rail", words: railWords}
	from, okFrom := r.word(ts[0], &rails)
	to, okTo := r.word(ts[1], &rails)
	return []int{from, to}, okFrom && okTo
}}
