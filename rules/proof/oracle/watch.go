package oracle

import (
	"fmt"
	"math"
	"slices"
)

// How much of the current of a train a detector sees. It is Unsure where that depends on metal that nobody vouches for.
const (
	All  = "all"
	Part = "part"
)

// Watched is what the detectors see of a train on a stretch of track: nothing changes within it, so it holds for each of its centimetres.
type Watched struct {
	// Place is a track, or a piece with its route, and From and To are metres on it. On a piece, whose frogs are taken to lie in its middle, they
	// are measured from the first end named.
	Place    string
	From, To float64
	// Dead says that no current flows there.
	Dead bool
	// Seen says how much passes each detector, All, Part or Unsure. A detector that is missing sees none.
	Seen map[string]string
	// Setting is one full setting in which it is so, and Settings how many there are, states of reversers and plugs counted apart.
	Setting  []string
	Settings int
}

// Watch says for every stretch of rail, and every full valid setting, which detectors the current of a train there passes. The current goes by every
// wire to a rail that is live against the other rail, so that it passes a detector whole only where all of one rail's wires do; how it divides is not
// reckoned. Where settings differ in nothing they are told once. Rail in a piece is told for the routes that are set.
//
// It fails with ErrTooBig at more than 2^12 full settings, states of reversers and plugs included.
func (l *Layout) Watch() ([]Watched, error) {
	levers, err := l.levers()
	if err != nil {
		return nil, err
	}
	w := &watcher{Layout: l, levers: levers, graphs: [2]*graph{l.graph(true), l.graph(false)}, index: map[string]int{}}
	var loose []int
	states := 1
	knobs, _ := l.used()
	for k, kn := range l.knobs {
		if kn.name == "" && kn.piece < 0 && knobs[k] {
			loose = append(loose, k)
			if states *= kn.states; states > mostPoses {
				return nil, ErrTooBig
			}
		}
	}
	err = l.eachPose(levers, mostPoses/states, func(ps *pose, chosen []int) {
		w.ps, w.chosen = ps, chosen
		for i, g := range w.graphs {
			w.sets[i] = newSets(len(g.labels))
			for _, e := range g.edges {
				if e.in>>ps.lie[e.piece]&1 == 1 {
					w.sets[i].union(e.a, e.b)
				}
			}
			w.at[i] = make([][]int, len(g.labels))
			for n, labels := range g.labels {
				for _, t := range labels {
					root := w.sets[i].find(n)
					w.at[i][root] = insert(w.at[i][root], t)
				}
			}
			for root := range w.at[i] {
				w.at[i][root] = l.withClosed(w.at[i][root])
			}
		}
		l.someState(loose, ps, func(state []int) bool {
			w.state = state
			w.look()
			return false
		})
	})
	return w.out, err
}

// withClosed adds the terminals that buses closed into rings join to some.
func (l *Layout) withClosed(ts []int) []int {
	for range l.closed {
		for _, c := range l.closed {
			for leg := range 2 {
				x, y := c.legs[leg], c.ends[leg]
				if x >= 0 && y >= 0 && (slices.Contains(ts, x) || slices.Contains(ts, y)) {
					ts = insert(insert(slices.Clone(ts), x), y)
				}
			}
		}
	}
	return ts
}

type watcher struct {
	*Layout
	levers []lever
	graphs [2]*graph // of what surely conducts, and of what may
	sets   [2]sets
	at     [2][][]int // terminals by root
	ps     *pose
	state  []int
	chosen []int
	index  map[string]int
	out    []Watched
}

// look goes over all the rail in one state of everything.
func (w *watcher) look() {
	for _, r := range w.runs {
		edges := []float64{r.s0, r.s1}
		for rail := range 2 {
			for _, c := range r.cuts[rail] {
				edges = append(edges, c.at)
			}
		}
		slices.Sort(edges)
		edges = slices.CompactFunc(edges, func(x, y float64) bool { return math.Abs(y-x) <= tiny })
		for i := 1; i < len(edges); i++ {
			var nodes [2]int
			for rail := range 2 {
				k := 0
				for k < len(r.cuts[rail]) && r.cuts[rail][k].at < edges[i]-tiny/2 {
					k++
				}
				nodes[rail] = r.nodes[rail][k]
			}
			w.note(w.tracks[r.track].name, edges[i-1], edges[i], nodes)
		}
	}
	for p, pc := range w.pieces {
		for _, way := range pc.settings[w.ps.lie[p]].routes {
			x, y := w.pieceEnd(p, way[0]), w.pieceEnd(p, way[1])
			if w.ends[x].pit {
				continue
			}
			name := fmt.Sprintf("%s %s-%s", pc.name, way[0], way[1])
			w.note(name, 0, pc.length/2, w.ends[x].rails)
			w.note(name, pc.length/2, pc.length, w.ends[y].rails)
		}
	}
	for p, pc := range w.pieces {
		if at := slices.IndexFunc(w.edges, func(e edge) bool { return e.piece == p && e.in>>w.ps.lie[p]&1 == 1 }); at >= 0 {
			w.note(pc.name, 0, pc.bridge, [2]int{w.edges[at].left, w.edges[at].right})
		}
	}
}

// note keeps what is seen of a train between two rails.
func (w *watcher) note(name string, from, to float64, nodes [2]int) {
	if to-from <= tiny {
		return
	}
	sure, live := w.seen(0, nodes)
	may, maybeLive := w.seen(1, nodes)
	v := Watched{Place: name, From: math.Round(from*1e6) / 1e6, To: math.Round(to*1e6) / 1e6, Dead: !live && !maybeLive, Seen: map[string]string{}}
	for _, d := range sortedKeys(w.detectors) {
		switch {
		case sure[d] == may[d] && may[d] != "":
			v.Seen[d] = may[d]
		case sure[d] != may[d]:
			v.Seen[d] = Unsure
		}
	}
	key := fmt.Sprint(v.Place, v.From, v.To, v.Dead, v.Seen)
	if at, ok := w.index[key]; ok {
		w.out[at].Settings++
		return
	}
	v.Setting, v.Settings = settingNames(w.levers, w.chosen), 1
	w.index[key] = len(w.out)
	w.out = append(w.out, v)
}

// seen says what each detector sees of the current between two rails, in the metal of one graph, and whether any flows.
func (w *watcher) seen(i int, nodes [2]int) (share map[string]string, live bool) {
	var at, legs [2][]int
	for rail := range 2 {
		at[rail] = w.at[i][w.sets[i].find(w.graphs[i].net[nodes[rail]])]
	}
	for _, x := range at[0] {
		for _, y := range at[1] {
			if opposite, _ := w.clash(x, y, w.ps, w.state); opposite {
				legs[0], legs[1] = insert(legs[0], x), insert(legs[1], y)
			}
		}
	}
	share = map[string]string{}
	for rail := range 2 {
		passed := map[string]int{}
		for _, t := range legs[rail] {
			for _, d := range w.onTheWay(t) {
				passed[d]++
			}
		}
		for d, n := range passed {
			switch {
			case n == len(legs[rail]):
				share[d] = All
			case share[d] != All:
				share[d] = Part
			}
		}
	}
	return share, len(legs[0]) > 0
}

// onTheWay lists the detectors between a terminal and where its leg begins, as everything lies.
func (w *watcher) onTheWay(t int) []string {
	var out []string
	for t >= 0 {
		for _, d := range sortedKeys(w.detectors) {
			if w.detectors[d] == t && !slices.Contains(out, d) {
				out = append(out, d)
			}
		}
		tm := w.terminals[t]
		if tm.ups == nil {
			break
		}
		lies := 0
		if tm.knob >= 0 {
			lies = w.state[tm.knob]
		}
		t = tm.ups[lies]
	}
	return out
}
