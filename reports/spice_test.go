package reports_test

import (
	"bytes"
	"context"
	"errors"
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
	"gapwise/netlist/generate"
	"gapwise/netlist/layout"
	"gapwise/netlist/network"
	"gapwise/netlist/reader"

	"gapwise/districts/power"
	"gapwise/reports"
	"gapwise/rules"
	"gapwise/rules/rule"
)

// simulator is ngspice. Without it there is nothing to compare with, unless tools are required.
func simulator(t *testing.T) string {
	t.Helper()
	path, err := exec.LookPath("ngspice")
	switch {
	case err == nil:
		return path
	case os.Getenv("GAPWISE_REQUIRE_TOOLS") == "1":
		t.Fatal("ngspice is not installed")
	default:
		t.Skip("ngspice is not installed")
	}
	return ""
}

// caseOf traces and computes a layout.
func caseOf(t *testing.T, l *layout.Layout) *rule.Case {
	t.Helper()
	c, err := rules.Trace(context.Background(), l)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// simulated are the sound layouts of testdata and some generated ones. districts/power compares many more with ngspice; here it
// is what the export writes that is tried.
func simulated(t *testing.T) []*layout.Layout {
	t.Helper()
	var out []*layout.Layout
	files, err := filepath.Glob("../testdata/*/*sound.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		l, problems, err := reader.ReadFile(context.Background(), file, rules.ReaderOptions())
		if err != nil || len(problems) > 0 {
			t.Fatalf("%s: %v, %d mistakes", file, err, len(problems))
		}
		out = append(out, l)
	}
	for seed := range 12 {
		out = append(out, generate.Layout(200+37*seed, uint64(seed)))
	}
	return out
}

// shorts are places of a layout to put a short: the weakest behind every guard, and some inside lengths of track.
func shorts(c *rule.Case, r *rand.Rand, most int) []power.Point {
	var out []power.Point
	for _, h := range c.Power.Heads {
		if !h.Known() {
			continue
		}
		for _, p := range h.Weakest {
			if p != nil {
				out = append(out, *p)
			}
		}
		for range min(2, len(h.Weak.Rails)) {
			if p, ok := c.Power.PointAt(h.Weak.Rails[r.IntN(len(h.Weak.Rails))].Way, 0.1+0.8*r.Float64()); ok && p.Head == h {
				out = append(out, p)
			}
		}
	}
	r.Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
	return out[:min(most, len(out))]
}

// batch runs netlists, fifty in one go, and gives, for each, what it prints. ngspice ends with status 0 whatever happens, so every
// netlist has to have printed something.
func batch(t *testing.T, program string, nets []*reports.Spice, printed *regexp.Regexp) [][]float64 {
	t.Helper()
	var out [][]float64
	for len(nets) > 0 {
		n := min(50, len(nets))
		out = append(out, runBatch(t, program, nets[:n], printed)...)
		nets = nets[n:]
	}
	return out
}

func runBatch(t *testing.T, program string, nets []*reports.Spice, printed *regexp.Regexp) [][]float64 {
	t.Helper()
	dir := t.TempDir()
	var control bytes.Buffer
	fmt.Fprintln(&control, "* a batch\n.control")
	for i, n := range nets {
		name := fmt.Sprintf("n%d.cir", i)
		var b bytes.Buffer
		if err := n.Write(&b); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&control, "echo netlist %d\nsource %s\nremcirc\n", i, name)
	}
	fmt.Fprintln(&control, ".endc\n.end")
	if err := os.WriteFile(filepath.Join(dir, "all.cir"), control.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.CommandContext(t.Context(), program, "-b", "all.cir")
	cmd.Dir = dir
	out, err := cmd.Output()
	if exit := new(exec.ExitError); err != nil && !errors.As(err, &exit) {
		t.Fatal(err) // its exit status says nothing either way
	}
	result := make([][]float64, len(nets))
	at := -1
	for line := range strings.Lines(string(out)) {
		if n, found := strings.CutPrefix(strings.TrimSpace(line), "netlist "); found {
			at, _ = strconv.Atoi(n)
		}
		if m := printed.FindStringSubmatch(line); m != nil && at >= 0 {
			v, err := strconv.ParseFloat(m[1], 64)
			if err != nil {
				t.Fatal(err)
			}
			result[at] = append(result[at], v)
		}
	}
	for i := range result {
		if len(result[i]) == 0 {
			t.Fatalf("netlist %d printed nothing:\n%s", i, out)
		}
	}
	return result
}

var operatingPoint = regexp.MustCompile(`i\(v1\) = (\S+)`)

// TestShortsAgainstSimulator holds short currents of many places, both corners, against ngspice: within a millionth. This checks our
// arithmetic, not our physics.
func TestShortsAgainstSimulator(t *testing.T) {
	program := simulator(t)
	r := rand.New(rand.NewPCG(3, 5))
	var nets []*reports.Spice
	var want []float64
	layouts := simulated(t)
	for _, l := range layouts {
		c := caseOf(t, l)
		for _, p := range shorts(c, r, 2) {
			h := p.Head
			nets = append(nets, &reports.Spice{Case: c, Net: p.Network(), Point: p})
			want = append(want, max(0, h.Volts.Lo-p.Drop.Hi)/(p.Loop.Hi+c.Power.Short.Hi))
			if in, _ := p.In(h.Strong, 0); in >= 0 {
				nets = append(nets, &reports.Spice{Case: c, Net: h.Strong, Point: p})
				want = append(want, p.Short.Hi)
			}
		}
	}
	if len(nets) < 2*len(layouts) {
		t.Fatalf("only %d networks of %d layouts", len(nets), len(layouts))
	}
	for i, got := range batch(t, program, nets, operatingPoint) {
		if amps := -got[0]; math.Abs(amps-want[i]) > 1e-6*want[i] {
			t.Errorf("%s, %v: the simulator has %v A, we have %v", nets[i].Case.L.Name, nets[i].Net.Corner, amps, want[i])
		}
	}
	t.Logf("%d networks of %d layouts", len(nets), len(layouts))
}

var measured = regexp.MustCompile(`^\s*(?:peak|mean|rms)\s*=\s*(\S+)`)

// TestPulsesAgainstSimulator holds the steady short current under a square wave against ngspice's transients, within a hundredth. At
// the strong corner nothing of ours is there to compare with; there the transient has to run to its end, and the short to
// draw no less.
func TestPulsesAgainstSimulator(t *testing.T) {
	program := simulator(t)
	r := rand.New(rand.NewPCG(9, 2))
	layouts := simulated(t)
	if testing.Short() {
		layouts = layouts[len(layouts)-2:]
	}
	var nets []*reports.Spice
	var want []dcc.Short
	for _, l := range layouts[max(0, len(layouts)-6):] {
		c := caseOf(t, l)
		for _, p := range shorts(c, r, 1) {
			pulsed, err := p.Pulsed(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			nets = append(nets, &reports.Spice{Case: c, Net: p.Network(), Point: p, Transient: true})
			want = append(want, dcc.Steady(max(0, p.Head.Volts.Lo-p.Drop.Hi), dcc.OneHalf, pulsed.Branches))
			strong := &reports.Spice{Case: c, Net: p.Head.Strong, Point: p, Transient: true}
			if strong.Holds() {
				nets = append(nets, strong)
				want = append(want, want[len(want)-1])
			}
		}
	}
	if len(nets) < 3 {
		t.Fatalf("only %d networks", len(nets))
	}
	for i, got := range batch(t, program, nets, measured) {
		if len(got) != 3 {
			t.Fatalf("network %d printed %v", i, got)
		}
		for k, w := range []float64{want[i].Peak, want[i].MeanAbs, want[i].RMS} {
			if weak := nets[i].Net.Corner == network.Weak; got[k] < 0.99*w || weak && got[k] > 1.01*w {
				t.Errorf("%s, %v: the simulator has peak, mean and rms of %v, we have %+v", nets[i].Case.L.Name, nets[i].Net.Corner, got, want[i])
			}
		}
	}
}

// onACab is a layout on a cab, which has no resistance of its own.
const onACab = `gapwise: 1
layout: a branch
tracks:
  M1: {from: end, to: end, length: 10 ft, use: main, rail: code 83 nickel silver}
cabs:
  throttle: {volts: 12 V, rating: 1 A}
buses:
  ring: {from: cab throttle, wire: 14 AWG, length: 20 ft, laid: twisted}
feeders:
  M1: {A: left, 8 ft: {from: ring @ 8 ft, wire: 20 AWG, length: 8 in}}
`

// TestSpiceOfHostileNames: names made to break out of a comment, to hide what follows or to give the simulator orders change
// nothing but comments. The reader lets few of them in; the export relies on none of that.
func TestSpiceOfHostileNames(t *testing.T) {
	l, problems, err := reader.Read(context.Background(), func(string) ([]byte, error) { return []byte(onACab), nil }, "x.yaml", rules.ReaderOptions())
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	c := caseOf(t, l)
	p := *c.Power.Heads[0].Weakest[0]
	nets := []*reports.Spice{{Case: c, Net: p.Network(), Point: p}}
	program := simulator(t)
	want := batch(t, program, nets, operatingPoint)[0][0]
	if math.Abs(-want-p.Short.Lo) > 1e-6*p.Short.Lo {
		t.Errorf("the simulator has %v A, we have %v", -want, p.Short.Lo)
	}
	plain, _ := ordersOf(t, nets[0])
	for _, name := range []string{"x\nR9 a0 0 1e-3", "x\r.end", "x\u2028.end", "x\u0085.end", "x\v.end", "x\\\\", "+ R9 a0 0 1e-3", "{R9}", "$x", "#quit", "\xff\n.control\nquit"} {
		l.Pieces[0].Name, l.Tracks[0].Name, l.Buses[0].Name, l.Cabs[0].Name, c.C.Sources[0].Name = name, name, name, name, name
		orders, comments := ordersOf(t, nets[0])
		if orders != plain || !strings.Contains(comments, "feeder") {
			t.Errorf("%q changes what is computed:\n%s\n%s", name, orders, plain)
		}
		if got := batch(t, program, nets, operatingPoint)[0]; len(got) != 1 || got[0] != want {
			t.Errorf("%q makes %v of %v", name, got, want)
		}
	}
}

// ordersOf are the lines of a netlist that a simulator follows, and those that it does not, wherever it takes a line to end.
func ordersOf(t *testing.T, s *reports.Spice) (orders, comments string) {
	t.Helper()
	var b strings.Builder
	if err := s.Write(&b); err != nil {
		t.Fatal(err)
	}
	var follows, not []string
	for _, line := range strings.FieldsFunc(b.String(), func(r rune) bool { return strings.ContainsRune("\n\r\v\f\u0085\u2028\u2029", r) }) {
		if strings.HasPrefix(line, "* ") {
			not = append(not, line)
		} else {
			follows = append(follows, line)
		}
	}
	return strings.Join(follows, "\n"), strings.Join(not, "\n")
}
