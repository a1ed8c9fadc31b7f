package reader

import (
	"strings"

	"gapwise/netlist/layout"
)

// breakRings reports each ring of things that hang from one another, once, and cuts it
// so that nothing later goes round it for ever.
func (r *reader) breakRings() {
	state := map[hanger]int{} // 1 on the way, 2 done
	var way []hanger
	var visit func(h hanger)
	visit = func(h hanger) {
		state[h] = 1
		way = append(way, h)
		for _, s := range r.sourcesOf(h) {
			next, ok := behind(s)
			switch {
			case !ok:
			case state[next] == 1:
				r.tellRing(way, next)
				*s = layout.Source{Index: -1, Tap: noTap()}
			case state[next] == 0:
				visit(next)
			}
		}
		way = way[:len(way)-1]
		state[h] = 2
	}
	for _, h := range r.hangers() {
		if state[h] == 0 {
			visit(h)
		}
	}
}

// tellRing reports the ring from first along the way and back to first.
func (r *reader) tellRing(way []hanger, first hanger) {
	from := len(way) - 1
	for way[from] != first {
		from--
	}
	var names []string
	for _, h := range append(way[from:len(way):len(way)], first) {
		names = append(names, thingWords[thingOf(h.kind)]+" "+r.recordOf(h).full)
	}
	at := r.recordOf(first).at("from")
	if first.kind == layout.FromChangeover {
		at = r.recordOf(first).place()
	}
	r.blame(at, problem{message: strings.Join(names, " > ")})
}
