package reports

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"

	"gapwise/netlist/dcc"
	"gapwise/netlist/network"
	"gapwise/netlist/solve"
	"gapwise/netlist/source"

	"gapwise/districts/power"
	"gapwise/rules/rule"
)

// Spice is one source's networks at one corner with a short at a point, as a circuit simulator takes them.
type Spice struct {
	Case      *rule.Case
	Net       *power.Solved
	Point     power.Point
	Transient bool
}

// Write writes the netlist: both legs, the source between them, the short. Numbers are in full, without unit letters, which
// simulators read differently. The error is the writer's.
func (s *Spice) Write(out io.Writer) error {
	w := &spiceWriter{w: bufio.NewWriter(out), s: s}
	h := s.Point.Head
	corner, volts, inside, short := "weak: every resistance high", h.Volts.Lo-s.drop(), h.Inside.Hi, s.Case.Power.Short.Hi
	if s.Net.Corner == network.Strong {
		corner, volts, inside, short = "strong: every resistance low", h.Volts.Hi-s.drop(), h.Inside.Lo, s.Case.Power.Short.Lo
	}
	volts = max(0, volts)
	w.comment("gapwise, %s, %s", s.Case.C.Sources[h.Source].Name, corner)
	w.comment("a short at %s; a0 is the source's terminal A, 0 its terminal B", s.Case.PointPlace(&s.Point).Text)
	if drop := s.drop(); drop > 0 {
		w.comment("the %s V that detectors on the way drop are taken off the source's volts", number(drop))
	}
	if s.Transient {
		w.line("V1 in 0 PULSE(%s %s 0 %s %s %s %s)", number(volts), number(-volts), number(edge), number(edge), number(dcc.OneHalf-edge), number(2*dcc.OneHalf))
	} else {
		w.line("V1 in 0 DC %s", number(volts))
	}
	w.comment("the source's own inside")
	w.ohms("in", "in", "a0", inside)
	for leg := range s.Net.Leg {
		w.comment("leg %c", 'A'+rune(leg))
		w.leg(leg)
	}
	w.comment("the short itself")
	w.ohms("short", w.at[0], w.at[1], short)
	halves := s.halves()
	if s.Transient {
		// Currents of nothing in dead ends, held to the usual picoampere, make ngspice give up.
		w.line(".options abstol=1e-6 chgtol=1e-9")
		w.line(".tran 4e-7 %s 0 4e-7", number(float64(halves)*dcc.OneHalf))
	} else {
		w.line(".op")
	}
	w.line(".control")
	w.line("run")
	if s.Transient {
		w.line("let amps = abs(i(V1))")
		for _, what := range []string{"peak MAX amps", "mean AVG amps", "rms RMS i(V1)"} {
			w.line("meas tran %s from=%s to=%s", what, number(float64(halves-4)*dcc.OneHalf), number(float64(halves)*dcc.OneHalf))
		}
	} else {
		w.line("set numdgt=12")
		w.line("print i(V1)")
	}
	w.line(".endc")
	w.line(".end")
	if w.err != nil {
		return w.err
	}
	return w.w.Flush()
}

// nextTo is how near to the end of its rail a short is one with the end: a simulator loses digits over a resistance
// of nearly nothing.
const nextTo = 1e-6

// edge is how long the square wave takes to turn over, in seconds: what a simulator needs, and too little to count.
const edge = 20e-9

// leastHalves and mostHalves bound how many half-bits a transient runs; the last four are measured.
const leastHalves, mostHalves = 12, 400

// halves is how many half-bits a transient runs, from the current of a direct voltage on: until what is left of the
// beginning is small. No network of resistors and inductors settles slower than the slowest of its conductors would alone.
func (s *Spice) halves() int {
	slowest := 0.0
	for leg := range s.Net.Leg {
		for _, e := range s.Net.Leg[leg].Net.Edges {
			slowest = max(slowest, e.Henries/e.Ohms)
		}
	}
	return min(mostHalves, leastHalves+2*int(3*slowest/dcc.OneHalf))
}

// drop is what detectors on the way drop at the corner, in volts.
func (s *Spice) drop() float64 {
	if s.Net.Corner == network.Strong {
		return s.Point.Drop.Lo
	}
	return s.Point.Drop.Hi
}

// Holds reports whether the network has the point: what is fed in settings of track work only is not in the strong one.
func (s *Spice) Holds() bool {
	edge, _ := s.Point.In(s.Net, 0)
	return s.Point.Way < 0 || edge >= 0
}

type spiceWriter struct {
	w   *bufio.Writer
	s   *Spice
	at  [2]string // the short's node in each leg
	err error
}

func (w *spiceWriter) line(format string, args ...any) {
	if _, err := fmt.Fprintf(w.w, format+"\n", args...); err != nil && w.err == nil {
		w.err = err
	}
}

// comment writes a comment that no name in it can break out of.
func (w *spiceWriter) comment(format string, args ...any) {
	text := source.Safe(fmt.Sprintf(format, args...))
	w.line("* %s", strings.Map(func(r rune) rune {
		if r < ' ' || r == '\u2028' || r == '\u2029' || r == '\u0085' {
			return ' '
		}
		return r
	}, text))
}

func number(v float64) string { return strconv.FormatFloat(v, 'e', -1, 64) }

// nodeName is a node of a leg: a0 and 0 are the terminals.
func nodeName(leg int, node int32) string {
	switch {
	case node != solve.Ground && leg == 0:
		return "a" + strconv.Itoa(int(node)+1)
	case node != solve.Ground:
		return "b" + strconv.Itoa(int(node)+1)
	case leg == 0:
		return "a0"
	default:
		return "0"
	}
}

// leg writes the conductors of one leg, the rail in which the short lies as two.
func (w *spiceWriter) leg(leg int) {
	s := w.s
	l := &s.Net.Leg[leg]
	inside, tap := s.Point.In(s.Net, leg)
	w.at[leg] = nodeName(leg, tap)
	for e := range l.Net.Edges {
		k := &l.Net.Edges[e]
		name := fmt.Sprintf("%c%d", "AB"[leg], e+1)
		w.comment("%s", s.Case.ConductorText(k.Conductor))
		i, j := nodeName(leg, k.I), nodeName(leg, k.J)
		if int32(e) != inside {
			w.conductor(name, i, j, k.Ohms, k.Henries)
			continue
		}
		switch t := s.Point.T; {
		case t < nextTo:
			w.at[leg] = i
			w.conductor(name, i, j, k.Ohms, k.Henries)
		case t > 1-nextTo:
			w.at[leg] = j
			w.conductor(name, i, j, k.Ohms, k.Henries)
		default:
			x := "x" + strings.ToLower(string("AB"[leg]))
			w.at[leg] = x
			w.conductor(name+"f", i, x, t*k.Ohms, t*k.Henries)
			w.conductor(name+"t", x, j, (1-t)*k.Ohms, (1-t)*k.Henries)
		}
	}
}

func (w *spiceWriter) conductor(name, from, to string, ohms, henries float64) {
	if !w.s.Transient || henries == 0 {
		w.ohms(name, from, to, ohms)
		return
	}
	w.line("R%s %s m%s %s", name, from, name, number(ohms))
	w.line("L%s m%s %s %s", name, name, to, number(henries))
}

// ohms writes a resistor; of no ohms at all it is a source of no volts, because ngspice makes a milliohm of it.
func (w *spiceWriter) ohms(name, from, to string, ohms float64) {
	if ohms == 0 {
		w.line("V%s %s %s DC 0", name, from, to)
		return
	}
	w.line("R%s %s %s %s", name, from, to, number(ohms))
}
