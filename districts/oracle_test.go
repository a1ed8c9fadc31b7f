package districts_test

import (
	"cmp"
	"slices"
)

// A second opinion on small track plans, by brute force. It knows the language's rules of
// left and right (language.md, sections 3 and 5) from tables of its own, lays every rail as
// points and links, and follows them by plain search. It shares no code with the packages it
// judges.

// planRail is a rail by its piece's own walk.
type planRail int

const (
	planLeft planRail = iota
	planRight
)

// planEnd is an end of a piece: of a track 0 start, 1 end; of a turnout 0 points, 1
// straight, 2 curved.
type planEnd struct {
	turnout bool
	piece   int
	end     int
}

// startsWalk says which ends a piece's walk begins at: a track's start, a turnout's
// points.
func (e planEnd) startsWalk() bool { return e.end == 0 }

// planTrack is a track of whole feet, with turnouts standing on it.
type planTrack struct {
	feet   int
	closed bool
	bodies []planBody
}

// planBody is a turnout that stands on a track: enter is the end met first on the way
// from the track's start, leave the other.
type planBody struct {
	turnout      int
	foot         int
	enter, leave int
}

// planTurnout is a dead-frog turnout with jumpers, by hand.
type planTurnout struct{ leftHand bool }

// planGap cuts rails of a track at a reading in feet, or, where that is -1, at an end of a
// piece; left and right are by that piece's walk. No clash is looked for at an excused one.
type planGap struct {
	track       int
	foot        float64
	at          planEnd
	left, right bool
	excused     bool
}

// planFeeder stands at a reading of a track in feet, or, where that is -1, at an end of a
// turnout.
type planFeeder struct {
	track   int
	foot    float64
	at      planEnd
	booster int
	aRight  bool
}

// plan is a small track plan with its feeding.
type plan struct {
	tracks   []planTrack
	turnouts []planTurnout
	joins    [][2]planEnd // every end that meets another
	gaps     []planGap
	feeders  []planFeeder
	boosters int
	// signal says of each booster whether it follows the one command signal straight or
	// crossed, or does not say.
	signal []string
}

// point is where a rail can be reached: a rail of a stretch of a track between two things
// that stand on it, or of an end of a turnout.
type point struct {
	turnout bool
	piece   int
	part    int // of a track: which stretch; of a turnout: which end
	rail    planRail
}

// wheels is a cut in a rail that a wheel can bridge.
type wheels struct {
	a, b point
	half bool // the other rail goes on
}

// rails is a plan laid out.
type rails struct {
	links  map[point][]point
	points []point
	wheels []wheels
}

func (r *rails) add(p point) {
	if _, found := r.links[p]; !found {
		r.links[p] = nil
		r.points = append(r.points, p)
	}
}

func (r *rails) link(a, b point) {
	r.add(a)
	r.add(b)
	r.links[a] = append(r.links[a], b)
	r.links[b] = append(r.links[b], a)
}

// cut says which rails are cut at a meeting, by the walk of one side.
type cut struct{ left, right, excused bool }

func (c cut) swapped() cut { return cut{c.right, c.left, c.excused} }

func (c cut) and(g *planGap) cut {
	return cut{c.left || g.left, c.right || g.right, c.excused || g.excused}
}

// meet joins two places rail by rail, but for the rails that are cut (by the walk of the
// first). When both are starts of a walk, or both ends, left lies on right.
func (r *rails) meet(a, b [2]point, like bool, c cut) {
	for rail, open := range []bool{c.left, c.right} {
		other := rail
		if like {
			other = 1 - rail
		}
		r.add(a[rail])
		r.add(b[other])
		switch {
		case !open:
			r.link(a[rail], b[other])
		case !c.excused:
			r.wheels = append(r.wheels, wheels{a[rail], b[other], c.left != c.right})
		}
	}
}

// cutAt collects the gaps at an end of a piece, by its walk.
func (p *plan) cutAt(e planEnd) (c cut) {
	for i := range p.gaps {
		if g := &p.gaps[i]; g.foot < 0 && g.at == e {
			c = c.and(g)
		}
	}
	return c
}

// lay lays every rail of a plan.
func (p *plan) lay() *rails {
	r := &rails{links: map[point][]point{}}
	for t := range p.turnouts {
		p.layTurnout(r, t)
	}
	for t := range p.tracks {
		p.layTrack(r, t)
	}
	for _, j := range p.joins {
		like := j[0].startsWalk() == j[1].startsWalk()
		here, there := p.cutAt(j[0]), p.cutAt(j[1])
		if like {
			there = there.swapped()
		}
		r.meet(p.pointsAt(j[0]), p.pointsAt(j[1]), like, cut{here.left || there.left, here.right || there.right, here.excused || there.excused})
	}
	return r
}

// layTurnout: with a dead frog and jumpers the left rails of all three ends are one, and
// the right rails too: stock rail, blade and closure of a side, and by the jumper the
// inner rail beyond the frog (section 5, dead-frog). The hand only says which leg lies on
// the left, so it makes no difference here.
func (p *plan) layTurnout(r *rails, t int) {
	for _, rail := range []planRail{planLeft, planRight} {
		r.link(point{true, t, 0, rail}, point{true, t, 1, rail})
		r.link(point{true, t, 0, rail}, point{true, t, 2, rail})
	}
}

// layTrack walks a track from its start: a new stretch begins at each gap and beyond each
// body.
func (p *plan) layTrack(r *rails, t int) {
	track := &p.tracks[t]
	part := 0
	both := func(part int) [2]point {
		return [2]point{{false, t, part, planLeft}, {false, t, part, planRight}}
	}
	r.add(both(0)[0])
	r.add(both(0)[1])
	for _, at := range p.standing(t) {
		if at.gap >= 0 {
			r.meet(both(part), both(part+1), false, cut{}.and(&p.gaps[at.gap]))
			part++
			continue
		}
		// The track arrives with the end of a walk, and leaves with the start of one.
		b := track.bodies[at.body]
		enter, leave := planEnd{true, b.turnout, b.enter}, planEnd{true, b.turnout, b.leave}
		r.meet(p.pointsAt(enter), both(part), !enter.startsWalk(), p.cutAt(enter))
		part++
		r.meet(p.pointsAt(leave), both(part), leave.startsWalk(), p.cutAt(leave))
	}
	if track.closed {
		var c cut
		for i := range p.gaps {
			if g := &p.gaps[i]; g.foot == 0 && g.track == t {
				c = c.and(g)
			}
		}
		r.meet(both(part), both(0), false, c)
	}
}

// stands is a gap or a body on a track; of gap and body one is -1.
type stands struct {
	foot      float64
	gap, body int
}

// standing lists what parts a track, from its start; what stands at 0 parts the ends of a
// ring from each other.
func (p *plan) standing(t int) []stands {
	var out []stands
	for i, g := range p.gaps {
		if g.foot > 0 && g.track == t {
			out = append(out, stands{g.foot, i, -1})
		}
	}
	for i, b := range p.tracks[t].bodies {
		out = append(out, stands{float64(b.foot), -1, i})
	}
	slices.SortFunc(out, func(x, y stands) int { return cmp.Compare(x.foot, y.foot) })
	return out
}

// partAt numbers the stretch that holds a reading of a track.
func (p *plan) partAt(t int, foot float64) int {
	part := 0
	for _, s := range p.standing(t) {
		if s.foot <= foot {
			part++
		}
	}
	return part
}

// pointsAt are the two rails at an end of a piece.
func (p *plan) pointsAt(e planEnd) [2]point {
	part := e.end
	if !e.turnout {
		part = 0
		if e.end == 1 {
			part = p.partAt(e.piece, float64(p.tracks[e.piece].feet))
		}
	}
	return [2]point{{e.turnout, e.piece, part, planLeft}, {e.turnout, e.piece, part, planRight}}
}

// bridge gives the links of the metal, and, when a long train stands on every gap that cuts
// one rail only, across those too.
func (r *rails) bridge(half bool) map[point][]point {
	links := map[point][]point{}
	for q, to := range r.links {
		links[q] = append(links[q], to...)
	}
	for _, w := range r.wheels {
		if half && w.half {
			links[w.a] = append(links[w.a], w.b)
			links[w.b] = append(links[w.b], w.a)
		}
	}
	return links
}

// carried is what reaches a rail: for each booster, leg A and leg B.
type carried map[int][2]bool

// follow spreads from every feeder.
func (p *plan) follow(r *rails, links map[point][]point) map[point]carried {
	out := map[point]carried{}
	for _, q := range r.points {
		out[q] = carried{}
	}
	for _, f := range p.feeders {
		at := p.pointsAt(f.at)
		if f.foot >= 0 {
			part := p.partAt(f.track, f.foot)
			at = [2]point{{false, f.track, part, planLeft}, {false, f.track, part, planRight}}
		}
		for leg := range 2 {
			rail := leg
			if f.aRight {
				rail = 1 - leg
			}
			for q := range spread(links, at[rail]) {
				has := out[q][f.booster]
				has[leg] = true
				out[q][f.booster] = has
			}
		}
	}
	return out
}

func spread(links map[point][]point, from point) map[point]bool {
	seen := map[point]bool{from: true}
	for queue := []point{from}; len(queue) > 0; {
		q := queue[0]
		queue = queue[1:]
		for _, o := range links[q] {
			if !seen[o] {
				seen[o] = true
				queue = append(queue, o)
			}
		}
	}
	return seen
}

// verdict is what is wrong with a plan.
type verdict struct {
	short bool // metal joins both legs of a booster
	tie   bool // metal joins two boosters
	clash bool // a wheel on a gap joins opposite legs, however the boosters lie in phase
	ring  bool // metal joins the two rails of one place, fed or not
}

func (v verdict) clean() bool { return v == verdict{} }

// judge says what is wrong. bridged asks it with trains standing on all gaps that cut one
// rail only.
func (p *plan) judge(bridged bool) verdict {
	r := p.lay()
	links := r.bridge(bridged)
	has := p.follow(r, links)
	var v verdict
	for _, q := range r.points {
		boosters := 0
		for _, legs := range has[q] {
			boosters++
			v.short = v.short || (legs[0] && legs[1])
		}
		v.tie = v.tie || boosters > 1
		if q.rail == planLeft {
			other := q
			other.rail = planRight
			v.ring = v.ring || spread(links, q)[other]
		}
	}
	v.clash = true
	for _, phase := range p.phases() {
		v.clash = v.clash && clashes(r, has, phase)
	}
	return v
}

// phases are the ways in which the boosters may lie to each other: one where every
// booster says how its signal is wired, else each that fits what is said.
func (p *plan) phases() [][]bool {
	var out [][]bool
	for bits := range 1 << p.boosters {
		phase := make([]bool, p.boosters)
		fits := true
		for b := range phase {
			phase[b] = bits>>b&1 == 1
			switch p.signal[b] {
			case "straight":
				fits = fits && !phase[b]
			case "crossed":
				fits = fits && phase[b]
			}
		}
		if fits {
			out = append(out, phase)
		}
	}
	return out
}

// clashes reports whether some wheel joins opposite legs.
func clashes(r *rails, has map[point]carried, phase []bool) bool {
	for _, w := range r.wheels {
		for x, xs := range has[w.a] {
			for y, ys := range has[w.b] {
				for legX := range 2 {
					for legY := range 2 {
						if xs[legX] && ys[legY] && (legX == legY) == (phase[x] != phase[y]) {
							return true
						}
					}
				}
			}
		}
	}
	return false
}
