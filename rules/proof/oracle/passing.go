package oracle

import (
	"fmt"
	"slices"
)

// transit is one lever between two of its positions.
type transit struct {
	lever, from, to int
	blades          int // the way in which its blades lie
	contacts        int // the way in which its contacts lie, -1 where those that make first hold both
	joined          [][2]int
	moment          string
}

// transits lists the moments of a throw that are neither of its positions.
func (l *Layout) transits(levers []lever, i int) []transit {
	var out []transit
	lv := levers[i]
	first, touch := false, false
	for _, p := range lv.pieces {
		first = first || slices.ContainsFunc(l.pieces[p].settings, func(s setting) bool { return s.passing })
		touch = touch || slices.ContainsFunc(l.conductors, func(c conductor) bool { return c.piece == p && c.contact })
	}
	for to := range lv.ways {
		for from := range to {
			if !touch {
				break
			}
			name := func(w int) string { return lv.ways[w].name }
			both := fmt.Sprintf("%s to %s, ", name(from), name(to))
			for _, two := range [][2]int{{from, to}, {to, from}} {
				out = append(out, transit{i, from, to, two[0], two[1], nil, both + "blades as in " + name(two[0]) + ", contacts as in " + name(two[1])})
				if first {
					out = append(out, transit{i, from, to, two[0], -1, nil, both + "blades as in " + name(two[0]) + ", contacts made both ways"})
				}
			}
		}
	}
	for _, mk := range l.makeFirst {
		if k := l.knobs[mk.knob]; mk.knob != lv.knob && (k.piece < 0 || !slices.Contains(lv.pieces, k.piece)) {
			continue
		}
		for n := 1; n < len(mk.options); n++ {
			tr := transit{lever: i, from: -1, to: -1, blades: -1, contacts: -1, moment: fmt.Sprintf("changeover %s, contacts made both ways", mk.name)}
			for leg := range 2 {
				if x, y := mk.options[n-1][leg], mk.options[n][leg]; mk.opens[leg] && x >= 0 && y >= 0 && x != y {
					tr.joined = append(tr.joined, [2]int{x, y})
				}
			}
			if tr.joined != nil {
				out = append(out, tr)
			}
		}
	}
	return out
}

// inPassing hunts for conflicts in the moments of every throw; still are those at rest.
func (l *Layout) inPassing(levers []lever, still map[meeting][][]int) ([]Conflict, error) {
	var out []Conflict
	for i := range levers {
		for _, tr := range l.transits(levers, i) {
			known := map[meeting][][]int{}
			for _, h := range l.hunts(levers, false) {
				h.known = known
				if err := h.pass(tr, still); err != nil {
					return nil, err
				}
			}
			if len(known) == 0 {
				continue
			}
			sure := map[meeting][][]int{}
			for _, h := range l.hunts(levers, true) {
				h.known = sure
				if err := h.pass(tr, still); err != nil {
					return nil, err
				}
			}
			for _, m := range sortedMeetings(known) {
				c := l.conflict(levers, m, known[m])
				_, c.Sure = sure[m]
				c.Moment = tr.moment
				out = append(out, c)
			}
		}
	}
	return out, nil
}

// pass hunts with one lever in a moment of its throw.
func (h *hunt) pass(tr transit, still map[meeting][][]int) error {
	var made []wire
	h.hide = func(m meeting, chosen []int) bool {
		if tr.from < 0 && m.kind == SourceToSource && h.oneRoot(m) {
			return true // what one booster feeds may be tied for the moment of a throw
		}
		return slices.ContainsFunc(still[m], func(k []int) bool {
			k = slices.Clone(k)
			if w := k[tr.lever]; w >= 0 && (w == tr.from || w == tr.to) {
				k[tr.lever] = -1
			}
			return within(k, chosen)
		})
	}
	if tr.from < 0 {
		h.g = &graph{l: h.Layout, labels: make([][]int, len(h.g.labels))}
		h.joined = tr.joined
		for i := range h.edges {
			h.edges[i] = nil
		}
		return h.run(tr.lever, nil)
	}
	lv := &h.levers[tr.lever]
	lies := func(w, piece int) int { return lv.ways[w].lies[slices.Index(lv.pieces, piece)] }
	for _, e := range h.edges[tr.lever] {
		on := func(w int) bool { return e.in>>lies(w, e.piece)&1 == 1 }
		first := slices.ContainsFunc(h.pieces[e.piece].settings, func(s setting) bool { return s.passing })
		switch {
		case !e.contact:
			if on(tr.blades) {
				made = append(made, e)
			}
		case tr.contacts >= 0:
			if on(tr.contacts) {
				made = append(made, e)
			}
		case first && (on(tr.from) || on(tr.to)) || !first && on(tr.blades):
			made = append(made, e)
		}
	}
	// The changeovers that the lever throws move with its contacts.
	at := tr.contacts
	if at < 0 {
		at = tr.blades
	}
	for k := range h.knobs {
		if p := h.knobs[k].piece; p >= 0 && slices.Contains(lv.pieces, p) {
			h.ps.state[k] = lies(at, p)
		}
	}
	h.needs = func(chosen []int) bool {
		both := slices.Clone(chosen)
		for _, w := range []int{tr.from, tr.to} {
			both[tr.lever] = w
			if !h.extends(both) {
				return false
			}
		}
		return true
	}
	return h.run(tr.lever, made)
}

// oneRoot says whether two legs begin at one source, with changeovers in their first position.
func (h *hunt) oneRoot(m meeting) bool {
	return h.root(h.terminalOf(m.x)) == h.root(h.terminalOf(m.y))
}
