package power

import (
	"math"

	"gapwise/netlist/conductor"
	"gapwise/netlist/layout"
	"gapwise/netlist/network"
)

// Drop is the worst drop behind a guard: at Point, in volts. Most is with every train that may
// move at once drawing its current at that very point, as far as the guard lets it pass, and the rest just above the
// guard, which no placing can exceed: the drop at x by a train at y is I R_xy, R_xy <= R_xx, and for y not behind the guard
// R_xy is at most the resistance where the guard hangs. Least is a placing that can be: two engines nose to nose at the point
// and the others where they add most, each a train's length clear. With one or two trains
// the two agree. Amps is what was counted, at most what the guards let through.
type Drop struct {
	Point       Point
	Least, Most float64
	Exact       bool
	// Wiring is what wires, joints and rails drop of that, without the source's own inside and the detectors:
	// from the two heaviest trains at the point with every resistance low, to Most.
	Wiring    conductor.Range
	Amps      float64
	Standing  float64 // volts of Most that standing loads make
	Detectors float64 // volts of Most that detectors make
	Trains    int
	Unknown   bool // a train that may move has no current
}

// worstDrops is the worst drop behind every guard of the weak network; nil where it guards no track.
// The error is that of a network that could not be solved.
func (h *Head) worstDrops() ([]*Drop, error) {
	out := make([]*Drop, len(h.Weak.Guards))
	for _, x := range h.weak() {
		standing, err := x.standing()
		if err != nil {
			return nil, err
		}
		for i := range x.Rails {
			p := &x.Rails[i]
			if !x.judged(p) {
				continue
			}
			g := h.guardIn(x, x.guardOf(p))
			if g < 0 {
				continue
			}
			h.dropAt(&out[g], x, p, g, &standing)
		}
	}
	for _, d := range out {
		if d == nil {
			continue
		}
		if err := d.place(h.Study); err != nil {
			return nil, err
		}
		d.Wiring.Hi = d.Most - d.Detectors - h.Inside.Hi*d.Amps
		d.Wiring.Lo = min(h.twoHeaviest(), h.Passes(d.Point.Guard)) * (d.Point.Loop.Lo - h.Inside.Lo)
		d.Wiring.Hi = min(d.Wiring.Hi, h.Volts.Hi) // there is no more to lose
		d.Wiring.Lo = min(d.Wiring.Lo, d.Wiring.Hi)
	}
	return out, nil
}

// amps is what all trains together draw behind a guard, what is left of it that others on the same source may draw,
// and how many they are.
func (h *Head) amps(guard int32) (amps, rest float64, trains int, unknown bool) {
	for _, t := range h.Study.Trains {
		unknown = unknown || !t.Known
		if t.Amps > 0 {
			amps += t.Amps
			trains++
		}
	}
	passes := min(amps, h.Passes(guard))
	return passes, max(0, min(amps, h.Passes(0))-passes), trains, unknown
}

// Passes is the most current that flows for long through a guard and those above it, in
// amperes; infinite when none of them says.
func (h *Head) Passes(guard int32) float64 {
	most := math.Inf(1)
	for _, g := range h.Weak.Above(guard) {
		x := &h.Weak.Guards[g]
		if x.TripsAt.Known() {
			most = min(most, x.TripsAt.Hi)
		}
		if x.LimitsTo.Known() {
			most = min(most, x.LimitsTo.Hi)
		}
	}
	return most
}

// dropAt holds the worst of a length of track against the worst so far.
func (h *Head) dropAt(worst **Drop, x *Solved, p *network.RailPair, guard int32, standing *Standing) {
	amps, rest, trains, unknown := h.amps(guard)
	c := x.Along(p)
	from, to := standing.at(x, p.Edge)
	within := standing.within(x, p)
	from, to = from+within, to+within
	others := 0.0
	if rest > 0 {
		others = rest * h.Weak.hangsAt(guard)
	}
	c = Curve{(c.C0+h.Inside.Hi)*amps + others + from, c.C1*amps + to - from, c.C2 * amps}
	t := c.Max()
	detectors := 0.0
	if amps > 0 {
		detectors = x.Leg[0].voltsAt(p.Edge[0]) + x.Leg[1].voltsAt(p.Edge[1])
	}
	most := c.At(t) + detectors
	if *worst != nil && most <= (*worst).Most {
		return
	}
	d := &Drop{Point: x.at(p, t), Most: most, Amps: amps + rest, Trains: trains, Unknown: unknown, Standing: from + t*(to-from), Detectors: detectors}
	d.Point.Guard = guard
	*worst = d
}

// hangsAt is the resistance of the loop where a guard hangs, in ohms, the source's own inside included.
func (x *Solved) hangsAt(guard int32) float64 {
	above := x.Guards[guard].Above
	return x.Head.Inside.Hi + x.Leg[0].Ohms(above[0]) + x.Leg[1].Ohms(above[1])
}

// place finds a placing of the trains that can be, for the lower bound.
func (d *Drop) place(s *Study) error {
	if d.Trains <= 2 {
		d.Least, d.Exact = d.Most, true
		return nil
	}
	x := d.Point.weakest()
	transfer, err := d.Point.transfer(x)
	if err != nil {
		return err
	}
	d.Least = d.Standing + d.Detectors
	left := d.Amps
	own := d.Point.Loop.Hi
	var taken []stand
	for i, train := range s.Trains {
		amps := min(train.Amps, left)
		if amps <= 0 {
			break
		}
		left -= amps
		if i < 2 {
			d.Least += amps * own
			taken = append(taken, stand{d.Point.Way, d.Point.At, train.Metres})
			continue
		}
		best, at := s.bestPlace(x, transfer, taken, train.Metres)
		d.Least += amps * best
		taken = append(taken, at)
	}
	d.Exact = d.Most-d.Least <= 1e-9*d.Most
	return nil
}

// stand is an engine on a length of track, and how much of the track about it its train takes.
type stand struct {
	way    int32
	at     float64
	metres float64
}

// bestPlace is the place for one more engine that adds most at the point: not on track within a
// train's length of those that stand.
func (s *Study) bestPlace(x *Solved, transfer [2][]float64, taken []stand, metres float64) (ohms float64, at stand) {
	at = stand{way: -1}
	for i := range x.Rails {
		p := &x.Rails[i]
		w := &s.C.Ways[p.Way]
		for _, end := range [2]int32{0, 1} {
			spot := w.A
			if end == 1 {
				spot = w.B
			}
			sum := x.Head.Inside.Hi
			for leg := range x.Leg {
				e := &x.Leg[leg].Net.Edges[p.Edge[leg]]
				if end == 0 {
					sum += potential(transfer[leg], e.I)
				} else {
					sum += potential(transfer[leg], e.J)
				}
			}
			if sum > ohms && s.clear(w.Piece, s.C.Spots[spot].At, taken, metres) {
				ohms, at = sum, stand{p.Way, s.C.Spots[spot].At, metres}
			}
		}
	}
	return ohms, at
}

// clear reports whether an engine may stand at a reading of a piece: the same track only a train's length
// away from another's engine.
func (s *Study) clear(piece layout.PieceID, at float64, taken []stand, metres float64) bool {
	for _, o := range taken {
		if o.way >= 0 && s.C.Ways[o.way].Piece == piece && math.Abs(o.at-at) < max(o.metres, metres) {
			return false
		}
	}
	return true
}

// transfer is, leg by leg and node by node, the drop at the point by one ampere drawn there.
func (p *Point) transfer(x *Solved) (out [2][]float64, err error) {
	for leg := range x.Leg {
		out[leg], _, _, err = p.column(x, leg)
		if err != nil {
			return out, err
		}
	}
	return out, nil
}
