// Package tree turns the text of one layout file into a tree of maps, lists and scalars
// in which every node knows its line and column. A scan of our own runs before the
// YAML library and owns positions and the traps of language.md section 9; the library
// then gives the structure. Nothing above this package sees YAML.
package tree

import "gapwise/netlist/source"

// Kind of a node.
type Kind uint8

const (
	Scalar Kind = iota
	Map
	List
)

// Node is one value. Text is a scalar's text, never its YAML tag; Quoted says that it
// stood in quotes. Pos is where the value starts; Width its length in characters on
// that line, at least 1. Bad says that a mistake in the value itself, or in a key of
// this map, has been reported already: what is odd or missing here may follow from it
// and is not to be blamed again.
type Node struct {
	Kind   Kind
	Text   string
	Quoted bool
	Bad    bool
	Pos    source.Pos
	Width  int
	Fields []Field // of a Map, in typed order, keys distinct
	Items  []*Node // of a List
}

// Field is one key of a map with its value. A key without a value has a Scalar with
// empty Text, not Quoted, at the key's place.
type Field struct {
	Key      string
	KeyPos   source.Pos
	KeyWidth int
	Value    *Node
}
