package generate

import "gapwise/netlist/layout"

// ref is an end of a track or turnout of the plan.
type ref struct {
	turnout bool
	index   int32 // -1: no piece, bare rail
	end     int32
}

var nowhere = ref{index: -1}

// Ends of a turnout.
const (
	points   = layout.TurnoutPoints
	straight = 1
	curved   = 2
)

// bodyLength is how long every turnout is.
const bodyLength = 11

// turnout of the plan.
type turnout struct {
	name     string
	hand     layout.Hand
	switched bool  // its frog is fed by contacts; else it is dead
	on       int32 // the track it stands on, -1 none
}

func (b *builder) turnout(name string) int32 {
	t := turnout{name: name, hand: layout.HandLeft + layout.Hand(b.rand.IntN(2)), switched: b.oneIn(3), on: -1}
	b.conductors += 8 // stock rails, bonds, closures, jumpers
	if t.switched {
		b.conductors += 2
	}
	b.turnouts = append(b.turnouts, t)
	return int32(len(b.turnouts) - 1)
}

func at(turnout, end int32) ref { return ref{turnout: true, index: turnout, end: end} }

// track of the plan. It is laid out along the way we build, its route; Against says that
// its own walk runs the other way. What stands on it is kept by its own walk.
type track struct {
	name     string
	length   int
	use      layout.Use
	straight bool
	against  bool
	aRail    layout.Rail // of leg A, by the track's own walk
	ends     [2]ref      // its own start and end
	stands   []stand
	cuts     []cut
	joins    []railJoint
	feeders  []feeder
}

// stand is a turnout on a track, its first end at at.
type stand struct {
	turnout, first, second int32
	at                     int
}

// cut is a gap in both rails. Joint is JointNone for an insulated one.
type cut struct {
	at    int
	joint layout.ExpansionJoint
}

type railJoint struct {
	at   int
	kind layout.JointKind
}

// route is a track as we build it: places on it are measured from where we came from.
type route struct {
	b  *builder
	id int32
}

// track adds a track from one end to another, its own walk either way round. A is the
// rail of leg A along the route. Joined to another track, it is the later of the two.
func (b *builder) track(name string, length int, use layout.Use, from, to ref, a layout.Rail) route {
	t := track{name: name, length: length, use: use, against: b.oneIn(3), aRail: a, ends: [2]ref{from, to}}
	if t.against {
		t.aRail, t.ends = a.Other(), [2]ref{to, from}
	}
	b.tracks = append(b.tracks, t)
	r := route{b, int32(len(b.tracks) - 1)}
	b.conductors += 2
	for e, other := range t.ends {
		if other.index < 0 {
			continue
		}
		b.conductors += 2
		if !other.turnout {
			b.tracks[other.index].ends[other.end] = ref{index: r.id, end: int32(e)}
		}
	}
	return r
}

func (r route) track() *track { return &r.b.tracks[r.id] }

// own turns a place along the route into one along the track's own walk.
func (r route) own(at int) int {
	if t := r.track(); t.against {
		return t.length - at
	}
	return at
}

// end is the far end of the route.
func (r route) end() ref {
	if r.track().against {
		return ref{index: r.id}
	}
	return ref{index: r.id, end: 1}
}

// gap cuts both rails.
func (r route) gap(at int) { r.cut(at, layout.JointNone) }

func (r route) cut(at int, joint layout.ExpansionJoint) {
	t := r.track()
	t.cuts = append(t.cuts, cut{r.own(at), joint})
	r.b.conductors += 2
	if joint == layout.Sliding || joint == layout.Bonded {
		r.b.conductors += 2
	}
}

// rails puts a rail joint in both rails, at a place of the track's own walk.
func (r route) rails(ownAt int, kind layout.JointKind) {
	t := r.track()
	t.joins = append(t.joins, railJoint{ownAt, kind})
	r.b.conductors += 4
}

// stand puts a turnout on the route, entered by first and left by second.
func (r route) stand(turnout, first, second int32, at int) {
	t := r.track()
	s := stand{turnout, first, second, r.own(at)}
	if t.against {
		s = stand{turnout, second, first, r.own(at + bodyLength)}
	}
	t.stands = append(t.stands, s)
	r.b.turnouts[turnout].on = r.id
	r.b.conductors += 6
}
