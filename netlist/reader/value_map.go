package reader

import (
	"gapwise/netlist/quantity"
	"gapwise/netlist/tree"
)

// pair is one entry of a map whose keys the owner chooses.
type pair[T any] struct {
	key   text
	node  *tree.Node
	value T
}

// mapKind is a map from the owner's own words to values.
func mapKind[T any](value, noun string, shape Shape, read func(r *reader, k *key, n *tree.Node) (T, bool)) kind {
	return kind{value: value, noun: noun, shape: fixed(shape), partial: true, decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
		return pairs(r, k, n, read)
	}}
}

func pairs[T any](r *reader, k *key, n *tree.Node, read func(*reader, *key, *tree.Node) (T, bool)) ([]pair[T], bool) {
	if n.Kind != tree.Map {
		if !n.Bad {
			r.blame(nodeText(n), problem{message: "a map in braces belongs here", expected: k.kind.noun})
		}
		return nil, false
	}
	ok := !n.Bad
	list := make([]pair[T], 0, len(n.Fields))
	for i := range n.Fields {
		f := &n.Fields[i]
		if f.Value.Bad && f.Value.Kind == tree.Scalar {
			ok = false
			continue
		}
		if f.Value.IsEmpty() {
			r.blame(keyText(f), problem{message: "no value; " + k.kind.noun})
			ok = false
			continue
		}
		v, fine := read(r, k, f.Value)
		ok = ok && fine
		if fine {
			list = append(list, pair[T]{key: keyText(f), node: f.Value, value: v})
		}
	}
	return list, ok
}

// readText reads a single value as text.
func readText(r *reader, k *key, n *tree.Node) (text, bool) { return r.scalar(n, k) }

// readQuantity reads a quantity.
func readQuantity[T any](read parse[T]) func(*reader, *key, *tree.Node) (T, bool) {
	return func(r *reader, k *key, n *tree.Node) (T, bool) {
		t, ok := r.scalar(n, k)
		if !ok {
			var none T
			return none, false
		}
		return measured(r, t, read)
	}
}

// endNames reports keys of a map that are no names.
func (r *reader) endNames(t text) bool {
	if len(t.s) > maxName || !isName(t.s) {
		return r.checkName(t, "track")
	}
	return true
}

var (
	anglesKind   = mapKind("{name: angle}", "tracks such as {lead: 0 deg}", mapOf(anyName, quantityShape(quantity.KindAngle)), readQuantity(quantity.ParseAngle))
	offsetsKind  = mapKind("{name: offset}", "tracks such as {a1: 0 in}", mapOf(anyName, quantityShape(quantity.KindPosition)), readQuantity(quantity.ParsePosition))
	spacingsKind = mapKind("{bus: spacing}", "a bus and a spacing, such as {ring: 0 in}", mapOf(anyName, quantityShape(quantity.KindPosition)), readQuantity(quantity.ParsePosition))
	clearKind    = mapKind("{leg: length}", "a leg and a length, such as {curved: 9 in}", mapOf(anyName, quantityShape(quantity.KindLength)), readQuantity(quantity.ParseLength))
	endsKind     = mapKind("{name: end}", "names of ends, such as {west: M1 start}", mapOf(anyName, endShape), readText)
	coloursKind  = mapKind("{A, B}", "colours such as {A: brown, B: yellow}", twoKeys("A", "B"), readText)
	railsKind    = mapKind("{left, right}", "words such as {left: wall, right: aisle}", twoKeys("left", "right"), readText)
)
