package reader

import (
	"slices"
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/tree"
)

// scalar gives n's text, or reports that a single value belongs there.
func (r *reader) scalar(n *tree.Node, k *key) (text, bool) {
	t := nodeText(n)
	switch {
	case n.Bad:
		return t, false
	case n.Kind == tree.Scalar:
		return t, true
	case n.Kind == tree.Map && len(n.Fields) > 0 && n.Fields[0].Value.IsEmpty():
		r.blame(t, problem{message: "a value in braces or with a colon; quote it", expected: k.expected()})
	default:
		r.blame(t, problem{message: "one value belongs here", expected: k.expected()})
	}
	return t, false
}

// wordKind is one of the key's words; its value is the word's index.
var wordKind = kind{value: "word", noun: "a word", shape: wordShape, decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
	t, ok := r.scalar(n, k)
	if !ok {
		return nil, false
	}
	return r.word(t, k)
}}

// word finds t among the words of k.
func (r *reader) word(t text, k *key) (int, bool) {
	if i := slices.Index(k.words, t.s); i >= 0 && t.s != "" {
		return i, true
	}
	wrong := k.wrong
	if wrong == "" {
		wrong = k.name
	}
	r.blame(t, problem{message: "no such " + wrong, expected: k.expected(), nearest: r.nearest(t.s, k.words)})
	return 0, false
}

// yesNoKind is yes, no or unknown.
var yesNoKind = kind{value: "yes, no or unknown", noun: "yes, no or unknown", shape: fixed(words("yes", "no", "unknown")), decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
	t, ok := r.scalar(n, k)
	if !ok {
		return nil, false
	}
	switch t.s {
	case "yes":
		return layout.Yes, true
	case "no":
		return layout.No, true
	case "unknown":
		return layout.YesNoUnknown, true
	}
	p := problem{message: "write yes, no or unknown"}
	switch strings.ToLower(t.s) {
	case "true", "on", "y", "yes":
		p.nearest = "yes"
	case "false", "off", "n", "no":
		p.nearest = "no"
	default:
		p.nearest = r.nearest(t.s, []string{"yes", "no", "unknown"})
	}
	r.blame(t, p)
	return nil, false
}}

// textKind is free text.
var textKind = kind{value: "text", noun: "a text", shape: fixed(textShape), decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
	t, ok := r.scalar(n, k)
	return t, ok
}}

// nameKind is a new name: of an entry, or of something only named.
var nameKind = kind{value: "name", noun: "a name", shape: fixed(nameShape), decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
	t, ok := r.scalar(n, k)
	if !ok || !r.checkName(t, "") {
		return nil, false
	}
	return t, true
}}

// referenceKind is the name of another entry, looked up later.
var referenceKind = kind{value: "name", noun: "a name", shape: fixed(referenceShape), decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
	t, ok := r.scalar(n, k)
	return t, ok
}}

// referencesKind is one or more names.
var referencesKind = kind{value: "names", noun: "one or more names", shape: fixed(oneOrMore(referenceShape)), partial: true, decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
	return r.texts(n, k)
}}

// texts gives the single values of a list, or of a list of one without its brackets.
func (r *reader) texts(n *tree.Node, k *key) ([]text, bool) {
	if n.Bad {
		return nil, false
	}
	var ts []text
	ok := true
	for _, item := range n.List() {
		if item.IsEmpty() && !item.Bad {
			r.blame(nodeText(item), problem{message: "no value; " + k.kind.noun})
			ok = false
			continue
		}
		t, fine := r.scalar(item, k)
		ok = ok && fine
		if fine {
			ts = append(ts, t)
		}
	}
	return ts, ok
}
