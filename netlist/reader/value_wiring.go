package reader

import (
	"slices"

	"gapwise/netlist/layout"
	"gapwise/netlist/tree"
)

// rawWiring is a preset, or wiring told in full.
type rawWiring struct {
	preset layout.Preset
	full   *record
	text   text
}

// wiringKind takes one of the key's words, and for a turnout a map.
func wiringKind(full bool) kind {
	noun := "a preset"
	value := "preset"
	if full {
		noun, value = "a preset, or wiring in full", "preset, or wiring in full"
	}
	return kind{value: value, noun: noun, shape: wiringShape(full), decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
		if full && n.Kind == tree.Map {
			rec := r.record(&unit{}, wiringSection, n, text{})
			r.refuseOthers(rec)
			return rawWiring{preset: layout.InFull, full: rec, text: nodeText(n)}, r.wiringInFull(rec)
		}
		t, ok := r.scalar(n, k)
		if !ok {
			return nil, false
		}
		w, ok := r.word(t, k)
		if !ok {
			return nil, false
		}
		return rawWiring{preset: layout.Preset(slices.Index(layout.PresetWords, k.words[w])), text: t}, true
	}}
}

// wiringInFull checks that the words of a wiring told in full go together.
func (r *reader) wiringInFull(rec *record) bool {
	ok := r.require(rec)
	for i := range rec.vals {
		ok = ok && (!rec.vals[i].set || rec.vals[i].ok)
	}
	if !ok || rec.bad {
		return false
	}
	metal := rec.word("frog") == frogMetal
	for _, name := range []string{"isolated", "frog-from"} {
		switch {
		case metal && !rec.set(name):
			k := wiringSection.keys[wiringSection.index[name]]
			r.blame(rec.place(), problem{message: k.missing(), expected: k.expected()})
			return false
		}
	}
	if from := rec.word("frog-from"); !metal && from > fromNothing {
		r.blame(rec.at("frog-from"), problem{message: "a plastic frog takes no current", expected: "frog: metal, or frog-from: nothing"})
		return false
	}
	if joinsLegs(rec) && rec.yesNo("jumpers") != layout.No && rec.set("jumpers") {
		r.blame(rec.at("jumpers"), problem{message: "a frog that is metal with the legs has no jumpers"})
		return false
	}
	return true
}

// joinsLegs reports whether a full wiring has a metal frog that is one with its legs.
func joinsLegs(rec *record) bool {
	isolated := rec.word("isolated")
	return rec.word("frog") == frogMetal && (isolated == isolatedToe || isolated == isolatedNone)
}

// Words of a wiring in full, by value.
const (
	frogPlastic, frogMetal                                = 1, 2
	isolatedBoth, isolatedToe, isolatedHeel, isolatedNone = 1, 2, 3, 4
	fromNothing                                           = 1
)

var wiringSection = newSection(section{
	name: "wiring", noun: "a turnout's wiring",
	doc: "a turnout's wiring in full, where no preset fits",
	keys: []key{
		{name: "blades", kind: wordKind, words: []string{"", "stock", "each-other", "neither"}, required: true, doc: "what the blades are bonded to"},
		{name: "closures", kind: wordKind, words: []string{"", "blade", "frog", "both"}, required: true, doc: "what the closure rails are joined to"},
		{name: "frog", kind: wordKind, words: []string{"", "plastic", "metal"}, required: true, doc: "what the frog is made of"},
		{name: "isolated", kind: wordKind, words: []string{"", "both", "toe", "heel", "none"}, wrong: "side of a frog", doc: "where a metal frog is cut: toe, from the closures; heel, from the legs; required for a metal frog"},
		{name: "frog-from", kind: wordKind, words: []string{"", "nothing", "contacts", "device", "blades"}, doc: "what feeds a metal frog; required for one"},
		{name: "jumpers", kind: yesNoKind, doc: "whether wires carry the closure rails past the frog"},
	},
})

// rawGets is one contact of a frog: in a setting, what the frog gets.
type rawGets struct {
	frog, setting text
	gets          layout.FrogGets
	text          text
}

// getsKind is the contact map of a turnout.
var getsKind = kind{value: "{leg: what the frog gets}", noun: "contacts such as {straight: stock-right, curved: open}", shape: fixed(getsShape(layout.FrogGetsWords)), partial: true, decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
	return r.gets(k, n, text{}, layout.FrogGetsWords)
}}

// frogsGetKind is the contact map of a piece with several frogs.
func frogsGetKind(words []string) kind {
	return kind{value: "{frog: {setting: what it gets}}", noun: "contacts such as {left-frog: {left: stock-right}}", shape: fixed(mapOf(anyName, getsShape(words))), partial: true, decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
		frogs, ok := pairs(r, k, n, func(r *reader, k *key, n *tree.Node) (*tree.Node, bool) { return n, true })
		var all []rawGets
		for _, f := range frogs {
			gets, fine := r.gets(k, f.value, f.key, words)
			ok = ok && fine
			all = append(all, gets...)
		}
		return all, ok
	}}
}

// gets reads the contacts of one frog. The words stand by value of layout.FrogGets;
// where a crossing's words differ from a turnout's they mean the same rails.
func (r *reader) gets(k *key, n *tree.Node, frog text, words []string) ([]rawGets, bool) {
	settings, ok := pairs(r, k, n, readText)
	asWords := key{name: k.name, words: words, wrong: "contact"}
	all := make([]rawGets, 0, len(settings))
	for _, s := range settings {
		w, fine := r.word(s.value, &asWords)
		ok = ok && fine
		if fine {
			all = append(all, rawGets{frog: frog, setting: s.key, gets: layout.FrogGets(w), text: s.value})
		}
	}
	return all, ok
}

// crossingGetsWords are what a frog of a crossing or slip may get: the left or right
// rail of the route, which layout.FrogGets calls the stock rails.
var crossingGetsWords = []string{"", "left", "right", "open", "", "", "unknown"}

// threeWayGetsWords leave out the legs of a bus, for which a three-way has no tap.
var threeWayGetsWords = []string{"", "stock-left", "stock-right", "open", "", "", "unknown"}
