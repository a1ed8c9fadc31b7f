package reader

import "gapwise/netlist/layout"

var supplySection = newSection(section{
	name: "supplies", noun: "a supply", thing: supplyThing,
	doc: "low-voltage power supplies; mains work is for a licensed electrician",
	keys: []key{
		{name: "volts", kind: outputVoltageKind, required: true, doc: "its output"},
		{name: "rating", kind: ratedCurrentKind, doc: "the current it is made for"},
		{name: "tolerance", kind: percentKind, doc: "of its voltage"},
		{name: "listed", kind: yesNoKind, doc: "whether it bears a test mark for a safe low-voltage output"},
		labelKey, likeKey,
	},
})

var boosterSection = newSection(section{
	name: "boosters", noun: "a booster", thing: boosterThing,
	doc: "what drives legs A and B",
	keys: []key{
		{name: "supply", kind: referenceKind, required: true, doc: "the supply behind it"},
		{name: "volts", kind: outputVoltageKind, required: true, doc: "on the rails"},
		{name: "inside", kind: resistanceKind, doc: "its own resistance"},
		{name: "rating", kind: ratedCurrentKind, doc: "the current it is made for"},
		{name: "trips-at", kind: ratedCurrentKind, doc: "the current it shuts off at"},
		{name: "trip-time", kind: timeKind, doc: "how long it waits before"},
		{name: "retry", kind: timeKind, doc: "how long it stays off"},
		{name: "signal", kind: textKind, doc: "name of the command source it repeats"},
		{name: "signal-wired", kind: wordKind, words: []string{"", "straight", "crossed", "unknown"}, doc: "which way round its signal wires are"},
		{name: "isolated", kind: yesNoKind, doc: "whether its input is isolated from its output"},
		{name: "common", kind: wordKind, words: []string{"", "required", "forbidden", "unknown"}, doc: "whether its maker asks for a common wire between boosters"},
		{name: "switching", kind: wordKind, words: []string{"", "automatic"}, doc: "automatic: a booster that reverses itself"},
		useKey, labelKey, likeKey,
	},
})

var commonSection = newSection(section{
	name: "commons", noun: "a common", thing: commonThing,
	doc: "wires that join the commons of boosters",
	keys: []key{
		{name: "joins", kind: referencesKind, required: true, doc: "which boosters"},
		{name: "wire", kind: wireKind, doc: "its size"},
		{name: "length", kind: lengthKind, doc: "of the wire"},
		nameKey, labelKey,
	},
})

var cabSection = newSection(section{
	name: "cabs", noun: "a cab", thing: cabThing,
	doc: "plain DC throttles",
	keys: []key{
		{name: "volts", kind: voltageKind, required: true, doc: "at the rails, lowest to highest"},
		{name: "rating", kind: ratedCurrentKind, doc: "the current it is made for"},
		labelKey, likeKey,
	},
})

var (
	opensKey    = key{name: "opens", kind: wordKind, words: layout.OpensWords, wrong: "leg", doc: "which legs it opens when it trips"}
	fromKey     = key{name: "from", kind: sourceKind, required: true, own: true, doc: "what it hangs from"}
	tripsKey    = key{name: "trips-at", kind: ratedCurrentKind, doc: "the current it trips at"}
	tripTimeKey = key{name: "trip-time", kind: timeKind, doc: "how long it waits before"}
	insideKey   = key{name: "resistance", kind: resistanceKind, doc: "in each leg it works in"}
	inrushKey   = key{name: "inrush", kind: currentKind, doc: "what it draws for the first moments after power returns"}
)

var breakerSection = newSection(section{
	name: "breakers", noun: "a breaker", thing: breakerThing,
	doc:  "electronic circuit breakers",
	keys: []key{fromKey, tripsKey, tripTimeKey, insideKey, opensKey, labelKey, likeKey},
})

var reverserSection = newSection(section{
	name: "reversers", noun: "a reverser", thing: reverserThing,
	doc: "what swaps its two legs, by itself or by hand",
	keys: []key{
		fromKey,
		{name: "switching", kind: wordKind, words: []string{"", "automatic", "by-hand", "unknown"}, required: true, doc: "how it changes over"},
		{name: "serves", kind: wordKind, words: []string{"", "one-at-a-time"}, doc: "one-at-a-time: of its sections at most one is crossed at once"},
		tripsKey, tripTimeKey, insideKey, opensKey, labelKey, likeKey,
	},
})

// legWords are the legs, by layout.Leg plus one.
var legWords = []string{"", "A", "B"}

var detectorSection = newSection(section{
	name: "detectors", noun: "a detector", thing: detectorThing,
	doc: "what tells whether a block is occupied",
	keys: []key{
		fromKey,
		{name: "leg", kind: wordKind, words: legWords, required: true, doc: "the leg it watches"},
		{name: "senses", kind: textKind, doc: "what it senses, such as current"},
		{name: "drop", kind: voltageKind, doc: "what it takes from the rails"},
		{name: "sees", kind: resistanceKind, doc: "the highest resistance it still sees"},
		labelKey, likeKey,
	},
})

var inLineSection = newSection(section{
	name: "in-line", noun: "an in-line part", thing: inLineThing,
	doc: "lamps, fuses, resettable fuses and switches in a leg",
	keys: []key{
		fromKey,
		{name: "kind", kind: wordKind, words: layout.InLineKindWords, required: true, doc: "what it is"},
		{name: "leg", kind: wordKind, words: []string{"", "A", "B", "both"}, required: true, doc: "the leg it is in"},
		{name: "rating", kind: ratedCurrentKind, doc: "the current it is made for"},
		{name: "holds", kind: ratedCurrentKind, doc: "the current it carries for ever"},
		tripsKey,
		{name: "limits-to", kind: ratedCurrentKind, doc: "the current it lets through into a short"},
		insideKey, labelKey, likeKey,
	},
})

var changeoverSection = newSection(section{
	name: "changeovers", noun: "a changeover", thing: changeoverThing,
	doc: "switches that connect what hangs from them to one of several sources",
	keys: []key{
		{name: "positions", kind: positionsKind, required: true, doc: "each position by name: a source, nothing, or {from, legs: crossed}"},
		opensKey, throwKey,
		{name: "throws-with", kind: referenceKind, doc: "a turnout whose throw moves it"},
		labelKey, likeKey,
	},
})

var positionSection = newSection(section{
	name: "position", noun: "a position",
	doc: "one position of a changeover",
	keys: []key{
		{name: "from", kind: sourceKind, required: true, own: true, doc: "what it connects to"},
		{name: "legs", kind: wordKind, words: []string{"", "crossed"}, doc: "crossed: leg A goes to B"},
	},
})

var plugSection = newSection(section{
	name: "plugs", noun: "a plug", thing: plugThing,
	doc: "pluggable connections, as between modules",
	keys: []key{
		fromKey,
		{name: "legs", kind: wordKind, words: []string{"", "straight", "crossed", "either", "unknown"}, required: true, doc: "how the legs go through"},
		insideKey,
		{name: "rating", kind: ratedCurrentKind, doc: "the current it is made for"},
		labelKey, likeKey,
	},
})

var busSection = newSection(section{
	name: "buses", noun: "a bus", thing: busThing, defaults: "bus",
	doc: "runs of wire, measured from where they hang",
	keys: []key{
		fromKey,
		{name: "legs", kind: wordKind, words: []string{"", "both", "A", "B"}, def: "both", doc: "the legs it carries"},
		{name: "wire", kind: wireKind, required: true, doc: "its size"},
		{name: "length", kind: lengthKind, required: true, doc: "one way"},
		{name: "laid", kind: laidKind, doc: "how its wires lie: twisted, or so far apart"},
		{name: "beside", kind: spacingsKind, doc: "buses that a one-leg wire lies beside, and how far off"},
		{name: "to", kind: tapKind, own: true, def: "open", doc: "the tap it comes back to, if it does"},
		{name: "under", kind: underKind, doc: "what it runs below, in order, or from which place to which"},
		{name: "use", kind: wordKind, words: []string{"", "track", "accessories", "lighting"}, def: "track", doc: "what it feeds"},
		labelKey, likeKey,
	},
})

var terminatorSection = newSection(section{
	name: "terminators", noun: "a terminator", thing: terminatorThing,
	doc: "resistors, with or without a capacitor, across the legs",
	keys: []key{
		{name: "at", kind: placeKind, required: true, own: true, doc: "a place on rails or a tap"},
		{name: "resistance", kind: resistanceKind, doc: "of the resistor"},
		{name: "capacitance", kind: capacitanceKind, doc: "of the capacitor in series"},
		nameKey, labelKey,
	},
})

var loadSection = newSection(section{
	name: "loads", noun: "a load", thing: loadThing,
	doc: "what draws current at one place, or conducts there, as a bumper may",
	keys: []key{
		{name: "at", kind: placeKind, required: true, own: true, doc: "a place on rails or a tap"},
		{name: "resistance", kind: resistanceKind, doc: "across the legs"},
		{name: "capacitance", kind: capacitanceKind, doc: "across the legs"},
		{name: "draws", kind: currentKind, doc: "its current"},
		inrushKey,
		{name: "kind", kind: textKind, doc: "what it is, such as lamp, decoder or bumper"},
		nameKey, labelKey,
	},
})
