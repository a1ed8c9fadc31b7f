package reader

import (
	"gapwise/netlist/tree"
)

// kind is a kind of value that a key takes: what the reference calls it, what is said
// to be missing where nothing was typed, and how it is decoded. A decoder reports its
// own mistakes and then returns false. What refers to other entries is only taken apart
// here; it is resolved when every entry is known.
type kind struct {
	value  string
	noun   string
	decode func(r *reader, k *key, n *tree.Node) (any, bool)
	shape  func(k *key) Shape // for the schema
	// partial says that what was understood of a list counts although some of it was not,
	// so that its other mistakes are told too.
	partial bool
}

// key is one key of a section.
type key struct {
	name     string
	kind     kind
	words    []string // of a word: by value, "" for unsaid
	required bool
	def      string // what unsaid means, for the reference
	ask      string // the message when it is required and missing
	hint     string // beside ask, what is expected; printed once a file
	see      string // where there is more about its words
	wrong    string // "no such ..." for a wrong word; the key's name when empty
	own      bool   // not copied by `like`, not in `defaults`
	lent     bool   // a module without its own default takes the including file's
	doc      string
}

// section is a table of keys for one kind of entry.
type section struct {
	name     string // the top-level key; for a part of an entry, how the reference calls it
	noun     string // "a track"
	doc      string
	keys     []key
	thing    thing
	defaults string // key under `defaults:`
	index    map[string]int
}

func newSection(s section) *section {
	s.index = make(map[string]int, len(s.keys))
	for i := range s.keys {
		s.index[s.keys[i].name] = i
	}
	return &s
}

// keyNames lists the keys of s, for `expected:`.
func (s *section) keyNames() []string {
	names := make([]string, len(s.keys))
	for i := range s.keys {
		names[i] = s.keys[i].name
	}
	return names
}

// missing is the message for a required key that is not there.
func (k *key) missing() string {
	if k.ask != "" {
		return k.ask
	}
	return "`" + k.name + "` is missing"
}

// expected says what a key takes, in a few words.
func (k *key) expected() string {
	switch {
	case k.see != "":
		return listed(k.words) + "; " + k.see
	case len(k.words) > 0:
		return listed(k.words)
	}
	return k.kind.noun
}
