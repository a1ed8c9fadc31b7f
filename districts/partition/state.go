package partition

import (
	"encoding/binary"
	"slices"
)

// border is one division of what lies behind, as far as what comes can tell: which border nodes are in one
// district, what each such district has taken on, and how many districts of each class are closed.
type border struct {
	label  []uint8    // by border node, in the order of the sweep: its district, numbered as first met
	open   []district // by label
	closed []uint8    // by class
}

// district is one that still touches the border.
type district struct {
	class  uint8
	paid   bool    // its nearest node has been chosen
	berths []uint8 // by kind
	load   int64   // that always stands there
}

func (b *border) clone() border {
	out := border{label: slices.Clone(b.label), open: slices.Clone(b.open), closed: slices.Clone(b.closed)}
	return out
}

// key spells a border, equal for equal ones.
func (b *border) key(buf []byte) []byte {
	buf = append(buf[:0], b.closed...)
	buf = append(buf, b.label...)
	for i := range b.open {
		d := &b.open[i]
		paid := uint8(0)
		if d.paid {
			paid = 1
		}
		buf = append(buf, d.class, paid)
		buf = append(buf, d.berths...)
		buf = binary.AppendUvarint(buf, uint64(d.load))
	}
	return buf
}

// decode reads a border of so many nodes back from its key.
func decode(key string, nodes, classes, kinds int) border {
	b := border{closed: []byte(key[:classes]), label: []byte(key[classes : classes+nodes])}
	rest := key[classes+nodes:]
	for len(rest) > 0 {
		d := district{class: rest[0], paid: rest[1] == 1, berths: []byte(rest[2 : 2+kinds])}
		load, n := binary.Uvarint([]byte(rest[2+kinds : min(len(rest), 2+kinds+binary.MaxVarintLen64)]))
		d.load = int64(load)
		rest = rest[2+kinds+n:]
		b.open = append(b.open, d)
	}
	return b
}

// relabel numbers districts as they are first met along the border and drops those that are not; gone lists their old
// labels.
func (b *border) relabel() (gone []uint8) {
	to := make([]int, len(b.open))
	for i := range to {
		to[i] = -1
	}
	var open []district
	for i, l := range b.label {
		if to[l] < 0 {
			to[l] = len(open)
			open = append(open, b.open[l])
		}
		b.label[i] = uint8(to[l])
	}
	for l, n := range to {
		if n < 0 {
			gone = append(gone, uint8(l))
		}
	}
	b.open = open
	return gone
}
