package split

import (
	"fmt"
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/source"

	"gapwise/districts/partition"
)

// With says what each district gets.
type With uint8

const (
	Auto     With = iota // boosters where the present one is too small or there are several, else breakers
	Boosters             // a booster of its own
	Breakers             // a breaker of its own behind the present booster
)

// WithWords are the words for With, by value.
var WithWords = []string{"auto", "boosters", "breakers"}

func (w With) String() string { return WithWords[w] }

// Ask is what a division has to meet.
type Ask struct {
	Districts int       // at most so many; 0 seeks the fewest
	Ratings   []float64 // amperes of each district, the last for all further ones; empty takes the layout's devices
	Margin    float64   // part of a rating that is kept free
	Whole     []string  // words of `use` and names of blocks: neighbours among them stay in one district
	At        *layout.Place
	With      With
	TrainAmps float64 // for trains without `current`; 0 refuses them
	Order     [3]partition.Term
	Work      int64 // bound on each search; 0 takes partition.DefaultWork
}

// DefaultMargin is the part of a rating that a district leaves free. Common practice, no source.
const DefaultMargin = 0.2

// DefaultWhole are the uses of track that stay in one piece when nothing else is asked.
var DefaultWhole = []string{"yard", "interlocking"}

// AskError says what about the asking, or about the layout for it, does not work.
type AskError struct{ Message string }

func (e *AskError) Error() string { return e.Message }

func refuse(format string, args ...any) error { return &AskError{fmt.Sprintf(format, args...)} }

// wholes are the uses and the blocks that Ask.Whole names.
type wholes struct {
	use   []bool // by layout.Use
	block []bool // by Layout.Blocks
}

func newWholes(l *layout.Layout, names []string) (wholes, error) {
	w := wholes{make([]bool, len(layout.UseWords)), make([]bool, len(l.Blocks))}
	var all []string
	for _, name := range names {
		found := false
		for u, word := range layout.UseWords {
			if word != "" && word == name {
				w.use[u], found = true, true
			}
		}
		for i := range l.Blocks {
			if l.Blocks[i].Name == name {
				w.block[i], found = true, true
			}
		}
		if found {
			continue
		}
		all = append(all, layout.UseWords[1:]...)
		for i := range l.Blocks {
			all = append(all, l.Blocks[i].Name)
		}
		text := fmt.Sprintf("nothing to keep whole is named %s: neither a block nor a use of track (%s)", source.Safe(name), strings.Join(layout.UseWords[1:], ", "))
		if near := source.Nearest(name, all); near != "" {
			text += "; nearest: " + near
		}
		return w, &AskError{text}
	}
	return w, nil
}
