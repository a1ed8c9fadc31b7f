package dcc_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gapwise/netlist/dcc"
)

// deck is several networks for one run of ngspice, each with a source and a signal of its own.
type deck struct {
	parts    []string
	measures []string // commands that print what is wanted
	shorts   int
}

// add takes in a network under halves that repeat, starting at rest. The first shorts are
// of single half-bits, the last is of the repeated signal.
func (d *deck) add(n network, volts float64, halves []float64, first, repeats int) {
	id := len(d.parts)
	var b strings.Builder
	for e, ends := range n.ends {
		a, z := node(id, ends[0]), node(id, ends[1])
		if n.l[e] == 0 {
			fmt.Fprintf(&b, "R%d_%d %s %s %.17g\n", id, e, a, z, n.r[e])
			continue
		}
		fmt.Fprintf(&b, "R%d_%d %s m%d_%d %.17g\n", id, e, a, id, e, n.r[e])
		fmt.Fprintf(&b, "L%d_%d m%d_%d %s %.17g ic=0\n", id, e, id, e, z, n.l[e])
	}
	const edge = 20e-9
	fmt.Fprintf(&b, "V%d %s 0 PWL(0 0 %.10g %.10g", id, node(id, 0), edge, volts)
	at := 0.0
	var turns []float64
	for range repeats {
		for _, h := range halves {
			turns = append(turns, at)
			at += h
			sign := float64(1 - len(turns)%2*2)
			fmt.Fprintf(&b, "\n+ %.10g %.10g %.10g %.10g", at, -sign*volts, at+edge, sign*volts)
		}
	}
	turns = append(turns, at)
	b.WriteString(")\n")
	d.parts = append(d.parts, b.String())
	for k := range first {
		d.measure(id, turns[k], turns[k+1])
	}
	d.measure(id, turns[len(turns)-1-len(halves)], at)
}

func (d *deck) measure(id int, from, to float64) {
	for _, what := range []string{"MAX a", "AVG a", "RMS i"} {
		kind, vector, _ := strings.Cut(what, " ")
		d.measures = append(d.measures, fmt.Sprintf("meas tran x%d_%s %s %s%d from=%.10g to=%.10g", d.shorts, strings.ToLower(kind), kind, vector, id, from, to))
	}
	d.shorts++
}

func node(id, k int) string {
	if k == 1 {
		return "0" // the port's other end
	}
	return fmt.Sprintf("n%d_%d", id, k)
}

var measured = regexp.MustCompile(`(?m)^x(\d+)_(max|avg|rms)\s*=\s*(\S+)`)

// run gives every short in the order of the measures. ngspice says 0 on faulty netlists, so every
// figure is asked for, and nothing that looks like a complaint is let pass.
func (d *deck) run(t *testing.T, until, step float64) []dcc.Short {
	t.Helper()
	ngspice, err := exec.LookPath("ngspice")
	if err != nil {
		if os.Getenv("GAPWISE_REQUIRE_TOOLS") == "1" {
			t.Fatal(err)
		}
		t.Skip("ngspice is not installed")
	}
	var b strings.Builder
	b.WriteString("* shorts under a DCC signal\n")
	b.WriteString(strings.Join(d.parts, ""))
	fmt.Fprintf(&b, ".options reltol=1e-4\n.control\nset numdgt=9\nsave")
	for id := range d.parts {
		fmt.Fprintf(&b, " i(v%d)", id)
	}
	fmt.Fprintf(&b, "\ntran %.10g %.10g 0 %.10g uic\n", step, until, step)
	for id := range d.parts {
		fmt.Fprintf(&b, "let i%d=-i(v%d)\nlet a%d=abs(i%d)\n", id, id, id, id)
	}
	b.WriteString(strings.Join(d.measures, "\n"))
	b.WriteString("\nquit\n.endc\n.end\n")
	file := filepath.Join(t.TempDir(), "deck.cir")
	if err := os.WriteFile(file, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.CommandContext(t.Context(), ngspice, "-b", file).CombinedOutput()
	low := strings.ToLower(string(out))
	for _, word := range []string{"error", "warning", "fail", "singular", "aborted"} {
		if strings.Contains(low, word) {
			t.Fatalf("ngspice says %s:\n%s", word, out)
		}
	}
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	shorts, figures := make([]dcc.Short, d.shorts), 0
	for _, m := range measured.FindAllStringSubmatch(string(out), -1) {
		k, _ := strconv.Atoi(m[1])
		v, err := strconv.ParseFloat(m[3], 64)
		if err != nil {
			t.Fatal(err)
		}
		figures++
		switch m[2] {
		case "max":
			shorts[k].Peak = v
		case "avg":
			shorts[k].MeanAbs = v
		default:
			shorts[k].RMS = v
		}
	}
	if figures != 3*d.shorts {
		t.Fatalf("ngspice gives %d figures of %d:\n%s", figures, 3*d.shorts, out)
	}
	return shorts
}

// TestSimulator compares with ngspice: 24 random networks from rest under one bits or zero bits, the
// first two half-bits and the last period, within 1 %. It checks the arithmetic, not the physics.
func TestSimulator(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 7))
	var d deck
	var want []dcc.Short
	var spoilt []network
	until := 0.0
	for k := range 24 {
		n := randomNetwork(rnd)
		halves := dcc.Pattern(k % 2).Halves() // ones, zeros
		repeats := int(math.Ceil(12 * n.slowest() / (2 * halves[0])))
		d.add(n, 15, halves, 2, repeats)
		until = math.Max(until, float64(repeats)*2*halves[0])
		bs := branches(t, n)
		want = append(want, dcc.Start(15, halves, bs)...)
		want = append(want, dcc.Periodic(15, halves, bs))
		spoilt = append(spoilt, n)
	}
	got := d.run(t, until, 0.4e-6)
	for k := range want {
		nearShort(t, fmt.Sprintf("short %d", k), want[k], got[k], 0.01)
	}

	// A test that sees nothing proves nothing: one inductance that is off by a half shows.
	for k, n := range spoilt[:6] {
		n.l = append([]float64{}, n.l...)
		n.l[0] *= 1.5
		off := dcc.Periodic(15, dcc.Pattern(k%2).Halves(), branches(t, n))
		if got := got[3*k+2]; math.Abs(off.Peak-got.Peak) < 0.01*got.Peak && math.Abs(off.MeanAbs-got.MeanAbs) < 0.01*got.MeanAbs {
			t.Errorf("network %d: half as much inductance again goes unseen: %v, %v", k, off, got)
		}
	}
}

// TestSimulatedPackets compares with ngspice under idle packets, the second of two from rest.
func TestSimulatedPackets(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 8))
	var d deck
	var want []dcc.Short
	halves := dcc.IdlePacket.Halves()
	for range 3 {
		n := randomNetwork(rnd)
		d.add(n, 15, halves, 0, 2)
		want = append(want, dcc.Periodic(15, halves, branches(t, n)))
	}
	got := d.run(t, 2*total(halves), 0.5e-6)
	for k := range want {
		nearShort(t, fmt.Sprintf("short %d", k), want[k], got[k], 0.01)
	}
}

func branches(t *testing.T, n network) []dcc.Branch {
	t.Helper()
	bs, exact, err := n.port().Branches(context.Background(), 60)
	if err != nil || !exact {
		t.Fatal(exact, err)
	}
	return bs
}

// slowest is the largest time constant of a conductor.
func (n network) slowest() float64 {
	most := 0.0
	for e := range n.r {
		most = math.Max(most, n.l[e]/n.r[e])
	}
	return most
}
