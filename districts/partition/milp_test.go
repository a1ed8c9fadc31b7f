package partition

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// milp is a problem as an integer program: node v is in district k where x_v_k is 1, and edge e is cut where y_e is 1. Trains
// are alike and come everywhere, so that what a district draws is a sum over its nodes. That a district is connected is asked for
// where a solution breaks it.
type milp struct {
	p     *Problem
	apart []string // the demands that districts are connected, as far as they were needed
}

// linear is a problem in which loads add up: alike trains, as many as there are berths.
func linear(r *rand.Rand, nodes, parts int) *Problem {
	p := &Problem{}
	berths, standing := 0, int64(0)
	for range nodes {
		v := Node{Berths: r.IntN(3), Load: int64(r.IntN(3) * 150), Pin: -1}
		berths += v.Berths
		standing += v.Load
		p.Nodes = append(p.Nodes, v)
	}
	for range berths {
		p.Trains = append(p.Trains, Train{500})
	}
	most := Capacity{(int64(berths)*500+standing)/int64(parts) + int64(300+r.IntN(900))}
	for range parts {
		p.Parts = append(p.Parts, most)
	}
	for a := 1; a < nodes; a++ {
		p.Edges = append(p.Edges, Edge{int32(a), int32(max(0, a-1-r.IntN(3))), int32(1 + r.IntN(3))})
	}
	for range nodes / 2 {
		p.Edges = append(p.Edges, Edge{int32(r.IntN(nodes)), int32(r.IntN(nodes)), int32(r.IntN(3))})
	}
	return p
}

// text writes the program in the LP format that both solvers read.
func (m *milp) text() string {
	var b strings.Builder
	b.WriteString("Minimize\n cuts: 0 zero")
	for e, k := range m.p.Edges {
		if k.A != k.B {
			fmt.Fprintf(&b, " + %d y_%d", k.Cuts, e)
		}
	}
	b.WriteString("\nSubject To\n")
	if m.alike() { // which of them node 0 is in does not matter
		b.WriteString(" first: x_0_0 = 1\n")
	}
	for v := range m.p.Nodes {
		fmt.Fprintf(&b, " n_%d:", v)
		for k := range m.p.Parts {
			fmt.Fprintf(&b, " + x_%d_%d", v, k)
		}
		b.WriteString(" = 1\n")
	}
	for k, c := range m.p.Parts {
		fmt.Fprintf(&b, " c_%d: 0 zero", k)
		for v := range m.p.Nodes {
			fmt.Fprintf(&b, " + %d x_%d_%d", int64(m.p.Nodes[v].Berths)*500+m.p.Nodes[v].Load, v, k)
		}
		fmt.Fprintf(&b, " <= %d\n", c.MilliAmps)
		for e, g := range m.p.Edges {
			if g.A != g.B {
				fmt.Fprintf(&b, " e_%d_%d: y_%d - x_%d_%d + x_%d_%d >= 0\n", e, k, e, g.A, k, g.B, k)
				fmt.Fprintf(&b, " f_%d_%d: y_%d + x_%d_%d - x_%d_%d >= 0\n", e, k, e, g.A, k, g.B, k)
			}
		}
	}
	for i, a := range m.apart {
		fmt.Fprintf(&b, " a_%d: %s\n", i, a)
	}
	b.WriteString("Bounds\n zero = 0\nBinaries\n")
	for e, g := range m.p.Edges {
		if g.A != g.B {
			fmt.Fprintf(&b, " y_%d\n", e)
		}
	}
	for v := range m.p.Nodes {
		for k := range m.p.Parts {
			fmt.Fprintf(&b, " x_%d_%d\n", v, k)
		}
	}
	b.WriteString("End\n")
	return b.String()
}

// solve runs glpsol; part is nil where the program has no solution.
func (m *milp) solve(t *testing.T) (part []int32, cuts int64) {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "p.lp"), filepath.Join(dir, "p.sol")
	if err := os.WriteFile(in, []byte(m.text()), 0o600); err != nil {
		t.Fatal(err)
	}
	if said, err := exec.Command("glpsol", "--lp", in, "--write", out, "--cuts").CombinedOutput(); err != nil {
		t.Fatalf("glpsol: %v\n%s", err, said)
	}
	text, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	return m.read(t, string(text))
}

// read takes a solution from glpsol's plain form: a line "s mip ROWS COLUMNS STATUS VALUE", and a line "j N VALUE" a
// column, in the order in which the program first names them.
func (m *milp) read(t *testing.T, text string) (part []int32, cuts int64) {
	t.Helper()
	var values []float64
	for line := range strings.Lines(text) {
		w := strings.Fields(line)
		switch {
		case len(w) == 6 && w[0] == "s" && w[1] == "mip":
			if w[4] == "n" {
				return nil, 0
			}
			if w[4] != "o" {
				t.Fatalf("glpsol is not done: %s", line)
			}
			x, err := strconv.ParseFloat(w[5], 64)
			if err != nil {
				t.Fatal(err)
			}
			cuts = int64(x + 0.5)
		case len(w) == 3 && w[0] == "j":
			x, err := strconv.ParseFloat(w[2], 64)
			if err != nil {
				t.Fatal(err)
			}
			values = append(values, x)
		}
	}
	// columns: zero, the y of edges between two nodes, then the x in the order of the rows n_v
	at := 1
	for _, e := range m.p.Edges {
		if e.A != e.B {
			at++
		}
	}
	part = make([]int32, len(m.p.Nodes))
	for v := range part {
		part[v] = -1
		for k := range m.p.Parts {
			if values[at] > 0.5 {
				part[v] = int32(k)
			}
			at++
		}
	}
	return part, cuts
}

// alike reports whether all districts may draw the same.
func (m *milp) alike() bool {
	return !slices.ContainsFunc(m.p.Parts, func(c Capacity) bool { return c != m.p.Parts[0] })
}

// connect asks that the districts of a solution be connected where they are not: two nodes may be in one district only with a
// node of what parts them. It reports whether anything was asked.
func (m *milp) connect(part []int32) bool {
	near := m.p.neighbours()
	asked := false
	for k := range m.p.Parts {
		var pieces [][]int32
		seen := make([]bool, len(part))
		for v := range part {
			if part[v] != int32(k) || seen[v] {
				continue
			}
			piece := []int32{int32(v)}
			seen[v] = true
			for i := 0; i < len(piece); i++ {
				for _, e := range near[piece[i]] {
					if part[e.to] == int32(k) && !seen[e.to] {
						seen[e.to] = true
						piece = append(piece, e.to)
					}
				}
			}
			pieces = append(pieces, piece)
		}
		for i := 1; i < len(pieces); i++ {
			var between []int32
			for _, v := range pieces[0] {
				for _, e := range near[v] {
					if part[e.to] != int32(k) && !slices.Contains(between, e.to) {
						between = append(between, e.to)
					}
				}
			}
			for c := range m.p.Parts { // in any district
				var b strings.Builder
				fmt.Fprintf(&b, "x_%d_%d + x_%d_%d", pieces[0][0], c, pieces[i][0], c)
				for _, v := range between {
					fmt.Fprintf(&b, " - x_%d_%d", v, c)
				}
				m.apart = append(m.apart, b.String()+" <= 1")
				asked = true
			}
		}
	}
	return asked
}

// TestIntegerProgram compares the fewest cuts with those of an integer program on sixty problems of 8 to 13 nodes.
func TestIntegerProgram(t *testing.T) {
	if _, err := exec.LookPath("glpsol"); err != nil {
		if os.Getenv("GAPWISE_REQUIRE_TOOLS") == "1" {
			t.Fatal("glpsol is not installed")
		}
		t.Skip("glpsol is not installed")
	}
	r := rand.New(rand.NewPCG(5, 6))
	solved, impossible, connected := 0, 0, 0
	for i := range 60 {
		p := linear(r, 8+r.IntN(6), 2+i%3/2)
		got, err := Solve(context.Background(), p, DefaultWork)
		if err != nil {
			t.Fatal(err)
		}
		m := &milp{p: p}
		part, cuts := m.solve(t)
		for part != nil && m.connect(part) {
			connected++
			part, cuts = m.solve(t)
		}
		if part == nil {
			impossible++
			if got.Feasible != Impossible {
				t.Errorf("%d: the integer program has no solution, got %+v", i, got)
			}
			continue
		}
		solved++
		if value, err := p.Evaluate(part); err != nil || value[0] != cuts {
			t.Fatalf("%d: the program's own solution: %v, %v, said %d", i, value, err, cuts)
		}
		if got.Feasible != Found || got.Value[0] != cuts || !got.Proven[0] {
			t.Errorf("%d: %d cuts, got %+v", i, cuts, got)
		}
	}
	t.Logf("%d solved, %d without solution, %d times made connected", solved, impossible, connected)
	if solved < 50 {
		t.Errorf("only %d of 60 have a solution", solved)
	}
}
