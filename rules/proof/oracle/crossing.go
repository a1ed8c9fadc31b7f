package oracle

import (
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"
)

// crossing expands a crossing or slip. Routes run from the a/d side to the b/c
// side. Frogs: west is ac.right by db.left, east ac.left by db.right, north ac.left
// by db.left, south ac.right by db.right.
func (b *builder) crossing(e entry, f fields) error {
	slip := f.text("slip")
	isSlip := slip != ""
	wiring := f.text("wiring")
	good := oneOf(wiring, "dead-frogs", "joined") || wiring == "powered-frogs" && !isSlip || wiring == "switched-frogs" && isSlip
	if !good || (isSlip && !oneOf(slip, "a-b", "d-c", "both")) {
		return fmt.Errorf("wiring %q is not modelled", wiring)
	}
	length, err := b.pieceLength(f)
	if err != nil {
		return err
	}
	var acl, acr, dbl, dbr, west, east, north, south int
	for _, n := range []*int{&acl, &acr, &dbl, &dbr, &west, &east, &north, &south} {
		*n = b.node()
	}
	kind := "crossing"
	if isSlip {
		kind = "slip"
	}
	p := b.addPiece(piece{name: e.name, kind: kind, length: length})
	b.addEnd(p, "a", acl, acr, true, -1)
	b.addEnd(p, "b", dbl, dbr, false, -1)
	b.addEnd(p, "c", acl, acr, false, -1)
	b.addEnd(p, "d", dbl, dbr, true, -1)
	for _, n := range []int{acl, acr} {
		b.pieces[p].rails = append(b.pieces[p].rails, pieceRail{n, length, []string{"a", "c"}})
	}
	for _, n := range []int{dbl, dbr} {
		b.pieces[p].rails = append(b.pieces[p].rails, pieceRail{n, length, []string{"d", "b"}})
	}
	if isSlip {
		b.join(acl, dbl, true)
		b.join(acr, dbr, true)
	}
	metal := func(frogs ...int) []int {
		if wiring == "dead-frogs" {
			return nil
		}
		return frogs
	}
	path := map[string][]wheelPath{
		"a-c": {{near: append([]int{acl}, metal(north, east)...)}, {near: append([]int{acr}, metal(west, south)...)}},
		"d-b": {{near: append([]int{dbl}, metal(west, north)...)}, {near: append([]int{dbr}, metal(south, east)...)}},
		"a-b": {{near: append([]int{acr, dbr}, metal(west, east)...)}},
		"d-c": {{near: append([]int{dbl, acl}, metal(west, east)...)}},
	}
	add := func(names ...string) {
		for _, n := range names {
			from, to, _ := strings.Cut(n, "-")
			b.pieces[p].settings = append(b.pieces[p].settings, setting{name: n, routes: [][2]string{{from, to}}, rank: len(b.pieces[p].settings), wheels: path[n]})
		}
	}
	switch {
	case slip == "both":
		add("a-c", "a-b", "d-b", "d-c")
	case isSlip:
		add("a-c", "d-b", slip)
	case wiring == "powered-frogs":
		add("a-c", "d-b")
	default:
		b.pieces[p].settings = []setting{{name: "as it lies", routes: [][2]string{{"a", "c"}, {"d", "b"}}, wheels: append(path["a-c"], path["d-b"]...)}}
	}
	if wiring == "joined" {
		for _, j := range [][3]int{{west, acr, dbl}, {east, acl, dbr}, {north, acl, dbl}, {south, acr, dbr}} {
			b.join(j[0], j[1], true)
			b.join(j[0], j[2], true)
		}
	}
	if wiring != "powered-frogs" && wiring != "switched-frogs" {
		return nil
	}
	// A frog lies where a rail of a-c crosses one of d-b, and gets either. On a
	// slip, ends are the letters of the settings that give it the rail of a-c.
	type frog struct {
		key    string
		node   int
		rails  map[string]int
		ac, db string // the hands of its two rails
		ends   string
	}
	frogs := []frog{
		{"west", west, map[string]int{"ac": acr, "db": dbl}, "right", "left", "a"},
		{"east", east, map[string]int{"ac": acl, "db": dbr}, "left", "right", "c"},
		{"north", north, map[string]int{"ac": acl, "db": dbl}, "left", "left", "abcd"},
		{"south", south, map[string]int{"ac": acr, "db": dbr}, "right", "right", "abcd"},
	}
	typed := f.node("frog-gets")
	known := 0
	for _, fr := range frogs {
		own := firstField(typed, fr.key, fr.key+"-frog", strings.ToUpper(fr.key[:1]))
		if own != nil {
			known++
		}
		gets := map[uint64]string{}
		for i, s := range b.pieces[p].settings {
			if s.passing {
				continue
			}
			word := "db"
			if isSlip && strings.ContainsAny(s.name, fr.ends) || !isSlip && s.name == "a-c" {
				word = "ac"
			}
			if isSlip && slip != "both" && s.name != slip && fr.ac != fr.db {
				word = "unknown" // a-c and d-b are one position of the blades
			}
			if w := field(own, s.name); w != nil {
				word = w.Value
				switch {
				case fr.ac == fr.db && word == fr.ac && s.name == "d-b":
					word = "db"
				case word == fr.ac:
					word = "ac"
				case word == fr.db:
					word = "db"
				}
			}
			gets[1<<i] = word
		}
		if err := b.contacts(p, fr.node, f, gets, fr.rails, pieceplace(e.name)); err != nil {
			return err
		}
	}
	if known != len(pairsOf(typed)) {
		return fmt.Errorf("these frog-gets are not modelled")
	}
	return nil
}

func firstField(n *yaml.Node, keys ...string) *yaml.Node {
	for _, k := range keys {
		if v := field(n, k); v != nil {
			return v
		}
	}
	return nil
}
