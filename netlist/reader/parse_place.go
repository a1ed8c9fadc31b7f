package reader

import (
	"slices"
	"strings"
	"unicode/utf8"

	"gapwise/netlist/tree"
)

// rawPlace is a place as typed: `M1 @ 4 ft`, `T3 points`, with a kind word before it
// where that was needed. With along set it is a measure on a track or bus, else an end.
type rawPlace struct {
	kind  text // "bus", "track", ... or no text
	name  text
	along bool
	where where
	end   text
	text  text
}

// parsePlace takes a place, tap or end apart.
func (r *reader) parsePlace(t text) (rawPlace, bool) {
	p := rawPlace{text: t}
	if before, after, ok := t.around("@"); ok {
		p.along = true
		names := before.words()
		if len(names) == 2 && isKindWord(names[0].s) {
			p.kind, names = names[0], names[1:]
		}
		if len(names) != 1 || !isReference(names[0].s) {
			r.blame(before, problem{message: "before the @ belongs one name", expected: "a place such as M1 @ 4 ft"})
			return p, false
		}
		p.name = names[0]
		p.where, ok = r.parseWhere(after)
		return p, ok
	}
	ws := t.words()
	if len(ws) == 3 && isKindWord(ws[0].s) {
		p.kind, ws = ws[0], ws[1:]
	}
	switch {
	case len(ws) == 2 && isReference(ws[0].s) && isName(ws[1].s):
		p.name, p.end = ws[0], ws[1]
		return p, true
	case len(ws) > 1 && isReference(ws[0].s) && startsMeasure(ws[1].s):
		r.blamef(t, "a place is `%s @ %s`", ws[0].s, joined(ws[1:]))
	case len(ws) == 1 && isReference(ws[0].s):
		p.name = ws[0]
		return p, true
	default:
		r.blame(t, problem{message: "no such place", expected: "a place such as M1 @ 4 ft or T3 points"})
	}
	return p, false
}

// startsMeasure reports whether s begins like a length.
func startsMeasure(s string) bool {
	first, _ := utf8.DecodeRuneInString(s)
	return s != "" && strings.ContainsRune("0123456789½¼¾⅓⅔⅛⅜⅝⅞", first)
}

// joined is the words again, with single blanks.
func joined(ws []text) string {
	parts := make([]string, len(ws))
	for i := range ws {
		parts[i] = ws[i].s
	}
	return strings.Join(parts, " ")
}

// isReference reports whether s is a name, perhaps with modules' prefixes.
func isReference(s string) bool {
	if len(s) > 8*maxName {
		return false
	}
	for part := range strings.SplitSeq(s, "/") {
		if !isName(part) {
			return false
		}
	}
	return true
}

func isKindWord(s string) bool {
	return s != "" && (slices.Contains(thingWords[1:], s) || slices.Contains(pieceWords, s) || s == "slip")
}

// placeKind is a place, or a tap, taken apart.
var placeKind = kind{value: "place", noun: "a place such as M1 @ 4 ft", shape: fixed(placeShape), decode: decodePlace}

var tapKind = kind{value: "tap", noun: "a tap such as ring @ 20 ft", shape: fixed(tapShape), decode: decodePlace}

func decodePlace(r *reader, k *key, n *tree.Node) (any, bool) {
	t, ok := r.scalar(n, k)
	if !ok {
		return nil, false
	}
	return r.parsePlace(t)
}

// feederTapKind is a tap that may be the ends of a row of taps: `climb @ 35 .. 3 ft`. It
// is taken apart when it is known whether the feeder is a row.
var feederTapKind = kind{value: "tap", noun: "a tap such as ring @ 20 ft", shape: fixed(feederTapShape), decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
	t, ok := r.scalar(n, k)
	return t, ok
}}

// placesKind is one place or a list of them.
var placesKind = kind{value: "places", noun: "a place such as M4 @ 6 ft 2 in", shape: fixed(oneOrMore(placeShape)), decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
	ts, ok := r.texts(n, k)
	places := make([]rawPlace, 0, len(ts))
	for _, t := range ts {
		p, fine := r.parsePlace(t)
		ok = ok && fine
		places = append(places, p)
	}
	return places, ok
}}

// rawVia is a way through a body: `points to straight`.
type rawVia struct{ from, to, text text }

var viaKind = kind{value: "END to END", noun: "a way such as points to straight", shape: fixed(oneOrMore(viaShape)), decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
	ts, ok := r.texts(n, k)
	vias := make([]rawVia, 0, len(ts))
	for _, t := range ts {
		ws := t.words()
		if len(ws) != 3 || ws[1].s != "to" {
			r.blame(t, problem{message: "a way is END to END", expected: "such as points to straight"})
			ok = false
			continue
		}
		vias = append(vias, rawVia{from: ws[0], to: ws[2], text: t})
	}
	return vias, ok
}}

// endKind is what a track's `from` and `to` take.
var endKind = kind{value: "PIECE END, end or bumper", noun: "an end such as T1 points, or `end`", shape: fixed(endShape), decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
	t, ok := r.scalar(n, k)
	return t, ok
}}
