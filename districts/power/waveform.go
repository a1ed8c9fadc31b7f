package power

import (
	"context"
	"math"

	"gapwise/netlist/dcc"
	"gapwise/netlist/solve"
)

// Pulsed is the current of a short under the DCC waveform at one point: what a booster that
// senses the peak, the mean or the root mean square would see, at the least, in amperes. Exact
// says that two branches fewer change less than a hundred-thousandth of it.
type Pulsed struct {
	Point    Point
	Short    dcc.Short
	Pattern  dcc.Pattern // of one bits, zero bits and idle packets, that with the least mean
	Exact    bool
	Henries  float64 // of the loop, by the direct current's way
	Branches []dcc.Branch
}

// Pulsed works out a point's short current under the waveform, inductances and resistances at
// the high end.
func (p *Point) Pulsed(ctx context.Context) (Pulsed, error) {
	x := p.weakest()
	port, err := p.port(x)
	if err != nil {
		return Pulsed{}, err
	}
	volts := max(0, p.Head.Volts.Lo-p.Drop.Hi)
	branches, exact, err := port.Branches(ctx, mostBranches)
	if err != nil {
		return Pulsed{}, err
	}
	out := Pulsed{Point: *p, Branches: branches, Exact: exact}
	out.Short, out.Pattern = dcc.Worst(volts, branches)
	for e := range port.R {
		out.Henries += port.L[e] * port.Unit[e] * port.Unit[e]
	}
	if exact {
		return out, nil
	}
	fewer, _, err := port.Branches(ctx, mostBranches-2)
	if err != nil {
		return Pulsed{}, err
	}
	before, _ := dcc.Worst(volts, fewer)
	out.Exact = near(before.Peak, out.Short.Peak) && near(before.MeanAbs, out.Short.MeanAbs) && near(before.RMS, out.Short.RMS)
	return out, nil
}

// near is how little a current changes that is worked out.
func near(a, b float64) bool { return math.Abs(a-b) <= 1e-5*math.Abs(b) }

// mostBranches bounds the reduction; its error falls by orders with every few branches. With many more the last
// ones are made of rounding.
const mostBranches = 10

// piece is a conductor of a leg in a port's lists, or one of the two parts of the rail in which the
// point lies.
type piece struct{ leg, edge int32 }

// port makes the one-port that a short at the point sees: the source's inside and the short
// itself as one conductor, then both legs' conductors, the rail in which the point lies as two.
func (p *Point) port(x *Solved) (*dcc.Port, error) {
	port := &dcc.Port{R: []float64{p.Head.Inside.Hi + p.Head.Study.Short.Hi}, L: []float64{0}, Unit: []float64{1}}
	pieces := []piece{{-1, -1}}
	for leg := range x.Leg {
		l := &x.Leg[leg]
		volts, inside, t, err := p.column(x, leg)
		if err != nil {
			return nil, err
		}
		add := func(e int, share, flow float64) {
			k := &l.Net.Edges[e]
			port.R, port.L, port.Unit = append(port.R, share*k.Ohms), append(port.L, share*k.Henries), append(port.Unit, flow)
			pieces = append(pieces, piece{int32(leg), int32(e)})
		}
		for e := range l.Net.Edges {
			k := &l.Net.Edges[e]
			flow := (potential(volts, k.J) - potential(volts, k.I)) / k.Ohms
			switch {
			case int32(e) != inside:
				add(e, 1, flow)
			default:
				if t > 0 {
					add(e, t, flow+1-t)
				}
				if t < 1 {
					add(e, 1-t, flow-t)
				}
			}
		}
	}
	total := 0.0
	for e := range port.R {
		total += port.R[e] * port.Unit[e] * port.Unit[e]
	}
	port.Project = func(emf, out []float64) error { return project(x, port, pieces, total, emf, out) }
	return port, nil
}

// project finds the currents that voltages in series with the conductors drive, the port
// closed. Each leg by itself is driven with its port open (Norton's sources at the ends of every
// conductor); then the one current through the closed port is added, which by reciprocity is the
// sum of every voltage times its conductor's share of a current through the port.
func project(x *Solved, port *dcc.Port, pieces []piece, total float64, emf, out []float64) error {
	var whole, flow [2][]float64 // by edge: its voltage, and its current with the port open
	for leg := range x.Leg {
		whole[leg] = make([]float64, len(x.Leg[leg].Net.Edges))
	}
	through := emf[0] * port.Unit[0]
	for i, q := range pieces[1:] {
		whole[q.leg][q.edge] += emf[i+1]
		through += emf[i+1] * port.Unit[i+1]
	}
	through /= total
	for leg := range x.Leg {
		var err error
		if flow[leg], err = x.Leg[leg].driven(whole[leg]); err != nil {
			return err
		}
	}
	out[0] = through * port.Unit[0]
	for i, q := range pieces[1:] {
		out[i+1] = flow[q.leg][q.edge] + through*port.Unit[i+1]
	}
	return nil
}

// driven is the current of every conductor of a leg that voltages in series with them drive.
func (l *Leg) driven(emf []float64) ([]float64, error) {
	b := make([]float64, len(l.Net.Node))
	for e := range l.Net.Edges {
		k := &l.Net.Edges[e]
		amps := emf[e] / k.Ohms
		if k.I != solve.Ground {
			b[k.I] -= amps
		}
		if k.J != solve.Ground {
			b[k.J] += amps
		}
	}
	volts, err := l.Factor.Solve(b)
	if err != nil {
		return nil, err
	}
	flow := make([]float64, len(l.Net.Edges))
	for e := range l.Net.Edges {
		k := &l.Net.Edges[e]
		flow[e] = (emf[e] + potential(volts, k.I) - potential(volts, k.J)) / k.Ohms
	}
	return flow, nil
}

// MeanAtLeast is a mean current that a short does not fall below when the direct current's way has so many
// henries. For s > 0 the network's impedance is at most R + s L of that way (Thomson's principle), which bounds
// what one bits, the shortest half-bits, draw.
func (p *Point) MeanAtLeast(henries float64) float64 {
	h := p.Head
	ohms := p.Loop.Hi + h.Study.Short.Hi
	volts := max(0, h.Volts.Lo-p.Drop.Hi)
	return dcc.MeanAtLeast(volts, dcc.OneHalf, 1/ohms, 1/(ohms+dcc.BoundRate/dcc.OneHalf*henries))
}
