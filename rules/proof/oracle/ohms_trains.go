package oracle

import (
	"cmp"
	"math"
	"slices"
	"strconv"
)

// traffic is the trains that may move at once, the hungriest first, and how far places lie apart.
type traffic struct {
	e      *electric
	amps   []float64
	length float64 // of the longest train, metres
	where  map[[2]int]int
	ways   [][]way
}

// way leads to another place.
type way struct {
	to     int
	metres float64
}

func (e *electric) newTraffic() *traffic {
	t := &traffic{e: e, where: map[[2]int]int{}}
	most := 0
	for _, x := range e.doc.sections["operations"] {
		if x.name == "at-once" {
			most, _ = strconv.Atoi(x.node.Value)
		}
	}
	for _, x := range e.doc.sections["trains"] {
		f, err := e.doc.fields("trains", "train", x)
		if err != nil {
			continue
		}
		amps := amount(f.text("current"), ampUnits)
		if !amps.known() {
			continue
		}
		times, err := strconv.Atoi(f.text("at-once"))
		if err != nil {
			times = 1
		}
		for range times {
			t.amps = append(t.amps, amps.hi)
		}
		t.length = max(t.length, lengthOf(f.text("length")).or(exactly(0)).hi)
	}
	slices.SortFunc(t.amps, func(x, y float64) int { return cmp.Compare(y, x) })
	if most > 0 && len(t.amps) > most {
		t.amps = t.amps[:most]
	}
	t.survey()
	return t
}

// vertex is the number of a place: rails that are one metal, or the two sides of a joint, are two places.
func (t *traffic) vertex(rails [2]int) int {
	v, ok := t.where[rails]
	if !ok {
		v = len(t.ways)
		t.where[rails] = v
		t.ways = append(t.ways, nil)
	}
	return v
}

func (t *traffic) link(x, y [2]int, metres float64) {
	v, w := t.vertex(x), t.vertex(y)
	t.ways[v] = append(t.ways[v], way{w, metres})
	t.ways[w] = append(t.ways[w], way{v, metres})
}

// survey links all places along the track.
func (t *traffic) survey() {
	e := t.e
	for i, b := range e.bars {
		t.link(b.a, b.b, b.to-b.from)
		if i > 0 && e.bars[i-1].run == b.run {
			t.link(e.bars[i-1].b, b.a, 0)
		}
	}
	for _, j := range e.joints {
		t.link(e.endRails[j.ends[0]], e.endRails[j.ends[1]], 0)
	}
	for p, piece := range e.pieces {
		length := max(piece.length, piece.bridge)
		for i, x := range piece.ends {
			for _, y := range piece.ends[:i] {
				t.link(e.endRails[x], e.endRails[y], length)
			}
		}
		for _, post := range e.posts {
			if post.piece == p && (post.end == "head" || post.end == "tail") {
				for _, x := range piece.ends {
					t.link(post.rails, e.endRails[x], 0)
				}
			}
		}
	}
}

// within lists the places less than some metres from where a point lies.
func (t *traffic) within(p probe, metres float64) map[int]float64 {
	out := map[int]float64{}
	var queue []way
	start := func(rails [2]int, d float64) { queue = append(queue, way{t.vertex(rails), d}) }
	if p.bar >= 0 {
		b := t.e.bars[p.bar]
		start(b.a, p.At-b.from)
		start(b.b, b.to-p.At)
	} else {
		start([2]int{p.rails[0].a, p.rails[1].a}, 0)
	}
	for len(queue) > 0 {
		at := 0
		for i := range queue {
			if queue[i].metres < queue[at].metres {
				at = i
			}
		}
		w := queue[at]
		queue[at] = queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		if d, ok := out[w.to]; ok && d <= w.metres || w.metres >= metres-tiny {
			continue
		}
		out[w.to] = w.metres
		for _, next := range t.ways[w.to] {
			queue = append(queue, way{next.to, w.metres + next.metres})
		}
	}
	return out
}

// stand is a place where a further train may stand: a node of rail that is fed in every setting.
type stand struct {
	probe probe
	f     found
	at    int // its vertex
}

// place puts the trains at and around every point.
func (s *survey) place() {
	stands := s.stands()
	for i := range s.points {
		l := s.loops[i]
		p := &s.points[i]
		if l.in == nil {
			if p.Source != "" {
				p.Drop, p.DropMost, p.DropLeast = math.NaN(), math.NaN(), math.NaN()
			}
			continue
		}
		left := s.room(l.f)
		here, two := 0.0, 0.0
		for k, amps := range s.traffic.amps {
			amps = min(amps, left.least(l.f))
			left.take(l.f, amps)
			here += amps
			if k < 2 {
				two += amps
			}
		}
		p.Amps = here
		p.Drop = here*p.ROhmWeak + l.f.volts
		p.DropMost = s.most(i) + l.f.volts
		p.DropLeast = two*p.ROhmWeak + l.f.volts
		if len(s.traffic.amps) > 2 && l.in == s.weak.still {
			p.DropLeast += s.further(i, two, stands)
		}
		if len(s.traffic.amps) == 0 {
			p.Drop, p.DropMost, p.DropLeast = 0, 0, 0
		}
	}
}

// most bounds the drop at a point over all placings, without what detectors take. What stands behind the innermost
// guard counts as if it stood at the point; more than that guard lets through stands before it, and takes from the
// point no more than it takes from the guard's own input; and so on to the source.
func (s *survey) most(i int) float64 {
	l := s.loops[i]
	head := s.e.heads[l.f.head]
	legs := l.in.legs[l.f.head]
	at := s.probes[i].rails // by leg from here on
	if l.f.flip {
		at[0], at[1] = at[1], at[0]
	}
	ohms := func() float64 {
		sum := head.inside.hi
		for side := range 2 {
			if legs[side].in(at[side]) {
				sum += l.in.self(legs[side], at[side])
			}
		}
		return sum
	}
	left := 0.0
	for _, amps := range s.traffic.amps {
		left += amps
	}
	if head.trips.known() {
		left = min(left, head.trips.hi)
	}
	sum, used := 0.0, 0.0
	for k := len(l.f.guards) - 1; k >= 0; k-- {
		g := s.e.guards[l.f.guards[k]]
		if !g.trips.known() {
			continue
		}
		take := min(left, max(0, g.trips.hi-used))
		sum += take * ohms()
		used += take
		left -= take
		for _, b := range g.branches {
			up, out := s.e.branches[b].a, s.e.branches[b].b
			for side := range 2 {
				if legs[side].at[out] >= 0 {
					at[side] = mix{up, up, 0, exactly(0)}
				}
			}
		}
	}
	return sum + left*ohms()
}

// stands lists where further trains may stand.
func (s *survey) stands() []stand {
	var out []stand
	if len(s.traffic.amps) < 3 {
		return nil
	}
	for i, p := range s.probes {
		if l := s.loops[i]; l.in == s.weak.still && l.in != nil && p.rails[0].t == 0 {
			out = append(out, stand{p, l.f, s.traffic.vertex([2]int{p.rails[0].a, p.rails[1].a})})
		}
	}
	return out
}

// further adds, one train after the other, each where it takes most from point i, a train's length from those before.
func (s *survey) further(i int, two float64, stands []stand) float64 {
	mine := s.loops[i].f
	left := s.room(mine)
	left.take(mine, two)
	taken := s.traffic.within(s.probes[i], s.traffic.length)
	sum := 0.0
	for _, amps := range s.traffic.amps[2:] {
		best, bestVolts, bestAmps := -1, 0.0, 0.0
		for k, y := range stands {
			if y.f.head != mine.head {
				continue
			}
			if _, near := taken[y.at]; near {
				continue
			}
			may := min(amps, left.least(y.f))
			if volts := may * (s.e.heads[mine.head].inside.hi + s.mutual(s.probes[i].rails, mine, y.probe.rails, y.f)); volts > bestVolts {
				best, bestVolts, bestAmps = k, volts, may
			}
		}
		if best < 0 {
			break
		}
		sum += bestVolts
		left.take(stands[best].f, bestAmps)
		for v, d := range s.traffic.within(stands[best].probe, s.traffic.length) {
			taken[v] = d
		}
	}
	return sum
}

// mutual is what one ampere at y takes from x, in ohms, without the source's inside.
func (s *survey) mutual(x [2]mix, fx found, y [2]mix, fy found) float64 {
	in := s.weak.still
	sum := 0.0
	for side := range 2 {
		l := in.legs[fx.head][side]
		mx, my := x[side], y[side]
		if fx.flip {
			mx = x[1-side]
		}
		if fy.flip {
			my = y[1-side]
		}
		for i, a := range mx.nodes() {
			if w := mx.weights()[i]; w > 0 {
				sum += w * in.between(l, a, my.a)
			}
		}
	}
	return sum
}

// allowance is how much current each guard still lets through, and the source.
type allowance struct {
	source float64
	guards map[int]float64
	of     []guard
}

func (s *survey) room(f found) *allowance {
	a := &allowance{math.Inf(1), map[int]float64{}, s.e.guards}
	if trips := s.e.heads[f.head].trips; trips.known() {
		a.source = trips.hi
	}
	return a
}

func (a *allowance) through(g int) float64 {
	if left, ok := a.guards[g]; ok {
		return left
	}
	if trips := a.of[g].trips; trips.known() {
		return trips.hi
	}
	return math.Inf(1)
}

// least is the current that may still be drawn at a place.
func (a *allowance) least(f found) float64 {
	out := a.source
	for _, g := range f.guards {
		out = min(out, a.through(g))
	}
	return max(0, out)
}

func (a *allowance) take(f found, amps float64) {
	a.source -= amps
	for _, g := range f.guards {
		a.guards[g] = a.through(g) - amps
	}
}
