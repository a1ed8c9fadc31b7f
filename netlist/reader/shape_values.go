package reader

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"gapwise/netlist/quantity"
)

// Parts of patterns. A reference is a name with the prefixes of modules.
const (
	namePattern      = `[A-Za-z0-9][A-Za-z0-9_-]*`
	referencePattern = namePattern + `(?:/` + namePattern + `)*`
	atPattern        = ` *@ *`

	anyName = "^" + referencePattern + "$" // a name that may be found later not to be one
)

// asTyped is what an editor may take a name or a text for: 14, yes.
var asTyped = []string{"number", "boolean"}

var (
	textShape = Shape{Form: OneText, Name: "text", Says: "a text", Untyped: asTyped}

	nameShape = Shape{
		Form: OneText, Name: "name", Says: "a name: letters, digits, - and _, and no word of the language",
		Pattern: "^" + newNamePattern + "$", Except: wordsOfLanguage(), Untyped: asTyped,
	}

	newNamePattern = `[A-Za-z0-9][A-Za-z0-9_-]{0,` + strconv.Itoa(maxName-1) + `}`

	referenceShape = Shape{Form: OneText, Name: "reference", Says: "the name of another entry", Pattern: anyName, Untyped: asTyped}

	// wherePattern is a measure along a track or bus; a range in it is an uncertain one.
	wherePattern = group("start|end|" + quantity.KindPosition.Pattern() + "(?: +from +end)?")

	// boundsPattern is the two ends of a stretch or row, which may be uncertain themselves;
	// spanPattern may be one place too. A row knows no `gap`, which is left to the reader.
	boundsPattern = endsPattern("{1,2}")
	spanPattern   = endsPattern("{0,2}")

	kindPattern = group(group(strings.Join(append(slices.Concat(thingWords[1:], pieceWords), "slip"), "|"))+" +") + "?"

	placeShape = Shape{
		Form: OneText, Name: "place", Says: "a place such as M1 @ 4 ft or T3 points", Untyped: asTyped,
		Pattern: whole(kindPattern + referencePattern + group(atPattern+wherePattern+"| +"+namePattern) + "?"),
	}

	tapPattern = group("bus +") + "?" + referencePattern + atPattern

	tapShape = Shape{
		Form: OneText, Name: "tap", Says: "a tap such as ring @ 20 ft, or unknown",
		Pattern: whole("unknown|" + tapPattern + wherePattern),
	}

	feederTapShape = Shape{
		Form: OneText, Name: "feeder-tap", Says: "a tap such as ring @ 20 ft, or unknown; in a row also climb @ 35 .. 3 ft",
		Pattern: whole("unknown|" + tapPattern + spanPattern),
	}

	sourceShape = Shape{
		Form: OneText, Name: "source", Says: "a source such as breaker yard, or ring @ 20 ft, or unknown", Untyped: asTyped,
		Pattern: whole(group(group(strings.Join(sourceWords, "|"))+" +") + "?" + referencePattern + "|" + tapPattern + wherePattern),
	}

	endShape = Shape{
		Form: OneText, Name: "end", Says: "an end such as T1 points, or end, or bumper", Untyped: asTyped,
		Pattern: whole(kindPattern + referencePattern + group(" +"+namePattern) + "?"),
	}

	// onPieceShape is where on a piece, which is named beside it. A bare number may be a
	// name: of a turntable's track.
	onPieceShape = Shape{
		Form: OneText, Name: "place-on-piece", Says: "a measure such as 4 ft, start, end, or the name of an end",
		Pattern: onPiecePattern, Untyped: []string{"integer"},
	}

	onPiecePattern = whole(namePattern + "|" + spanPattern)

	viaShape = Shape{
		Form: OneText, Name: "way", Says: "a way such as points to straight",
		Pattern: whole(namePattern + " +to +" + namePattern),
	}

	stretchShape = Shape{
		Form: OneText, Name: "stretch", Says: "a stretch such as M1 @ 4 ft .. 9 ft, T3, X1 a-c, or block B1", Untyped: asTyped,
		Pattern: whole(group("block +") + "?" + referencePattern + "|" + referencePattern + " +" + namePattern + "-[A-Za-z0-9_-]*" + "|" + referencePattern + atPattern + boundsPattern),
	}

	laidShape = Shape{
		Form: OneText, Name: "laid", Says: "twisted, a spacing such as 2 in apart, or unknown",
		Pattern: "^(?:twisted|unknown| *(?:unknown|" + quantity.KindLength.Pattern() + ") *apart)$",
	}

	railShape = Shape{
		Form: OneText, Name: "rail", Says: "a rail such as code 83 nickel silver, or unknown",
		Pattern: "^(?:unknown| *code +[1-9][0-9]*(?: +" + anyCase(metals) + ")? *)$",
	}

	positionShape = eitherOf(sourceShape, words("nothing"), entryOf("position"))

	bondRailsShape = eitherOf(oneOrMore(words("both")), Shape{Form: Listing, Of: []Shape{words(railWords...)}, Count: 2})

	underShape = eitherOf(oneOrMore(stretchShape), mapOf(onPiecePattern, oneOrMore(stretchShape)))

	pairShape  = Shape{Form: Listing, Of: []Shape{endShape}, Count: 2}
	joinsShape = eitherOf(pairShape, Shape{Form: Listing, Of: []Shape{pairShape}})

	limitShape = func() Shape {
		var all []Shape
		for _, k := range limitKinds {
			all = append(all, quantityShape(k.kind))
		}
		return eitherOf(all...)
	}()
)

// endsPattern is a place behind some places with dots.
func endsPattern(times string) string {
	const words, fromEnd = "start|end|gap|", "(?: +from +end)?"
	low, value := quantity.KindPosition.SidePatterns()
	return group(group(words+low+fromEnd)+` *\.\. *`) + times + group(words+value+fromEnd)
}

func group(pattern string) string { return "(?:" + pattern + ")" }

// anyCase fits any of the texts in capitals or small letters.
func anyCase(texts []string) string {
	var b strings.Builder
	for _, r := range strings.Join(texts, "|") {
		switch upper := strings.ToUpper(string(r)); {
		case r == ' ':
			b.WriteString(" +")
		case upper != string(r):
			b.WriteString("[" + upper + string(r) + "]")
		default:
			b.WriteRune(r)
		}
	}
	return group(b.String())
}

// wordsOfLanguage are the words that no entry may be called by.
func wordsOfLanguage() []string { return slices.Sorted(maps.Keys(notNames)) }

// wholeShape is a whole number in plain digits.
func wholeShape(low, high int) Shape {
	return Shape{
		Form: OneText, Says: "a whole number, " + strconv.Itoa(low) + " to " + strconv.Itoa(high),
		Pattern: whole("0|[1-9][0-9]*"), Untyped: []string{"integer"}, Bounded: true, Low: float64(low), High: float64(high),
	}
}

// getsShape is what a frog gets in each setting.
func getsShape(ws []string) Shape { return mapOf(anyName, words(ws...)) }

// wiringShape is one of the key's presets, or wiring in full.
func wiringShape(full bool) func(*key) Shape {
	return func(k *key) Shape {
		if !full {
			return wordShape(k)
		}
		return eitherOf(wordShape(k), entryOf("wiring"))
	}
}

// twoKeys is a map of two fixed keys to the owner's words.
func twoKeys(a, b string) Shape {
	return Shape{Form: Mapping, Keys: []Key{{Name: a, Shape: textShape}, {Name: b, Shape: textShape}}}
}
