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
	corner, volts, inside, short := "weak: every resistance high", h.Volts.Lo-s.Point.Drop.Hi, h.Inside.Hi, s.Case.Power.Short.Hi
	if s.Net.Corner == network.Strong {
		corner, volts, inside, short = "strong: every resistance low", h.Volts.Hi-s.Point.Drop.Lo, h.Inside.Lo, s.Case.Power.Short.Lo
	}
	volts = max(0, volts)
	w.comment("gapwise, %s, %s", s.Case.C.Sources[h.Source].Name, corner)
	w.comment("a short at %s; a0 is the source's terminal A, 0 its terminal B", s.Case.PointPlace(&s.Point).Text)
	if s.Point.Drop.Hi > 0 {
		w.comment("what detectors on the way drop is taken off the source's volts")
	}
	if s.Transient {
		w.line("V1 in 0 PULSE(%s %s 0 1e-9 1e-9 %s %s)", number(volts), number(-volts), number(dcc.OneHalf-1e-9), number(2*dcc.OneHalf))
	} else {
		w.line("V1 in 0 DC %s", number(volts))
	}
	w.comment("the source's own inside")
	w.line("Rin in a0 %s", number(inside))
	for leg := range s.Net.Leg {
		w.leg(leg)
	}
	w.comment("the short itself")
	w.line("Rshort %s %s %s", w.at[0], w.at[1], number(max(short, 1e-6)))
	if s.Transient {
		w.line(".tran 4e-7 %s 0 4e-7", number(halves*dcc.OneHalf))
	} else {
		w.line(".op")
	}
	w.line(".control")
	w.line("run")
	if s.Transient {
		w.line("meas tran peak MAX i(V1) from=%s to=%s", number((halves-4)*dcc.OneHalf), number(halves*dcc.OneHalf))
		w.line("meas tran rms RMS i(V1) from=%s to=%s", number((halves-4)*dcc.OneHalf), number(halves*dcc.OneHalf))
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

// halves is how many half-bits a transient runs; the last four are measured.
const halves = 12

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
		w.line("R%s %s %s %s", name, from, to, number(ohms))
		return
	}
	w.line("R%s %s m%s %s", name, from, name, number(ohms))
	w.line("L%s m%s %s %s", name, name, to, number(henries))
}
