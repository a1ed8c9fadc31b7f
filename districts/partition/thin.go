package partition

import (
	"cmp"
	"slices"
)

// mostCompared bounds how many borders one is held against.
const mostCompared = 128

// undominated lists borders beside which there is no other with the same districts, none of them with more in it, no more of them
// closed, and no worse a value.
func (p *pass) undominated(l *layer, nodes int) []int32 {
	var out []int32
	var kept []border
	groups := l.groups(func(text []byte) int {
		head, _ := headOf(text, nodes, len(p.classes))
		return nodes + len(head)
	})
	for _, g := range groups {
		slices.SortFunc(g, l.byValue)
		n := 0
		for _, e := range g {
			b := &p.from.b
			b.read(l.at(int(e)), nodes, len(p.classes))
			if slices.ContainsFunc(kept[:n], func(o border) bool { return o.within(b, p.holdings, p.problem.Least) }) {
				continue
			}
			out = append(out, e)
			if n == mostCompared {
				continue
			}
			if n == len(kept) {
				kept = append(kept, border{})
			}
			kept[n].read(l.at(int(e)), nodes, len(p.classes))
			n++
		}
	}
	return out
}

// thin drops borders that another makes needless, and, where there are more than may be kept, the worst: half of what is kept is
// what promises most, the other half what leaves most room.
func (p *pass) thin(l *layer, i, nodes int, coming []int64) *layer {
	entries := p.undominated(l, nodes)
	if len(entries) > p.width {
		slices.SortFunc(entries, l.byLeast)
		rest := entries[p.width/2:]
		spare := make([]int64, l.len())
		m := &p.measures[0]
		for _, e := range rest {
			p.from.b.read(l.at(int(e)), nodes, len(p.classes))
			spare[e] = m.spare(&p.from.b, p.solver, coming[0])
		}
		slices.SortStableFunc(rest, func(x, y int32) int { return cmp.Compare(spare[y], spare[x]) })
		for _, e := range entries[p.width:] {
			p.drop(l.least[e])
			p.from.b.read(l.at(int(e)), nodes, len(p.classes))
			p.floor.throw(p.from.b.closedInAll(), len(p.from.b.open), l.value[e])
		}
		entries = entries[:p.width]
	}
	out := l.only(entries)
	for e := range out.len() {
		p.from.b.read(out.at(e), nodes, len(p.classes))
		p.floor.allow(i+1, p.from.b.closedInAll(), len(p.from.b.open), out.value[e])
	}
	p.floor.settle(i + 1)
	return out
}
