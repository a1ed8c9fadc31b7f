package reader

import (
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/source"
)

// maxName is the longest name, in characters.
const maxName = 64

// thing is a kind of entry that has names of its own.
type thing uint8

const (
	noThing thing = iota
	pieceThing
	supplyThing
	boosterThing
	cabThing
	breakerThing
	reverserThing
	detectorThing
	inLineThing
	changeoverThing
	plugThing
	busThing
	gapThing
	jointThing
	feederThing
	bondThing
	loadThing
	terminatorThing
	blockThing
	districtThing
	trainThing
	endThing
	positionThing
	commonThing
	commonRailThing
	exclusionThing
	acceptThing
	thingCount
)

// thingWords are the words that stand before a name to tell its kind.
var thingWords = [thingCount]string{
	"", "piece", "supply", "booster", "cab", "breaker", "reverser", "detector", "in-line",
	"changeover", "plug", "bus", "gap", "joint", "feeder", "bond", "load", "terminator",
	"block", "district", "train", "end", "position",
	"common", "common-rail", "never-together", "accept",
}

// pieceWords tell the kinds of pieces apart, by layout.PieceKind; a crossing piece
// answers to "slip" too.
var pieceWords = []string{"track", "turnout", "three-way", "crossing", "turntable", "transfer-table"}

// notNames are the words that no entry may be called by: kinds, ends, the words beside
// places in groups, and the letters and words of values.
var notNames = func() map[string]bool {
	words := strings.Fields("A B a b c d start end gap from to unknown none nothing all both open bumper " +
		"points straight curved left right inner outer slip " +
		"wire length rails every at name label like kind width fill broken A-from B-from bridged-by")
	set := map[string]bool{}
	for _, list := range [][]string{words, thingWords[1:], pieceWords} {
		for _, w := range list {
			set[w] = true
		}
	}
	return set
}()

// named is one name that was given.
type named struct {
	index int32
	pos   source.Pos
	text  string
}

// names are the names of one kind of thing. Folded holds them with case and the
// difference of `-` and `_` taken away. Lost says that some may be missing because of a
// mistake that was reported, so that an unknown name is not blamed.
type names struct {
	byName map[string]named
	folded map[string]named
	list   []string
	lost   bool
}

// isName reports whether s is a name as the language spells them.
func isName(s string) bool {
	if s == "" || len(s) > maxName {
		return false
	}
	for i := 0; i < len(s); i++ {
		c := s[i]
		letter := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9'
		if !letter && (i == 0 || c != '-' && c != '_') {
			return false
		}
	}
	return true
}

// checkName reports a name that is none. Kind is the word for what it is to name, "" where
// that is not known.
func (r *reader) checkName(t text, kind string) bool {
	switch {
	case len(t.s) > maxName:
		r.blame(t, problem{message: "a name is at most 64 characters"})
	case strings.Contains(t.s, "/") && isReference(t.s):
		r.blame(t, problem{message: "names with a slash belong to included modules and cannot be declared here", expected: "a name such as " + strings.ReplaceAll(t.s, "/", "-")})
	case !isName(t.s):
		r.blame(t, problem{message: "a name is letters, digits, - and _", expected: "a name such as M1 or north-yard"})
	case notNames[t.s]:
		r.blame(t, problem{message: "`" + t.s + "` is a word of the language; not a name", expected: "a name such as " + insteadOf(t.s, kind)})
	default:
		return true
	}
	return false
}

// insteadOf is a name that may stand for a word of the language: outer-track, or outer-1
// where what it names would say nothing new.
func insteadOf(word, kind string) string {
	if kind == "" || strings.Contains(word, kind) {
		return word + "-1"
	}
	return word + "-" + kind
}

// kindWord is the word for one entry of a section; pieces have one for each section.
func (s *section) kindWord() string {
	if s.thing == pieceThing {
		return strings.TrimSuffix(s.name, "s")
	}
	return thingWords[s.thing]
}

func fold(name string) string {
	return strings.ReplaceAll(strings.ToLower(name), "_", "-")
}

// register gives a name to entry index of kind k. A name that clashes is reported.
func (r *reader) register(k thing, u *unit, t text, index int32) bool {
	ns := &r.names[k]
	full := u.prefix + t.s
	if was, again := ns.byName[full]; again {
		r.blamef(t, "`%s` again; first at %s", full, r.line(was.pos, t.pos))
		return false
	}
	if was, near := ns.folded[fold(full)]; near {
		r.blamef(t, "`%s` and `%s` (%s) are too alike; one name, one spelling", full, was.text, r.line(was.pos, t.pos))
		return false
	}
	ns.put(named{index: index, pos: t.pos, text: full})
	return true
}

func (ns *names) put(n named) {
	if ns.byName == nil {
		ns.byName, ns.folded = map[string]named{}, map[string]named{}
	}
	ns.byName[n.text] = n
	ns.folded[fold(n.text)] = n
	ns.list = append(ns.list, n.text)
}

// known finds a name as seen from u: its own module's first, then, for what is no piece,
// those of the files that include it.
func (r *reader) known(k thing, u *unit, name string) (int32, bool) {
	for v := u; v != nil; v = v.outer {
		if n, ok := r.names[k].byName[v.prefix+name]; ok {
			return n.index, true
		}
		if k == pieceThing || k == endThing {
			break
		}
	}
	return -1, false
}

// lookup finds a name of kind k and reports one that is not there.
func (r *reader) lookup(k thing, u *unit, t text) (int32, bool) {
	if i, ok := r.known(k, u, t.s); ok {
		return i, true
	}
	r.unknownName(k, u, t)
	return -1, false
}

// candidates are the names of kind k as they are typed in u.
func (r *reader) candidates(k thing, u *unit) []string {
	if u.prefix == "" {
		return r.names[k].list
	}
	var own []string
	for _, n := range r.names[k].list {
		if strings.HasPrefix(n, u.prefix) {
			own = append(own, n[len(u.prefix):])
		}
	}
	return own
}

// pieceName is the name of a piece.
func (r *reader) pieceName(p layout.PieceID) string { return r.lay.Pieces[p].Name }
