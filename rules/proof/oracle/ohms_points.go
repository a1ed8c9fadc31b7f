package oracle

import (
	"errors"
	"math"
	"slices"
)

// Point is a place where both rails are at hand, with what a short or trains there see of one source. Ohms
// are those of the whole loop, the source's own inside with them. Weak takes every resistance at its high
// end in a hot room and only what surely conducts, Strong the other ends; a rail that is fed in some settings
// only has its worst of these in both. A place that two sources may feed is listed for each.
type Point struct {
	Piece string
	At    float64 // metres on a track's ruler; 0 on other pieces
	Side  int     // beside a joint, gap or body: -1 just before it, +1 just after, else 0
	End   string  // of a piece other than track: which end; "" on tracks

	Source                 string  // "booster one"; "" where nothing could be tried
	ROhmWeak, ROhmStrong   float64 // +Inf where unfed at that corner
	ShortWeak, ShortStrong float64 // amperes, with a short of 0.5 and of 0.1 Ω; NaN when the volts are unknown
	Drop                   float64 // volts, with all the trains here that may move at once, as far as nothing trips
	DropMost               float64 // bound of every placing: what Drop leaves out stands just before what would trip
	DropLeast              float64 // a placing that can be: two trains here and the others, a train's length apart, where they add most
	Amps                   float64 // of the trains that Drop counts

	Guard      string  // what trips first on the way: its device, or the source
	Trips      float64 // the least that it may trip at; NaN when unknown
	TripsMost  float64
	ByLamp     bool // a lamp limits a short here on purpose
	Assumed    bool // a wire, rail or length on the way is a guess
	InSettings bool // fed in some settings only
	Skipped    bool // the settings that feed it are too many to try
}

// probe is where a point lies.
type probe struct {
	Point
	rails [2]mix
	bar   int // -1 on pieces
}

// interior is how many points lie inside each length of rail.
const interior = 5

// probes lists the grid: every place where something stands, and points between.
func (e *electric) probes() []probe {
	var out []probe
	for i, b := range e.bars {
		at := func(t float64, side int) {
			p := probe{bar: i}
			p.Piece, p.At, p.Side = e.tracks[b.track].name, b.from+t*(b.to-b.from), side
			for rail := range 2 {
				p.rails[rail] = mix{b.a[rail], b.b[rail], t, b.ohms}
				if t == 1 {
					p.rails[rail] = mix{b.b[rail], b.b[rail], 0, b.ohms}
				}
			}
			out = append(out, p)
		}
		if i == 0 || e.bars[i-1].b != b.a { // else the length before ends at the same metal
			at(0, 1)
		}
		for k := 1; k <= interior; k++ {
			at(float64(k)/(interior+1), 0)
		}
		side := -1
		if i+1 < len(e.bars) && e.bars[i+1].a == b.b {
			side = 0
		}
		at(1, side)
	}
	for _, x := range e.posts {
		p := probe{bar: -1}
		p.Piece, p.End = e.pieces[x.piece].name, x.end
		for rail := range 2 {
			p.rails[rail] = mix{x.rails[rail], x.rails[rail], 0, exactly(0)}
		}
		out = append(out, p)
	}
	return out
}

// survey is everything that was computed of a layout.
type survey struct {
	e            *electric
	weak, strong *trial
	points       []Point
	probes       []probe // of each point
	loops        []loop  // of each point
	traffic      *traffic
}

// loop is how a point hangs from its source where the loop is weakest.
type loop struct {
	f  found
	in *state // nil where it is not surely fed
}

// Ohms computes the numbers of every point of a flat layout's rails. Ohms are for sound wiring only: a source whose
// legs meet gives no points but a *LegsMeetError, joined to those of others, beside the points of the rest.
func Ohms(text string) ([]Point, error) {
	s, err := surveyed(text)
	if s == nil {
		return nil, err
	}
	return s.points, err
}

func surveyed(text string) (*survey, error) {
	e, err := readElectric(text)
	if err != nil {
		return nil, err
	}
	s := &survey{e: e, weak: e.newTrial(true), strong: e.newTrial(false), traffic: e.newTraffic()}
	for _, p := range e.probes() {
		s.point(p)
	}
	var meets []error
	for h, head := range e.heads {
		if sure := s.weak.meet[h]; sure || s.strong.meet[h] {
			meets = append(meets, &LegsMeetError{head.String(), sure})
			s.forget(head.String())
		}
	}
	s.place()
	return s, errors.Join(meets...)
}

// forget leaves out the points of a source.
func (s *survey) forget(source string) {
	kept := 0
	for i := range s.points {
		if s.points[i].Source != source {
			s.points[kept], s.probes[kept], s.loops[kept] = s.points[i], s.probes[i], s.loops[i]
			kept++
		}
	}
	s.points, s.probes, s.loops = s.points[:kept], s.probes[:kept], s.loops[:kept]
}

// point computes a probe at both corners.
func (s *survey) point(p probe) {
	weak, strong := s.weak.ask(p.rails), s.strong.ask(p.rails)
	p.Skipped = weak.skipped || strong.skipped
	p.InSettings = weak.some
	if p.Skipped && len(weak.all) == 0 && len(strong.all) == 0 {
		nan := math.NaN()
		p.ROhmWeak, p.ROhmStrong, p.ShortWeak, p.ShortStrong = nan, nan, nan, nan
		p.Drop, p.DropMost, p.DropLeast, p.Amps, p.Trips, p.TripsMost = nan, nan, nan, nan, nan, nan
		s.keep(p, loop{})
		return
	}
	for h := range s.e.heads {
		of := func(a answer) int { return slices.IndexFunc(a.all, func(f found) bool { return f.head == h }) }
		w, g := of(weak), of(strong)
		if w < 0 && g < 0 {
			continue
		}
		head := s.e.heads[h]
		p.Source = head.String()
		p.ROhmWeak, p.ROhmStrong, p.ShortWeak, p.ShortStrong = math.Inf(1), math.Inf(1), 0, 0
		short := s.e.limit("short-resistance", ohmUnits).or(shortOhms)
		var l loop
		if g >= 0 {
			p.ROhmStrong = head.inside.lo + strong.all[g].ohms
			p.ShortStrong = max(0, head.volts.hi-strong.all[g].volts) / (p.ROhmStrong + short.lo)
			s.name(&p, strong.in[g], strong.all[g])
		}
		if w >= 0 {
			p.ROhmWeak = head.inside.hi + weak.all[w].ohms
			p.ShortWeak = max(0, head.volts.lo-weak.all[w].volts) / (p.ROhmWeak + short.hi)
			s.name(&p, weak.in[w], weak.all[w])
			l = loop{weak.all[w], weak.in[w]}
		}
		s.keep(p, l)
	}
}

func (s *survey) keep(p probe, l loop) {
	s.points = append(s.points, p.Point)
	s.probes = append(s.probes, p)
	s.loops = append(s.loops, l)
}

// name says what guards a point, and whether a guess lies on its way.
func (s *survey) name(p *probe, in *state, f found) {
	g := s.e.firstOf(f.head, f.guards)
	p.Guard, p.Trips, p.TripsMost, p.ByLamp = g.name, g.trips.lo, g.trips.hi, g.lamp
	p.Assumed = false
	legs := in.legs[f.head]
	for turn := range 2 {
		m := p.rails[turn]
		l := legs[turn]
		if f.flip {
			l = legs[1-turn]
		}
		p.Assumed = p.Assumed || in.guessed(l, m)
	}
}

// first is what trips first of all that guards a place.
type first struct {
	name  string
	trips interval // least and most at which something trips; NaN where nothing is known to
	time  interval
	lamp  bool
}

// firstOf finds what trips first: of equals the nearest.
func (e *electric) firstOf(head int, guards []int) first {
	h := e.heads[head]
	out := first{h.String(), h.trips, h.time, false}
	for _, i := range guards {
		g := e.guards[i]
		out.lamp = out.lamp || g.limits
		switch {
		case !g.trips.known():
		case !out.trips.known():
			out.name, out.trips, out.time = g.String(), g.trips, g.time
		default:
			least := min(out.trips.lo, g.trips.lo)
			if g.trips.hi <= out.trips.hi {
				out.name, out.trips, out.time = g.String(), g.trips, g.time
			}
			out.trips.lo = least
		}
	}
	return out
}

// guessed says whether a branch of guessed ohms carries any of a current into a place.
func (s *state) guessed(l *leg, m mix) bool {
	for i, n := range m.nodes() {
		if m.weights()[i] == 0 {
			continue
		}
		v := s.solved(l).column(l.at[n])
		volts := func(x int) float64 {
			if l.at[x] < 0 {
				return 0
			}
			return v[l.at[x]]
		}
		for _, b := range s.guesses(l) {
			if math.Abs(volts(b.a)-volts(b.b))/s.ohms(b) > 1e-6 {
				return true
			}
		}
	}
	return false
}

// guesses are the branches of a leg whose ohms are a guess.
func (s *state) guesses(l *leg) []branch {
	if l.guesses == nil {
		l.guesses = []branch{}
		for i, b := range s.e.branches {
			if b.assumed && (l.at[b.a] >= 0 || l.at[b.b] >= 0) && slices.Contains(s.near[b.a], i) {
				l.guesses = append(l.guesses, b)
			}
		}
	}
	return l.guesses
}
