// Package oracle answers by brute force what is hazardous about a layout. It
// shares no code with the program it is held against: it reads the text by
// itself, expands every piece from tables of its own, and tries settings one
// by one. It is meant for tests, for layouts that the language allows; it is no
// checker of the language and passes over keys that it does not know.
//
// Layout.Hazards lists what is wrong. For small layouts, by trying whole settings,
// Shorts says in which settings legs meet, Trains where a train is a short, and
// Watch what detectors see. Fixed holds the hazards of two layouts side by side.
//
// Lengths are metres throughout.
package oracle

import (
	"cmp"
	"slices"
)

// The kinds of hazard.
const (
	Short    = "short"    // metal joins both legs of one phase
	Tied     = "tied"     // metal joins two sources that should be parted
	Wheel    = "wheel"    // a wheel on a gap, a frog or a pit's edge joins both legs
	Train    = "train"    // a train over two gaps leaves no state that suits
	Dead     = "dead"     // no leg reaches a rail in any setting
	Unsure   = "unsure"   // a rail hangs on something nobody vouches for
	Detector = "detector" // a detector is passed by, or is not the one that was meant
	Block    = "block"    // a block's bound has no gap, or a gap cuts a block
	Meant    = "meant"    // a block hangs from another source than was meant
)

// A Hazard is one thing that is wrong.
type Hazard struct {
	Kind   string // one of the kinds above
	Place  string // a track or piece, and metres along it: "M1 @ 1.23 m"
	Detail string // what meets what there
}

// sortHazards orders hazards and drops what is said twice.
func sortHazards(hs []Hazard) []Hazard {
	slices.SortFunc(hs, func(a, b Hazard) int {
		return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Place, b.Place), cmp.Compare(a.Detail, b.Detail))
	})
	return slices.Compact(hs)
}
