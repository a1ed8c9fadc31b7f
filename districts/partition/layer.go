package partition

import (
	"bytes"
	"cmp"
	"hash/maphash"
	"math"
)

// pair are two sums that rank one after the other.
type pair [2]int64

func (x pair) compare(y pair) int { return cmp.Or(cmp.Compare(x[0], y[0]), cmp.Compare(x[1], y[1])) }

func (x pair) less(y pair) bool { return x.compare(y) < 0 }

func (x pair) plus(y pair) pair { return pair{plus(x[0], y[0]), plus(x[1], y[1])} }

// plus adds what is not below 0; never stays never.
func plus(x, y int64) int64 {
	if x == never || y == never {
		return never
	}
	return x + y
}

// lower is the lesser of each sum.
func (x pair) lower(y pair) pair { return pair{min(x[0], y[0]), min(x[1], y[1])} }

// higher is the greater of each sum.
func (x pair) higher(y pair) pair { return pair{max(x[0], y[0]), max(x[1], y[1])} }

// never is the sum of what cannot be.
const never = math.MaxInt64

var worst = pair{never, never}

// layer holds borders that differ, each with the cheapest way found to it.
type layer struct {
	text  []byte // spellings, one behind the other
	ends  []int
	value []pair
	// least is what a division that goes on from here comes to at the least.
	least []pair
	way   []way
	slots []int32 // entries by the hash of their spelling, counted from 1
}

// way is how a border came about: from which of the layer before, which of its districts the node taken joined, and what class its
// district is of.
type way struct {
	from   int32
	joined uint32
	class  uint8
}

var seed = maphash.MakeSeed() // moves entries between slots only: nothing is listed by slot

func (l *layer) len() int { return len(l.ends) }

func (l *layer) at(i int) []byte {
	from := 0
	if i > 0 {
		from = l.ends[i-1]
	}
	return l.text[from:l.ends[i]]
}

// put takes up a border, or a better way to one that is there.
func (l *layer) put(text []byte, value, least pair, w way) {
	if 2*(l.len()+1) > len(l.slots) {
		l.grow()
	}
	i := l.slot(text)
	if l.slots[i] == 0 {
		l.text = append(l.text, text...)
		l.ends = append(l.ends, len(l.text))
		l.value = append(l.value, value)
		l.least = append(l.least, least)
		l.way = append(l.way, w)
		l.slots[i] = int32(l.len())
		return
	}
	if e := l.slots[i] - 1; value.less(l.value[e]) {
		l.value[e], l.least[e], l.way[e] = value, least, w
	}
}

func (l *layer) slot(text []byte) int {
	mask := len(l.slots) - 1
	i := int(maphash.Bytes(seed, text)) & mask
	for l.slots[i] != 0 && !bytes.Equal(l.at(int(l.slots[i]-1)), text) {
		i = (i + 1) & mask
	}
	return i
}

func (l *layer) grow() {
	l.slots = make([]int32, max(64, 2*len(l.slots)))
	for e := range l.ends {
		l.slots[l.slot(l.at(e))] = int32(e + 1)
	}
}

// only is the layer of some of the entries.
func (l *layer) only(entries []int32) *layer {
	out := &layer{}
	for _, e := range entries {
		out.text = append(out.text, l.at(int(e))...)
		out.ends = append(out.ends, len(out.text))
		out.value = append(out.value, l.value[e])
		out.least = append(out.least, l.least[e])
		out.way = append(out.way, l.way[e])
	}
	return out
}

// groups lists entries whose spellings begin alike, as far as head says, in the order of their first.
func (l *layer) groups(head func(text []byte) int) [][]int32 {
	first := map[string]int{}
	var out [][]int32
	for i := range l.ends {
		text := l.at(i)
		text = text[:head(text)]
		g, known := first[string(text)]
		if !known {
			g = len(out)
			first[string(text)] = g
			out = append(out, nil)
		}
		out[g] = append(out[g], int32(i))
	}
	return out
}

// byLeast orders entries by what they come to at the least, then by value and spelling.
func (l *layer) byLeast(x, y int32) int {
	return cmp.Or(l.least[x].compare(l.least[y]), l.byValue(x, y))
}

// byValue orders entries by value, then by spelling.
func (l *layer) byValue(x, y int32) int {
	return cmp.Or(l.value[x].compare(l.value[y]), bytes.Compare(l.at(int(x)), l.at(int(y))))
}
