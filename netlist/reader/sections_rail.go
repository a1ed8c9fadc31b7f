package reader

import "gapwise/netlist/layout"

// gapHint tells how to say once what every gap lacks.
const gapHint = "once for all gaps of the file: `defaults: {gap: {rails: both, kind: insulated}}`"

var gapSection = newSection(section{
	name: "gaps", noun: "a gap", thing: gapThing, defaults: "gap",
	doc: "cuts in the rails, by piece: places, or entries that say more",
	keys: []key{
		{name: "at", kind: textKind.shaped(fixed(onPieceShape)), required: true, own: true, doc: "where on the piece: a measure, start, end, or an end's name; a stretch beside `every`"},
		{name: "rails", kind: wordKind, words: layout.RailSetWords, required: true, lent: true, ask: "which rails? left, right or both", hint: gapHint, doc: "left, right or both; A or B, the rail of that leg; inner, outer at a turnout's leg"},
		{name: "bridged-by", kind: referenceKind, doc: "an in-line part wired across the gap"},
		{name: "kind", kind: wordKind, words: []string{"", "insulated", "expansion"}, required: true, lent: true, ask: "insulated or expansion?", hint: gapHint, doc: "whether it is there to part the rails or to let them move"},
		{name: "joint", kind: wordKind, words: []string{"", "cut", "sliding", "bonded"}, doc: "how an expansion gap is made; required for one"},
		{name: "width", kind: lengthKind, doc: "of the cut"},
		{name: "fill", kind: textKind, doc: "what stands in the cut, or none"},
		{name: "every", kind: lengthKind, doc: "makes a row: one gap each so far along the stretch"},
		nameKey, labelKey,
	},
})

var railSetWords = []string{"", "both", "left", "right"}

var jointSection = newSection(section{
	name: "joints", noun: "a joint", thing: jointThing, defaults: "joint",
	doc: "rail joints inside a track or at its ends, by piece",
	keys: []key{
		{name: "at", kind: textKind.shaped(fixed(onPieceShape)), required: true, own: true, doc: "where on the piece; a stretch beside `every`"},
		{name: "rails", kind: wordKind, words: railSetWords, def: "both", doc: "which rails"},
		{name: "kind", kind: wordKind, words: []string{"", "unknown", "soldered", "plain"}, required: true, ask: "soldered, plain or unknown?", doc: "how it is made; plain is a slide-on joiner alone"},
		{name: "every", kind: lengthKind, doc: "makes a row; under `defaults`, how far apart the joints of every track are"},
		nameKey, labelKey,
	},
})

var commonRailSection = newSection(section{
	name: "common-rail", noun: "a common rail", thing: commonRailThing,
	doc: "one rail that is common on purpose, so that gaps in the other alone are meant; it adds no metal",
	keys: []key{
		{name: "rail", kind: wordKind, words: railWords, required: true, doc: "which rail"},
		{name: "of", kind: stretchesKind, required: true, doc: "where"},
		{name: "because", kind: textKind, doc: "why it is so"},
		nameKey, labelKey,
	},
})

var bondSection = newSection(section{
	name: "bonds", noun: "a bond", thing: bondThing,
	doc: "wires from rail to rail",
	keys: []key{
		{name: "from", kind: placeKind, required: true, own: true, doc: "where it starts"},
		{name: "to", kind: placeKind, required: true, own: true, doc: "where it ends"},
		{name: "rails", kind: bondRailsKind, required: true, doc: "both (left to left, right to right, each by its own piece's walk), or [rail at from, rail at to]"},
		{name: "wire", kind: wireKind, doc: "its size"},
		{name: "length", kind: lengthKind, doc: "of each wire"},
		nameKey, labelKey,
	},
})

var feederSection = newSection(section{
	name: "feeders", noun: "a feeder", thing: feederThing, defaults: "feeder",
	doc: "wires from a bus to the rails, by piece and place: a tap, or a map; A, rails, wire, length and label beside the places hold for all of them",
	keys: []key{
		{name: "from", kind: feederTapKind, own: true, doc: "the tap on a bus; in a row it steps as the row does, or is spread from .. to"},
		{name: "A-from", kind: feederTapKind, own: true, doc: "the tap of leg A, where it differs"},
		{name: "B-from", kind: feederTapKind, own: true, doc: "the tap of leg B, where it differs"},
		{name: "A", kind: wordKind, words: railWords, wrong: "rail", required: true, ask: "which rail has leg A? `A: left` or `A: right`", doc: "the rail of leg A"},
		{name: "rails", kind: wordKind, words: railSetWords, def: "both", doc: "which rails are fed"},
		{name: "wire", kind: wireKind, doc: "its size"},
		{name: "length", kind: lengthKind, doc: "one way, bus to rail"},
		{name: "every", kind: lengthKind, doc: "makes a row: one feeder each so far along the stretch"},
		{name: "broken", kind: yesNoKind, def: "no", doc: "a feeder that has come off"},
		nameKey, labelKey, likeKey,
	},
})

// feederGroupWords are the keys that may stand beside the places of a feeder group.
var feederGroupWords = []string{"A", "rails", "wire", "length", "label"}
