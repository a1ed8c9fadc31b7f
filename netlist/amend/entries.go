package amend

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/tree"
)

// asked is what is to become of one entry of a text, by the prefix of each of its copies.
type asked struct {
	at     spot
	byCopy map[string][]typedKey
	names  []string // of the changes
}

// setEntries makes the changes of Set and SetItem.
func (b *build) setEntries() {
	var order []*asked
	byNode := map[*tree.Node]*asked{}
	ask := func(change, prefix string, at spot, keys []typedKey) {
		a := byNode[at.entry]
		if a == nil {
			a = &asked{at: at, byCopy: map[string][]typedKey{}}
			byNode[at.entry] = a
			order = append(order, a)
		}
		if !slices.Contains(a.names, change) {
			a.names = append(a.names, change)
		}
		a.byCopy[prefix] = merged(a.byCopy[prefix], keys)
	}
	for _, s := range b.w.sets {
		change := s.entry.section + " " + s.entry.name
		keys, ok := b.keys(change, s.keys)
		if !ok {
			continue
		}
		at, ok := b.find(s.entry)
		switch {
		case !ok:
			b.refuse(change, "no such entry in the layout's files")
		case at.entry.Kind != tree.Map:
			b.refuse(change, "it is no map of keys")
		default:
			ask(change, strings.TrimSuffix(s.entry.name, at.key), at, keys)
		}
	}
	for _, c := range b.w.items {
		at, change, prefix, why := b.findItem(c)
		if why != "" {
			b.refuse(change, why)
			continue
		}
		if keys, ok := b.keys(change, c.keys); ok {
			ask(change, prefix, at, keys)
		}
	}
	for _, a := range order {
		prefixes := b.uses(a.at.file)
		copies := make([]string, len(prefixes))
		for i, p := range prefixes {
			copies[i] = p + a.at.key
		}
		if first := a.byCopy[prefixes[0]]; alike(len(prefixes), func(i int) []typedKey { return a.byCopy[prefixes[i]] }) {
			b.change(a.at.file, b.doc(a.at.file).setKeys(a.at.entry, first))
			continue
		}
		for _, change := range a.names {
			b.refuse(change, b.shared(a.at.file, copies))
		}
	}
}

// keys takes the values of keys apart.
func (b *build) keys(change string, keys []Key) ([]typedKey, bool) {
	var out []typedKey
	fine := true
	for _, k := range keys {
		v, ok := parseEntry(k.Name, k.Value)
		if !ok {
			b.refuse(change, fmt.Sprintf("`%s: %s` is no key with one value", k.Name, k.Value))
			fine = false
		}
		out = append(out, typedKey{k.Name, v})
	}
	return out, fine
}

// merged is keys with more of them; of two values for one key the last counts.
func merged(keys, more []typedKey) []typedKey {
	for _, k := range more {
		if i := slices.IndexFunc(keys, func(o typedKey) bool { return o.name == k.name }); i >= 0 {
			keys[i] = k
		} else {
			keys = append(keys, k)
		}
	}
	return keys
}

// alike reports whether n lists of keys say the same.
func alike(n int, at func(int) []typedKey) bool {
	for i := 1; i < n; i++ {
		a, b := at(0), at(i)
		if len(a) != len(b) {
			return false
		}
		for _, k := range a {
			if !slices.ContainsFunc(b, func(o typedKey) bool { return o.name == k.name && o.value.text == k.value.text }) {
				return false
			}
		}
	}
	return true
}

// shared says why one copy of what a file holds cannot be changed alone.
func (b *build) shared(file int32, copies []string) string {
	return fmt.Sprintf("%s stand once in %s; change all of them alike, or give each a file of its own", strings.Join(copies, " and "), b.files[file].source.Name)
}
