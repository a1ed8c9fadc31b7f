package reader

import (
	"slices"
	"strings"

	"gapwise/netlist/quantity"
)

// Form tells how a value is laid out.
type Form uint8

// The forms. Beside each stand the fields of Shape that count.
const (
	Unshaped  Form = iota // nothing is known
	OneWord               // Words
	OneText               // Pattern, Except, Untyped, Bounded
	OneKnown              // Known: one of the names that the rules know
	Entry                 // Section: a map of that section's keys
	Mapping               // Keys; Names, Except and Of[0] for further ones; or Known for its keys
	Listing               // Of[0], Count: a list in brackets
	OneOrMore             // Of[0], or a list of it
	EitherOf              // Of: any of these
)

// Known names a list that is known only further up; see Options.
type Known uint8

const (
	FindingNames Known = iota // that may be accepted
	PracticeNames
	LimitNames
)

// Shape is what one value of a layout file may look like, as far as that can be seen
// without the rest of the file: not whether a name exists or a measure fits.
type Shape struct {
	Form    Form
	Name    string   // of a OneText that many keys share; shapes of one name are alike
	Says    string   // what it takes, in a few words
	Words   []string // texts it may be
	Pattern string   // regular expression for the whole text; "" for any text
	Except  []string // what fits Pattern, or Names, and is refused all the same
	Untyped []string // what a YAML editor may take it for: integer, number, boolean
	Bounded bool     // numbers so taken are from Low to High
	Low     float64
	High    float64
	Known   Known
	Section string
	Keys    []Key
	Names   string // regular expression for further keys of a Mapping; "" for none
	Of      []Shape
	Count   int // items a Listing has; 0 for any number
}

// fixed is the shape of a kind that does not depend on its key.
func fixed(s Shape) func(*key) Shape { return func(*key) Shape { return s } }

// shaped is k with another shape: for keys whose values are taken apart later, or by hand.
func (k kind) shaped(shape func(*key) Shape) kind {
	k.shape = shape
	return k
}

// wordShape is one of the key's words.
func wordShape(k *key) Shape { return words(k.words...) }

func words(ws ...string) Shape {
	return Shape{Form: OneWord, Words: slices.DeleteFunc(slices.Clone(ws), func(w string) bool { return w == "" })}
}

func oneOrMore(s Shape) Shape { return Shape{Form: OneOrMore, Of: []Shape{s}} }

func eitherOf(ss ...Shape) Shape { return Shape{Form: EitherOf, Of: ss} }

func entryOf(section string) Shape { return Shape{Form: Entry, Section: section} }

// mapOf is a map from the owner's own words, which fit names.
func mapOf(names string, of Shape) Shape { return Shape{Form: Mapping, Names: names, Of: []Shape{of}} }

// quantityShape is a quantity, or unknown.
func quantityShape(k quantity.Kind) Shape {
	name, written := k.Words()
	units, example, _ := strings.Cut(written, "; ")
	s := Shape{
		Form: OneText, Name: name, Says: name + " (" + units + "), such as " + example + ", or unknown",
		Pattern: whole("unknown|" + k.Pattern()),
	}
	switch b := k.Bounds(); {
	case k == quantity.KindCount:
		s.Untyped, s.Bounded, s.Low, s.High = []string{"number"}, true, b.Min, b.Max
	case k.TakesZero():
		s.Name, s.Untyped, s.Bounded = name+"-or-0", []string{"integer"}, true
	}
	return s
}

// whole is a pattern for all of a text; blanks round it do not count.
func whole(pattern string) string { return "^ *(?:" + pattern + ") *$" }
