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

// simulated are the layouts of testdata, the sound ones of the rules, and generated ones.
func simulated(t *testing.T) []*layout.Layout {
	t.Helper()
	var out []*layout.Layout
	for _, pattern := range []string{"../testdata/*/*sound.yaml", "../testdata/tin-harbour/*.yaml", "../rules/testdata/sound/*.yaml"} {
		files, err := filepath.Glob(pattern)
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
	}
	generated := 200
	if testing.Short() {
		generated = 10
	}
	for seed := range generated {
		out = append(out, generate.Layout(400+7*seed, uint64(seed)))
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

// TestSimulatorSeesOnePerCent changes one conductor of one network by a hundredth: the comparison has to see it.
func TestSimulatorSeesOnePerCent(t *testing.T) {
	program := simulator(t)
	l := generate.Layout(800, 5)
	c := caseOf(t, l)
	p := shorts(c, rand.New(rand.NewPCG(1, 1)), 1)[0]
	x := *p.Network()
	leg := x.Leg[0]
	net := *leg.Net
	net.Edges = append([]network.Edge(nil), net.Edges...)
	edge, _ := p.In(&x, 0)
	net.Edges[edge].Ohms *= 1.01
	leg.Net = &net
	x.Leg[0] = leg
	want := max(0, p.Head.Volts.Lo-p.Drop.Hi) / (p.Loop.Hi + c.Power.Short.Hi)
	got := -batch(t, program, []*reports.Spice{{Case: c, Net: &x, Point: p}}, operatingPoint)[0][0]
	if math.Abs(got-want) <= 1e-6*want {
		t.Errorf("%v A with a conductor changed, %v without: nobody would see it", got, want)
	}
}

var measured = regexp.MustCompile(`^\s*(?:peak|rms)\s*=\s*(\S+)`)

// TestPulsesAgainstSimulator holds the steady short current under a square wave against ngspice's transients, within a hundredth.
func TestPulsesAgainstSimulator(t *testing.T) {
	program := simulator(t)
	r := rand.New(rand.NewPCG(9, 2))
	networks := 20
	if testing.Short() {
		networks = 2
	}
	var nets []*reports.Spice
	var want []dcc.Short
	for seed := range networks {
		c := caseOf(t, generate.Layout(300, uint64(100+seed)))
		for _, p := range shorts(c, r, 1) {
			pulsed, err := p.Pulsed(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			nets = append(nets, &reports.Spice{Case: c, Net: p.Network(), Point: p, Transient: true})
			want = append(want, dcc.Steady(max(0, p.Head.Volts.Lo-p.Drop.Hi), dcc.OneHalf, pulsed.Branches))
		}
	}
	if len(nets) < networks {
		t.Fatalf("only %d networks", len(nets))
	}
	for i, got := range batch(t, program, nets, measured) {
		if len(got) != 2 {
			t.Fatalf("network %d printed %v", i, got)
		}
		if math.Abs(got[0]-want[i].Peak) > 0.01*want[i].Peak || math.Abs(got[1]-want[i].RMS) > 0.01*want[i].RMS {
			t.Errorf("%s: the simulator has a peak of %v A and %v A rms, we have %+v", nets[i].Case.L.Name, got[0], got[1], want[i])
		}
	}
}
