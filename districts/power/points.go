package power

import (
	"cmp"
	"slices"

	"gapwise/netlist/conductor"
	"gapwise/netlist/layout"
	"gapwise/netlist/network"
	"gapwise/netlist/solve"

	"gapwise/districts"
)

// Point is a place of track (Way is a length of track, T the share of it from its A spot) or
// a tap of a bus (Way -1), with what a source sees there.
type Point struct {
	Head     *Head
	Way      int32
	T        float64
	Bus      int32
	At       float64 // metres on the track's ruler, or on the bus
	Guard    int32   // index into Guards of the weak network
	Settings []districts.Setting

	Loop  conductor.Range // ohms of the whole loop, the source's own included, the short's not
	Drop  conductor.Range // volts that detectors on the way drop
	Short conductor.Range // amperes of direct current into a short, its own ohms included
}

// short works out the current of a short from the rest. It is 0 .. 0 when the volts are not known.
func (p *Point) short(s *Study) {
	h := p.Head
	p.Short = conductor.Range{
		Lo: max(0, h.Volts.Lo-p.Drop.Hi) / (p.Loop.Hi + s.Short.Hi),
		Hi: max(0, h.Volts.Hi-p.Drop.Lo) / (p.Loop.Lo + s.Short.Lo),
	}
}

// volts is what detectors drop on the way to a conductor of a leg, at its farther node.
func (l *Leg) voltsAt(edge int32) float64 {
	e := &l.Net.Edges[edge]
	return max(l.Volts(e.I), l.Volts(e.J))
}

// guardOf is the guard of a length of track.
func (x *Solved) guardOf(p *network.RailPair) int32 {
	g := int32(0)
	for leg := range x.Leg {
		e := &x.Leg[leg].Net.Edges[p.Edge[leg]]
		own := x.Leg[leg].Guard(e.I)
		if e.I == solve.Ground {
			own = x.Leg[leg].Guard(e.J)
		}
		if leg == 0 {
			g = own
		} else {
			g = x.deeper(g, own)
		}
	}
	return g
}

// railOn finds a length of track among those whose rails lie on two legs; nil for none.
func (x *Solved) railOn(way int32) *network.RailPair {
	i, found := slices.BinarySearchFunc(x.Rails, way, func(p network.RailPair, w int32) int { return cmp.Compare(p.Way, w) })
	if !found {
		return nil
	}
	return &x.Rails[i]
}

// tapOn finds a tap among those with both legs at hand; nil for none.
func (x *Solved) tapOn(bus int32, at float64) *network.TapPair {
	i, found := slices.BinarySearchFunc(x.Taps, at, func(p network.TapPair, at float64) int {
		return cmp.Or(cmp.Compare(p.Bus, bus), cmp.Compare(p.At, at))
	})
	if !found {
		return nil
	}
	return &x.Taps[i]
}

// at is a point of track in a weak network, and the same in the strong one.
func (x *Solved) at(p *network.RailPair, t float64) Point {
	h := x.Head
	w := &h.Study.C.Ways[p.Way]
	from, to := h.Study.C.Spots[w.A].At, h.Study.C.Spots[w.B].At
	out := Point{Head: h, Way: p.Way, T: t, Bus: -1, At: from + t*(to-from), Guard: x.guardOf(p), Settings: x.Settings}
	out.Loop.Hi = h.Inside.Hi + x.Along(p).At(t)
	out.Drop.Hi = x.Leg[0].voltsAt(p.Edge[0]) + x.Leg[1].voltsAt(p.Edge[1])
	out.Loop.Lo, out.Drop.Lo = h.Inside.Lo, 0
	strong := h.Strong
	if x.Best != nil {
		strong = x.Best
	}
	if q := strong.railOn(p.Way); q != nil {
		out.Loop.Lo += strong.Along(q).At(t)
		out.Drop.Lo = strong.Leg[0].voltsAt(q.Edge[0]) + strong.Leg[1].voltsAt(q.Edge[1])
	}
	out.short(h.Study)
	return out
}

// atTap is a tap of a bus, as a point.
func (x *Solved) atTap(i int) Point {
	h := x.Head
	p := &x.Taps[i]
	out := Point{Head: h, Way: -1, Bus: p.Bus, At: p.At, Settings: x.Settings}
	out.Guard = x.deeper(x.Leg[0].Guard(p.Node[0]), x.Leg[1].Guard(p.Node[1]))
	out.Loop.Hi = h.Inside.Hi + x.Leg[0].Ohms(p.Node[0]) + x.Leg[1].Ohms(p.Node[1])
	out.Drop.Hi = x.Leg[0].Volts(p.Node[0]) + x.Leg[1].Volts(p.Node[1])
	out.Loop.Lo = h.Inside.Lo
	s := h.Strong
	if q := s.tapOn(p.Bus, p.At); q != nil {
		out.Loop.Lo += s.Leg[0].Ohms(q.Node[0]) + s.Leg[1].Ohms(q.Node[1])
		out.Drop.Lo = s.Leg[0].Volts(q.Node[0]) + s.Leg[1].Volts(q.Node[1])
	}
	out.short(h.Study)
	return out
}

// PointOn is a reading of a track's ruler, as a point; ok is false where no rail pair of a
// source that was computed is there. Where the rails are fed in settings of track work only, the point
// stands in such settings.
func (s *Study) PointOn(track int32, at float64) (p Point, ok bool) {
	way, t := s.WayOn(track, at)
	if way < 0 {
		return p, false
	}
	return s.PointAt(way, t)
}

// PointAt is a share t of a length of track, as a point.
func (s *Study) PointAt(way int32, t float64) (p Point, ok bool) {
	for _, h := range s.Heads {
		if !h.Known() {
			continue
		}
		for _, x := range h.weak() {
			pair := x.railOn(way)
			if pair == nil {
				continue
			}
			p = x.at(pair, t)
			p.Guard = max(0, h.guardIn(x, p.Guard))
			return p, true
		}
	}
	return p, false
}

// PointOf is the point of a place on the rails.
func (s *Study) PointOf(p layout.Place) (Point, bool) {
	way, t := s.wayAt(p)
	if way < 0 {
		return Point{}, false
	}
	return s.PointAt(way, t)
}

// DropAt is the drop at a point with every train that may move at once there, as far as the guards let
// it pass: the bound of Drop.Most for that very point.
func (p *Point) DropAt() (volts, amps float64) {
	amps, rest, _, _ := p.Head.amps(p.Guard)
	volts = amps*p.Loop.Hi + p.Drop.Hi
	if rest > 0 {
		volts += rest * p.Head.Weak.hangsAt(p.Guard)
	}
	if amps == 0 {
		volts = 0
	}
	return volts, amps + rest
}
