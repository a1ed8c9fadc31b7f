package reader

import "gapwise/netlist/layout"

// Keys that every entry has.
var (
	labelKey = key{name: "label", kind: textKind, own: true, doc: "your own words; they go into reports as they are"}
	likeKey  = key{name: "like", kind: referenceKind, own: true, doc: "copy the keys of another entry of the same kind; own keys win"}
	nameKey  = key{name: "name", kind: nameKind, own: true, doc: "a name to point at this entry by"}
)

// useWords are layout.UseWords.
var useKey = key{name: "use", kind: wordKind, words: layout.UseWords, doc: "what it is for"}

var trackSection = newSection(section{
	name: "tracks", noun: "a track", thing: pieceThing, defaults: "track",
	doc: "lengths of track, each a ruler from its start to its end over whatever stands on it",
	keys: []key{
		{name: "from", kind: endKind, own: true, doc: "the end this track starts at; none when it is closed"},
		{name: "to", kind: endKind, own: true, doc: "the end it runs to; `end` is bare rail, `bumper` may conduct"},
		{name: "closed", kind: yesNoKind, def: "no", doc: "a ring, whose end is joined to its own start"},
		{name: "length", kind: lengthKind, required: true, doc: "along the ruler, bodies on it included"},
		{name: "rail", kind: railKind, doc: "rail section and metal"},
		useKey,
		{name: "straight", kind: yesNoKind, doc: "whether all of it is straight; expansion is counted over straights"},
		{name: "hidden", kind: yesNoKind, def: "no", doc: "out of reach or sight"},
		{name: "lift-out", kind: yesNoKind, def: "no", doc: "a section that is taken out; its end joints are unknown unless a gap is listed there"},
		{name: "cab", kind: yesNoKind, def: "no", doc: "run with a plain DC cab at times"},
		labelKey, likeKey,
	},
})

// turnoutPresets are layout.PresetWords as far as turnouts have them.
var turnoutPresets = layout.PresetWords[:layout.PowerRoutingGapped+1]

// throwWords are words of layout.Throw; an unknown one is unsaid.
var throwKey = key{name: "throw", kind: wordKind, words: []string{"", "break-first", "make-first", "unknown"}, doc: "whether contacts let go of one rail before they touch the other"}

// seeWiring is where the words of `wiring` are told apart.
const seeWiring = "see How turnouts are wired in README"

var turnoutSection = newSection(section{
	name: "turnouts", noun: "a turnout", thing: pieceThing, defaults: "turnout",
	doc: "turnouts with two legs",
	keys: []key{
		{name: "hand", kind: wordKind, words: layout.HandWords, required: true, doc: "which way it curves"},
		{name: "number", kind: numberKind, doc: "the frog number"},
		{name: "length", kind: lengthKind, doc: "over all; what it takes of the ruler it stands on"},
		{name: "wiring", kind: wiringKind(true), words: turnoutPresets, see: seeWiring, required: true, doc: "how blades, closures and frog are fed: a preset, or in full"},
		{name: "frog-length", kind: lengthKind, doc: "of the frog, or of the dead spot at it"},
		{name: "blade-contact", kind: resistanceKind, doc: "of a blade that touches its stock rail"},
		throwKey,
		{name: "frog-from", kind: tapKind, doc: "the bus whose legs the frog's contacts switch"},
		{name: "frog-gets", kind: getsKind, doc: "what the frog's contacts give it with each leg set"},
		{name: "flips-at", kind: ratedCurrentKind, doc: "current at which a frog's own device flips it"},
		{name: "frog-resistance", kind: resistanceKind, doc: "of the frog's own device"},
		{name: "jumpers", kind: yesNoKind, doc: "whether wires carry the closure rails past the frog; wins over `wiring`'s"},
		{name: "clear-at", kind: clearKind, doc: "where a vehicle on that leg clears the other, from the leg's end of the turnout"},
		{name: "throws-with", kind: referenceKind, doc: "a turnout that is always thrown together with this one"},
		{name: "at", kind: placesKind, own: true, doc: "where on a track it stands: the end met first"},
		{name: "via", kind: viaKind, own: true, doc: "which way the track goes through it"},
		labelKey, likeKey,
	},
})

var threeWaySection = newSection(section{
	name: "three-ways", noun: "a three-way", thing: pieceThing,
	doc: "turnouts with three legs",
	keys: []key{
		{name: "construction", kind: wordKind, words: []string{"", "lapped", "symmetric"}, required: true, doc: "two turnouts one in the other, or both frogs pairs side by side"},
		{name: "first", kind: wordKind, words: []string{"", "left", "right"}, doc: "which leg a lapped one parts first"},
		{name: "length", kind: lengthKind, doc: "over all"},
		{name: "wiring", kind: wiringKind(false), words: []string{"", "dead-frog", "unfed-frog", "switched-frog", "flipped-frog"}, see: seeWiring, required: true, doc: "how the frogs are fed"},
		{name: "frog-length", kind: lengthKind, doc: "of the longest frog, or of the dead spot at it"},
		throwKey,
		{name: "frog-gets", kind: frogsGetKind(threeWayGetsWords), doc: "what each frog's contacts give it, by the settings of the throws it follows"},
		{name: "jumpers", kind: yesNoKind, doc: "whether wires carry each rail across its own frogs"},
		labelKey, likeKey,
	},
})

var crossingSection = newSection(section{
	name: "crossings", noun: "a crossing", thing: pieceThing,
	doc: "two tracks that cross: a-c and d-b, lettered clockwise",
	keys: []key{
		{name: "angle", kind: crossingAngleKind, doc: "between the routes"},
		{name: "length", kind: lengthKind, doc: "of each route"},
		{name: "wiring", kind: wiringKind(false), words: []string{"", "dead-frogs", "powered-frogs", "joined"}, see: seeWiring, required: true, doc: "how the frogs are fed"},
		{name: "frog-length", kind: lengthKind, doc: "of the longest frog, or of the dead spot at it"},
		throwKey,
		{name: "frog-gets", kind: frogsGetKind(crossingGetsWords), doc: "what each frog (west, east, north, south) gets, by route"},
		{name: "jumpers", kind: yesNoKind, def: "yes", doc: "the wires through it"},
		{name: "at", kind: placesKind, own: true, doc: "where it stands: one or two places, each the end met first"},
		{name: "via", kind: viaKind, own: true, doc: "which way each track goes through it"},
		labelKey, likeKey,
	},
})

var slipSection = newSection(section{
	name: "slips", noun: "a slip", thing: pieceThing,
	doc: "crossings with blades: a-c and d-b as in a crossing, and a-b, d-c or both",
	keys: []key{
		{name: "slip", kind: wordKind, words: []string{"", "a-b", "d-c", "both"}, required: true, wrong: "slip", doc: "which curved routes it has"},
		{name: "angle", kind: crossingAngleKind, doc: "between the routes"},
		{name: "length", kind: lengthKind, doc: "of each route"},
		{name: "wiring", kind: wiringKind(false), words: []string{"", "dead-frogs", "switched-frogs", "joined"}, see: seeWiring, required: true, doc: "how the frogs are fed"},
		{name: "frog-length", kind: lengthKind, doc: "of the longest frog, or of the dead spot at it"},
		throwKey,
		{name: "frog-gets", kind: frogsGetKind(crossingGetsWords), doc: "what each frog (west, east, north, south) gets, by route; a single slip's west and east need it"},
		{name: "jumpers", kind: yesNoKind, def: "yes", doc: "the wires through it"},
		{name: "at", kind: placesKind, own: true, doc: "where it stands: one or two places, each the end met first"},
		{name: "via", kind: viaKind, own: true, doc: "which way each track goes through it"},
		labelKey, likeKey,
	},
})

// railWords are left and right, by layout.Rail plus one.
var railWords = []string{"", "left", "right"}

var turntableSection = newSection(section{
	name: "turntables", noun: "a turntable", thing: pieceThing,
	doc: "bridges that turn",
	keys: []key{
		{name: "bridge", kind: lengthKind, required: true, doc: "its length"},
		{name: "tracks", kind: anglesKind, required: true, doc: "the tracks round the pit, by name and angle"},
		{name: "feed", kind: wordKind, words: []string{"", "split-ring", "plain"}, required: true, doc: "whether the bridge rails change legs on the way round"},
		{name: "from", kind: sourceKind, required: true, own: true, doc: "what feeds the bridge"},
		{name: "A", kind: wordKind, words: railWords, required: true, wrong: "rail", ask: "which rail has leg A? `A: left` or `A: right`", doc: "the bridge rail of leg A, with its head at 0 deg"},
		{name: "split-at", kind: angleKind, doc: "where a split ring changes legs; half a turn on it changes back"},
		{name: "dead-arc", kind: angleKind, doc: "over which the bridge has no feed"},
		labelKey, likeKey,
	},
})

var transferTableSection = newSection(section{
	name: "transfer-tables", noun: "a transfer table", thing: pieceThing,
	doc: "bridges that move sideways, walked from a to b",
	keys: []key{
		{name: "bridge", kind: lengthKind, required: true, doc: "its length"},
		{name: "a", kind: offsetsKind, required: true, doc: "the tracks on the a side, by name and offset"},
		{name: "b", kind: offsetsKind, required: true, doc: "the tracks on the b side"},
		{name: "from", kind: sourceKind, required: true, own: true, doc: "what feeds the bridge"},
		{name: "A", kind: wordKind, words: railWords, required: true, wrong: "rail", ask: "which rail has leg A? `A: left` or `A: right`", doc: "the bridge rail of leg A"},
		labelKey, likeKey,
	},
})

var neverTogetherSection = newSection(section{
	name: "never-together", noun: "a never-together entry", thing: exclusionThing,
	doc: "settings that cannot hold at once: {piece: setting, ...}",
	keys: []key{
		{name: "because", kind: textKind, own: true, doc: "what rules it out"},
		nameKey, labelKey,
	},
})
