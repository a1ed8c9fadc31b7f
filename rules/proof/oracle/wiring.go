package oracle

import (
	"fmt"
	"slices"
)

// conductor joins two nodes: always (piece -1), or in the settings of a piece
// whose bits are set.
type conductor struct {
	a, b  int
	sure  bool
	piece int
	in    uint64
	// contact says that a contact on the throw makes it, and not the blades.
	contact bool
}

// setting is one way a piece may lie. passing is the moment between two
// settings of a throw that makes before it breaks.
type setting struct {
	name    string
	routes  [][2]string // ends that a train may run between
	passing bool
	rank    int // pairs pieces thrown together when names differ
	wheels  []wheelPath
}

// wheelPath is metal that one wheel touches one after the other in a setting.
// What lies beyond the frog counts only where the setting serves that end.
type wheelPath struct {
	near, beyond []int
	end          string
}

type piece struct {
	name, kind string
	length     float64 // 0 when unknown
	ends       []int
	settings   []setting
	rails      []pieceRail
	with       int // the piece that it throws with, -1 for none
	bridge     float64
}

// pieceRail is a length of rail inside a piece that wants a leg; end is one
// through which a block takes it in.
type pieceRail struct {
	node   int
	length float64
	ends   []string
}

// end is where a piece or run of track meets another.
type end struct {
	name       string
	rails      [2]int // left, right node
	start      bool
	piece, run int // one of them is -1
	joint      int // -1 while bare
	pit        bool
	inner      int // rail from the frog, -1 for none
}

func (b *builder) node() int {
	b.nodes++
	b.owner = append(b.owner, b.making)
	return b.nodes - 1
}

func (b *builder) join(a, c int, sure bool) {
	b.conductors = append(b.conductors, conductor{a, c, sure, -1, 0, false})
}

// leg hangs a node from a terminal by a wire.
func (b *builder) leg(node, t int, sure bool, place string) {
	n := b.legNode(t, place)
	b.join(n, node, sure)
}

func (b *builder) legNode(t int, place string) int {
	n := b.node()
	b.owner[n] = ""
	b.hung = append(b.hung, hung{n, t, place})
	return n
}

// hung says that a node is the end of a wire from a terminal.
type hung struct {
	node, terminal int
	place          string
}

func (b *builder) addPiece(p piece) int {
	b.pieces = append(b.pieces, p)
	return len(b.pieces) - 1
}

func (b *builder) addEnd(p int, name string, left, right int, start bool, inner int) {
	b.ends = append(b.ends, end{name: name, rails: [2]int{left, right}, start: start, piece: p, run: -1, joint: -1, inner: inner})
	b.pieces[p].ends = append(b.pieces[p].ends, len(b.ends)-1)
}

func (b *builder) when(p int, in uint64, a, c int) {
	b.conductors = append(b.conductors, conductor{a, c, true, p, in, false})
}

// touch is when, by a contact on the throw.
func (b *builder) touch(p int, in uint64, a, c int) {
	b.conductors = append(b.conductors, conductor{a, c, true, p, in, true})
}

func (b *builder) pieceLength(f fields) (float64, error) {
	n := f.text("length")
	if n == "" || n == "unknown" {
		return 0, nil
	}
	lo, hi, err := lengthRange(n)
	return (lo + hi) / 2, err
}

func (b *builder) readPieces() error {
	kinds := []struct {
		section, kind string
		make          func(entry, fields) error
	}{
		{"turnouts", "turnout", b.turnout},
		{"three-ways", "three-way", b.threeWay},
		{"crossings", "crossing", b.crossing},
		{"slips", "slip", b.crossing},
		{"turntables", "turntable", b.turntable},
		{"transfer-tables", "transfer-table", b.transferTable},
	}
	for _, k := range kinds {
		for _, e := range b.doc.sections[k.section] {
			f, err := b.doc.fields(k.section, k.kind, e)
			if err != nil {
				return err
			}
			if b.pieceNamed(e.name) >= 0 {
				return fmt.Errorf("%s again", e.name)
			}
			b.making = e.name
			b.pieceFields = append(b.pieceFields, f)
			if err := k.make(e, f); err != nil {
				return fmt.Errorf("%s %s: %w", k.kind, e.name, err)
			}
			last := &b.pieces[len(b.pieces)-1]
			last.with = -1
			if len(last.settings) > 64 {
				return fmt.Errorf("%s: too many settings", e.name)
			}
		}
	}
	return nil
}

func (l *Layout) pieceNamed(name string) int {
	return slices.IndexFunc(l.pieces, func(p piece) bool { return p.name == name })
}

// contact is what a frog is given in one setting: a node, or -1 for nothing.
func (b *builder) contacts(p, frog int, f fields, words map[uint64]string, nodes map[string]int, place string) error {
	var all uint64
	tap := nowhere
	for _, in := range sortedKeys(words) {
		word := words[in]
		all |= in
		if word == "open" {
			continue
		}
		if leg, err := legWord(word); err == nil {
			if tap == nowhere {
				if tap, err = b.origin(f.text("frog-from")); err != nil {
					return err
				}
			}
			if tap[leg] < 0 {
				return fmt.Errorf("frog-from carries no leg %s", word)
			}
			b.touch(p, in, frog, b.legNode(tap[leg], place))
			continue
		}
		to, ok := nodes[word]
		if !ok {
			return fmt.Errorf("a frog that gets %q is not modelled", word)
		}
		b.touch(p, in, frog, to)
	}
	if f.text("throw") == "make-first" {
		b.passing(p, frog, all)
	}
	return nil
}

// passing lets every contact of a frog conduct in the moment between settings.
func (b *builder) passing(p, frog int, of uint64) {
	at := slices.IndexFunc(b.pieces[p].settings, func(s setting) bool { return s.passing })
	if at < 0 {
		at = len(b.pieces[p].settings)
		b.pieces[p].settings = append(b.pieces[p].settings, setting{name: "passing", passing: true, rank: -1})
	}
	for i := range b.conductors {
		c := &b.conductors[i]
		if c.piece == p && c.a == frog && c.in&of != 0 {
			c.in |= 1 << at
		}
	}
}

func sortedKeys[K interface{ ~uint64 | ~string }, V any](m map[K]V) []K {
	var ks []K
	for k := range m {
		ks = append(ks, k)
	}
	slices.Sort(ks)
	return ks
}
