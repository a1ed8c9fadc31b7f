// Package rule says what a rule of the catalogue is, and what it may ask of a traced
// layout: places, names, lengths, and the words findings are made of.
package rule

import (
	"gapwise/rules/finding"
)

// Rule is one rule of the catalogue. ID states the bad thing, Title says it in one line.
// Severity is the gravest it gives. Sources name the origin of each limit. Practice is
// the key under `practice` that raises it from a note to a caution ("" for rules that are
// not rules of thumb); with OnlyListed the rule is silent until it is listed. CannotAccept refuses acceptances of it.
type Rule struct {
	ID           string
	Severity     finding.Severity
	Title        string
	Doc          Doc
	Sources      []string
	Practice     string
	OnlyListed   bool
	CannotAccept bool
	Check        func(*Case)
}

// Doc is the text of a rule; README and `explain` both print it.
type Doc struct {
	What, Why, Fix string
	Example        string // a few lines of layout that raise it
}

// CommonPractice is the source of every rule of thumb.
const CommonPractice = "common practice, no source"
