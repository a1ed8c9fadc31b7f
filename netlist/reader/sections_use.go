package reader

var blockSection = newSection(section{
	name: "blocks", noun: "a block", thing: blockThing,
	doc: "detection blocks as meant",
	keys: []key{
		{name: "covers", kind: stretchesKind, doc: "the stretches it is made of"},
		useKey,
		{name: "detector", kind: referenceKind, doc: "the detector that watches it"},
		{name: "trains", kind: referencesKind, doc: "the only trains that come here"},
		labelKey, likeKey,
	},
})

var districtSection = newSection(section{
	name: "districts", noun: "a district", thing: districtThing,
	doc: "power districts as meant",
	keys: []key{
		fromKey,
		{name: "blocks", kind: referencesKind, required: true, doc: "the blocks it feeds"},
		labelKey, likeKey,
	},
})

var trainSection = newSection(section{
	name: "trains", noun: "a train", thing: trainThing,
	doc: "kinds of trains",
	keys: []key{
		{name: "length", kind: upToLengthKind, doc: "over all; a range where it varies"},
		{name: "current", kind: currentKind, doc: "what the whole train draws"},
		inrushKey,
		{name: "at-once", kind: wholeKind(1, 1000), def: "1", doc: "how many of them run at once"},
		{name: "wheels", kind: wordKind, words: []string{"", "metal", "plastic", "unknown"}, doc: "what its wheels are made of"},
		{name: "resistor-cars", kind: wholeKind(0, 1000), doc: "how many cars have a resistor on an axle"},
		{name: "resistor", kind: resistanceKind, doc: "of each such axle"},
		labelKey, likeKey,
	},
})

var operationsSection = newSection(section{
	name: "operations", noun: "operations",
	doc: "how the layout is run",
	keys: []key{
		{name: "at-once", kind: wholeKind(1, 1000), doc: "how many trains move at once"},
		{name: "pickup", kind: lengthKind, doc: "over which the shortest engine picks up current"},
		{name: "wheels", kind: wordKind, words: []string{"", "metal", "plastic", "unknown"}, doc: "what wheels are made of where a train does not say"},
		labelKey,
	},
})

var stockSection = newSection(section{
	name: "stock", noun: "the stock of wire",
	doc: "sizes at hand, to choose from",
	keys: []key{
		{name: "bus", kind: wiresKind, doc: "for buses"},
		{name: "feeder", kind: wiresKind, doc: "for feeders"},
	},
})

var acceptSection = newSection(section{
	name: "accept", noun: "an acceptance", thing: acceptThing,
	doc: "findings that are meant to be so, each with its reason",
	keys: []key{
		{name: "finding", kind: referenceKind.shaped(fixed(Shape{Form: OneKnown, Known: FindingNames})), required: true, doc: "the rule's name"},
		{name: "at", kind: textKind, required: true, own: true, doc: "what it is found at: a name, or a kind and a name or place"},
		{name: "because", kind: textKind, required: true, doc: "why it is fine"},
		nameKey, labelKey,
	},
})
