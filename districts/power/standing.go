package power

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/network"
	"gapwise/netlist/solve"
)

// Standing is what lit buildings, signals and other loads draw all the time from one weak network:
// the drop at every node of each leg, and amperes in all.
type Standing struct {
	Volts [2][]float64 // by node; nil when nothing is drawn
	Amps  float64
	rails []onRail
}

// onRail is a load inside a length of track, at the share t of it.
type onRail struct {
	way     int32
	t, amps float64
}

// standing puts every load with a current where it stands.
func (x *Solved) standing() (Standing, error) {
	var out Standing
	l := x.Head.Study.C.Layout
	var b [2][]float64
	for i := range l.Loads {
		load := &l.Loads[i]
		if !load.Draws.Known() {
			continue
		}
		amps := load.Draws.Hi
		if !x.draw(&b, load, amps) {
			continue
		}
		out.Amps += amps
		if load.OnRail {
			if way, t := x.Head.Study.wayAt(load.Place); way >= 0 {
				out.rails = append(out.rails, onRail{way, t, amps})
			}
		}
	}
	if out.Amps == 0 {
		return out, nil
	}
	for leg := range b {
		var err error
		if out.Volts[leg], err = x.Leg[leg].Factor.Solve(b[leg]); err != nil {
			return Standing{}, err
		}
	}
	return out, nil
}

// draw takes a load's current out of both legs; false when it does not hang here.
func (x *Solved) draw(b *[2][]float64, load *layout.Load, amps float64) bool {
	if b[0] == nil {
		b[0], b[1] = make([]float64, len(x.Leg[0].Net.Node)), make([]float64, len(x.Leg[1].Net.Node))
	}
	add := func(leg int, node int32, share float64) {
		if node != solve.Ground {
			b[leg][node] += share * amps
		}
	}
	if !load.OnRail {
		for i := range x.Taps {
			if p := &x.Taps[i]; p.Bus == load.Tap.Bus && p.At == load.Tap.At.Mid() {
				add(0, p.Node[0], 1)
				add(1, p.Node[1], 1)
				return true
			}
		}
		return false
	}
	way, t := x.Head.Study.wayAt(load.Place)
	if way < 0 {
		return false
	}
	pair := x.railOn(way)
	if pair == nil {
		return false
	}
	for leg := range x.Leg {
		e := &x.Leg[leg].Net.Edges[pair.Edge[leg]]
		add(leg, e.I, 1-t)
		add(leg, e.J, t)
	}
	return true
}

// within is the most that loads inside a length of track add to what lies between the drops at its ends: I r t (1-t) in each
// leg, at the load itself.
func (s *Standing) within(x *Solved, p *network.RailPair) float64 {
	sum := 0.0
	for _, r := range s.rails {
		if r.way != p.Way {
			continue
		}
		for leg := range x.Leg {
			sum += r.amps * r.t * (1 - r.t) * x.Leg[leg].Net.Edges[p.Edge[leg]].Ohms
		}
	}
	return sum
}

// at is the drop of both legs that standing loads make at the ends of a length of track.
func (s *Standing) at(x *Solved, edge [2]int32) (from, to float64) {
	for leg := range s.Volts {
		if s.Volts[leg] == nil {
			continue
		}
		e := &x.Leg[leg].Net.Edges[edge[leg]]
		from += potential(s.Volts[leg], e.I)
		to += potential(s.Volts[leg], e.J)
	}
	return from + x.Head.Inside.Hi*s.Amps, to + x.Head.Inside.Hi*s.Amps
}
