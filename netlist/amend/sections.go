package amend

import (
	"gapwise/netlist/reader"
)

// form is how a section is laid out.
type form uint8

const (
	otherKey form = iota
	named         // {name: entry}
	listed        // a list of entries
	placed        // {piece: entries with places}
)

// sections are the forms of the keys at the left margin, and ranks their order in the
// language's description.
var sections, ranks = func() (map[string]form, map[string]int) {
	forms, order := map[string]form{}, map[string]int{}
	for i, k := range reader.FileShape().Keys {
		order[k.Name] = i
		switch s := k.Shape; {
		case k.Name == "gaps" || k.Name == "joints" || k.Name == "feeders":
			forms[k.Name] = placed
		case s.Form == reader.Mapping && len(s.Of) == 1 && s.Of[0].Form == reader.Entry:
			forms[k.Name] = named
		case s.Form == reader.OneOrMore || s.Form == reader.EitherOf || k.Name == "joins":
			forms[k.Name] = listed
		}
	}
	for i, s := range reader.Reference() {
		if _, known := order[s.Name]; known {
			order[s.Name] = len(order) + i
		}
	}
	return forms, order
}()
