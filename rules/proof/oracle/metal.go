package oracle

import (
	"fmt"
	"slices"
	"strings"
)

// analysis gathers the hazards of one layout.
type analysis struct {
	*Layout
	out      []Hazard
	may      *graph // with what may conduct
	mayOf    []group
	sure     *graph
	sureOf   []group
	judged   map[[3]int]relation
	reported map[string]bool
	suited   map[string]bool // cannotSuit by its pairs
}

// relation is what two terminals mean to each other when metal joins them.
type relation struct {
	short, tied, detector bool
	apart                 bool // a common rail does not excuse the tie
}

// Hazards lists what is hazardous, sorted. If all settings together are no more
// than limit, every setting of the whole layout is tried; otherwise every setting
// of each group of pieces that touch through rail that no leg holds in all
// settings. Both give the same places. It fails where a group is too large.
func (l *Layout) Hazards(limit int) ([]Hazard, error) {
	a := &analysis{Layout: l, may: l.graph(false), sure: l.graph(true), judged: map[[3]int]relation{}, reported: map[string]bool{}, suited: map[string]bool{}}
	var err error
	if a.mayOf, err = a.may.groups(limit); err != nil {
		return nil, err
	}
	if a.sureOf, err = a.sure.groups(limit); err != nil {
		return nil, err
	}
	a.wires()
	a.metal()
	if err := a.wheels(); err != nil {
		return nil, err
	}
	a.dead()
	a.bounds()
	a.meant()
	return sortHazards(a.out), nil
}

func (a *analysis) add(kind, place, detail string) {
	a.out = append(a.out, Hazard{kind, place, detail})
}

func (a *analysis) relate(x, y int, lie []int) relation {
	key := [3]int{min(x, y), max(x, y), a.locked(lie)}
	if r, ok := a.judged[key]; ok {
		return r
	}
	tx, ty := a.terminals[x], a.terminals[y]
	r := relation{short: a.canOppose(x, y, lie)}
	if tx.source >= 0 && ty.source >= 0 {
		r.tied = tx.source != ty.source
		r.detector = !r.tied && tx.leg == ty.leg && !slices.Equal(tx.seenBy, ty.seenBy)
		r.apart = a.sources[tx.source].apart || a.sources[ty.source].apart
	}
	a.judged[key] = r
	return r
}

// wires judges what is joined without any rail: buses that end on another, and
// changeovers that make before they break. What one booster feeds may be tied for
// the moment of a throw.
func (a *analysis) wires() {
	judge := func(x, y int, where string, moment bool) {
		if x < 0 || y < 0 || x == y {
			return
		}
		r := a.relate(x, y, a.anyhow())
		if moment {
			r.tied = r.tied && a.root(x) != a.root(y)
			r.detector = false
		}
		a.say(r, x, y, where, "", false)
	}
	for _, c := range a.closed {
		for leg := range 2 {
			judge(c.legs[leg], c.ends[leg], place("bus "+c.name, 0), false)
		}
	}
	for _, p := range a.makeFirst {
		for i := 1; i < len(p.options); i++ {
			for leg := range 2 {
				if p.opens[leg] {
					judge(p.options[i-1][leg], p.options[i][leg], place("changeover "+p.name, 0), true)
				}
			}
		}
	}
}

// anyhow has every piece lie as it likes.
func (l *Layout) anyhow() []int {
	lie := make([]int, len(l.pieces))
	for p := range lie {
		lie[p] = -1
	}
	return lie
}

// root is the source that a terminal begins at, with changeovers in their first
// position that gives anything.
func (l *Layout) root(t int) int {
	for _, up := range l.terminals[t].ups {
		if up >= 0 {
			return l.root(up)
		}
	}
	return l.terminals[t].source
}

func (a *analysis) say(r relation, x, y int, where, how string, excused bool) {
	what := fmt.Sprintf("%s meets %s%s", a.legName(min(x, y)), a.legName(max(x, y)), how)
	if r.short {
		a.add(Short, where, what)
	}
	if r.tied && (!excused || r.apart) {
		a.add(Tied, where, what)
	}
	if r.detector {
		a.add(Detector, where, what)
	}
}

// metal judges every net of rail, in every setting.
func (a *analysis) metal() {
	still := a.may.still()
	for n := range a.may.labels {
		a.judgeNet(still, n, a.may.labels[n])
	}
	for _, gr := range a.mayOf {
		a.may.each([]group{gr}, func(w *world) {
			for _, n := range gr.nets {
				if w.sets.find(n) == n {
					a.judgeNet(w, n, w.labels[n])
				}
			}
		})
	}
}

func (a *analysis) judgeNet(w *world, net int, labels []int) {
	for i, y := range labels {
		for _, x := range labels[:i] {
			r := a.relate(x, y, w.lie)
			if !r.short && !r.tied && !r.detector {
				continue
			}
			key := fmt.Sprint(x, y, net, a.lying(w, net))
			if a.reported[key] {
				continue
			}
			a.reported[key] = true
			path, pieces := a.witness(w, net, x, y)
			if path == nil {
				continue
			}
			where, how := a.blame(w, path, pieces)
			key = fmt.Sprint(where, x, y)
			if a.reported[key] {
				continue
			}
			a.reported[key] = true
			a.say(r, x, y, where, how, a.excused(path))
		}
	}
}

// lying tells apart the ways in which pieces make up one net.
func (a *analysis) lying(w *world, net int) []int {
	var out []int
	for i, e := range a.may.edges {
		if s := w.lie[e.piece]; s >= 0 && e.in>>s&1 == 1 && w.sets.find(e.a) == net {
			out = append(out, i)
		}
	}
	return out
}

func (a *analysis) excused(path []int) bool {
	return slices.ContainsFunc(path, func(n int) bool { return slices.Contains(a.common, n) })
}

// witness finds a shortest path of metal between wires from x and from y: nodes,
// and the pieces whose setting it needs. It is nil if the path needs no piece but
// the world is one of settings, as that was found before.
func (a *analysis) witness(w *world, net, x, y int) (path, pieces []int) {
	next := map[int][]int{}
	for i, c := range a.conductors {
		if w.sets.find(a.may.net[c.a]) != net {
			continue
		}
		if c.piece >= 0 && (w.lie[c.piece] < 0 || c.in>>w.lie[c.piece]&1 == 0) {
			continue
		}
		next[c.a] = append(next[c.a], i)
		next[c.b] = append(next[c.b], i)
	}
	by := map[int]int{}
	var queue []int
	goal := map[int]bool{}
	for _, h := range a.hung {
		if w.sets.find(a.may.net[h.node]) != net {
			continue
		}
		if h.terminal == x {
			queue = append(queue, h.node)
			by[h.node] = -1
		}
		goal[h.node] = goal[h.node] || h.terminal == y
	}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		if goal[n] {
			for n >= 0 {
				path = append(path, n)
				c := by[n]
				if c < 0 {
					break
				}
				if p := a.conductors[c].piece; p >= 0 {
					pieces = insert(pieces, p)
				}
				n = a.conductors[c].a + a.conductors[c].b - n
			}
			break
		}
		for _, c := range next[n] {
			m := a.conductors[c].a + a.conductors[c].b - n
			if _, seen := by[m]; !seen {
				by[m] = c
				queue = append(queue, m)
			}
		}
	}
	if len(pieces) == 0 && slices.ContainsFunc(w.lie, func(s int) bool { return s >= 0 }) {
		return nil, nil
	}
	return path, pieces
}

// blame names the piece whose setting joins x to y, or else the feeder that is in
// the minority.
func (a *analysis) blame(w *world, path, pieces []int) (where, how string) {
	first, last := a.wireTo(path[0]), a.wireTo(path[len(path)-1])
	between := fmt.Sprintf(", between %s and %s by way of %s", first.place, last.place, strings.Join(a.way(path), ", "))
	if len(pieces) > 0 {
		var lies []string
		for _, p := range pieces {
			lies = append(lies, a.pieces[p].name+" "+a.pieces[p].settings[w.lie[p]].name)
		}
		return pieceplace(a.pieces[pieces[0]].name), between + ", set " + strings.Join(lies, ", ")
	}
	count := map[int]int{}
	for _, h := range a.hung {
		if a.may.net[h.node] == a.may.net[path[0]] {
			count[h.terminal]++
		}
	}
	if count[last.terminal] < count[first.terminal] || count[last.terminal] == count[first.terminal] && last.terminal > first.terminal {
		first = last
	}
	return first.place, between
}

// way names the tracks and pieces along a path.
func (a *analysis) way(path []int) []string {
	var out []string
	for _, n := range path {
		if o := a.owner[n]; o != "" && !slices.Contains(out, o) {
			out = append(out, o)
		}
	}
	return out
}

// wireTo is the wire that ends at a node.
func (a *analysis) wireTo(node int) hung {
	return a.hung[slices.IndexFunc(a.hung, func(h hung) bool { return h.node == node })]
}
