package reader

import (
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/tree"
)

// metals are what rail is rolled from.
var metals = []string{"nickel silver", "brass", "steel", "stainless steel", "aluminium", "copper"}

// Rail codes are heights in thousandths of an inch: from the lowest fine-scale section
// to garden rail (common practice, no source).
const lowestCode, highestCode = 25, 350

// railKind is `code 83 nickel silver`.
var railKind = kind{value: "code and metal", noun: "a rail such as code 83 nickel silver, or `unknown`", shape: fixed(railShape), decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
	t, ok := r.scalar(n, k)
	if !ok {
		return nil, false
	}
	rail := layout.RailStock{Said: true, Pos: t.pos}
	if t.s == "unknown" {
		return rail, true
	}
	ws := t.words()
	if len(ws) < 2 || ws[0].s != "code" {
		r.blame(t, problem{message: "a rail is a code and a metal", expected: "such as code 83 nickel silver"})
		return nil, false
	}
	code, err := quantity.ParseInt(ws[1].s, lowestCode, highestCode)
	if err != nil {
		r.blame(ws[1], problem{message: err.Message, expected: err.Expected})
		return nil, false
	}
	rail.Code = code
	if len(ws) == 2 {
		return rail, true
	}
	metal := joined(ws[2:])
	for _, m := range metals {
		if strings.EqualFold(m, metal) {
			rail.Metal = m
			return rail, true
		}
	}
	at := t.cut(strings.LastIndex(t.s, ws[2].s), len(t.s))
	if i := strings.Index(t.s, ws[1].s+" "); i >= 0 {
		at = t.cut(i+len(ws[1].s), len(t.s)).trim()
	}
	r.blame(at, problem{message: "no such metal", expected: listed(metals), nearest: r.nearest(strings.ToLower(metal), metals)})
	return nil, false
}}

// laidKind is how a bus's wires lie: `twisted`, `2 in apart` or `unknown`.
var laidKind = kind{value: "twisted, or a length and `apart`", noun: "twisted, a spacing such as 2 in apart, or unknown", shape: fixed(laidShape), decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
	t, ok := r.scalar(n, k)
	if !ok {
		return nil, false
	}
	laid := layout.Laid{Pos: t.pos}
	switch t.s {
	case "twisted":
		laid.Kind = layout.LaidTwisted
		return laid, true
	case "unknown":
		laid.Kind = layout.LaidUnknown
		return laid, true
	}
	measure, isApart := strings.CutSuffix(t.s, "apart")
	if !isApart {
		r.blame(t, problem{
			message: "no such way to lay wires", expected: "twisted, a spacing such as 2 in apart, or unknown",
			nearest: r.nearest(t.s, []string{"twisted", "unknown"}),
		})
		return nil, false
	}
	laid.Kind = layout.LaidApart
	laid.Spacing, ok = measured(r, t.cut(0, len(measure)).trim(), quantity.ParseLength)
	return laid, ok
}}
