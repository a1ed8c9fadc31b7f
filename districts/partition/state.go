package partition

import "encoding/binary"

// border is one division of what lies behind, as far as what comes can tell: which border nodes are in one
// district, what each such district has taken on, and how many districts of each class are closed.
type border struct {
	label  []uint8    // by border node: its district, numbered as first met
	open   []district // by label
	closed []uint8    // by class
}

// district is one that still touches the border.
type district struct {
	class uint8
	paid  bool // its nearest node has been chosen
	holds uint32
}

// mostOpen is how many districts may touch the border at once.
const mostOpen = 32

// A border is spelt as its labels, its districts' classes, and then what they hold and how many are closed: where two borders have the
// same labels and classes, their spellings begin alike.
const (
	headSize = 2 // class, paid
	restSize = 4 // holding
)

// append spells a border.
func (b *border) append(text []byte) []byte {
	text = append(text, b.label...)
	for _, d := range b.open {
		paid := uint8(0)
		if d.paid {
			paid = 1
		}
		text = append(text, d.class, paid)
	}
	for _, d := range b.open {
		text = binary.BigEndian.AppendUint32(text, d.holds)
	}
	return append(text, b.closed...)
}

// read takes a border with so many nodes and classes from its spelling.
func (b *border) read(text []byte, nodes, classes int) {
	b.label = append(b.label[:0], text[:nodes]...)
	head, rest := headOf(text, nodes, classes)
	b.open = b.open[:0]
	for i := 0; i < len(head); i += headSize {
		holds := binary.BigEndian.Uint32(rest[i/headSize*restSize:])
		b.open = append(b.open, district{class: head[i], paid: head[i+1] == 1, holds: holds})
	}
	b.closed = append(b.closed[:0], text[len(text)-classes:]...)
}

// headOf parts the spelling of the districts.
func headOf(text []byte, nodes, classes int) (head, rest []byte) {
	open := (len(text) - nodes - classes) / (headSize + restSize)
	return text[nodes : nodes+open*headSize], text[nodes+open*headSize : len(text)-classes]
}

// within reports whether b is as good a start as o: no district of it has more in it than the same one of o, and no more are closed, nor
// so few that the districts that have to be used, least, would be harder to come by.
func (b *border) within(o *border, h *holdings, least int) bool {
	n, most := 0, 0
	for k := range b.closed {
		if b.closed[k] > o.closed[k] {
			return false
		}
		n += int(b.closed[k])
		most += int(o.closed[k])
	}
	if n < min(most, least) {
		return false
	}
	for i := range b.open {
		x, y := b.open[i].holds, o.open[i].holds
		if x != y && !h.list[x].within(&h.list[y]) {
			return false
		}
	}
	return true
}

// closedInAll is how many districts of all classes are closed.
func (b *border) closedInAll() int {
	n := 0
	for _, c := range b.closed {
		n += int(c)
	}
	return n
}
