package partition

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// milp is a problem as an integer program: node v is in district k where x_v_k is 1, and edge e is whole inside district k where w_e_k
// is. Trains are alike and come everywhere, so that what a district draws is a sum over its nodes; districts are alike, so that node v need not
// be in one beyond the v-th. That a district is connected is asked for where a solution breaks it.
type milp struct {
	p     *Problem
	names []string // of columns, in the order of the objective
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
	most := (int64(berths)*500+standing)/int64(parts) + int64(400+r.IntN(800))
	for range parts {
		p.Parts = append(p.Parts, Capacity{most})
	}
	for a := 1; a < nodes; a++ {
		p.Edges = append(p.Edges, Edge{int32(a), int32(max(0, a-1-r.IntN(3))), int32(1 + r.IntN(3))})
	}
	for range nodes / 3 {
		p.Edges = append(p.Edges, Edge{int32(r.IntN(nodes)), int32(r.IntN(nodes)), int32(r.IntN(3))})
	}
	return p
}

// text writes the program in the LP format that both solvers read.
func (m *milp) text() string {
	var goal, rows strings.Builder
	m.names = nil
	column := func(weight int64, format string, args ...any) string {
		name := fmt.Sprintf(format, args...)
		m.names = append(m.names, name)
		fmt.Fprintf(&goal, " - %d %s\n", weight, name)
		return name
	}
	var whole []string // the x
	for v := range m.p.Nodes {
		var in []string
		for k := range m.p.Parts {
			x := column(0, "x_%d_%d", v, k)
			whole = append(whole, x)
			if k <= v {
				in = append(in, x)
			} else {
				fmt.Fprintf(&rows, " o_%d_%d: %s = 0\n", v, k, x)
			}
		}
		fmt.Fprintf(&rows, " n_%d: %s = 1\n", v, strings.Join(in, " + "))
	}
	for k, c := range m.p.Parts {
		fmt.Fprintf(&rows, " c_%d:", k)
		for v := range m.p.Nodes {
			fmt.Fprintf(&rows, " + %d x_%d_%d", int64(m.p.Nodes[v].Berths)*500+m.p.Nodes[v].Load, v, k)
		}
		fmt.Fprintf(&rows, " <= %d\n", c.MilliAmps)
		for e, g := range m.p.Edges {
			w := column(int64(g.Cuts), "w_%d_%d", e, k)
			fmt.Fprintf(&rows, " a_%d_%d: %s - x_%d_%d <= 0\n b_%d_%d: %s - x_%d_%d <= 0\n", e, k, w, g.A, k, e, k, w, g.B, k)
		}
	}
	for i, a := range m.apart {
		fmt.Fprintf(&rows, " d_%d: %s\n", i, a)
	}
	return "Minimize\n kept:" + goal.String() + "Subject To\n" + rows.String() + "Binaries\n " + strings.Join(whole, "\n ") + "\nEnd\n"
}

// solve runs a solver; part is nil where the program has no solution.
func (m *milp) solve(t *testing.T, solver string) (part []int32) {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "p.lp"), filepath.Join(dir, "p.sol")
	if err := os.WriteFile(in, []byte(m.text()), 0o600); err != nil {
		t.Fatal(err)
	}
	args := []string{in, "solve", "solution", out}
	if solver == "glpsol" {
		args = []string{"--lp", in, "--write", out, "--cuts"}
	}
	said, err := exec.Command(solver, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", solver, err, said)
	}
	text, err := os.ReadFile(out)
	if err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	one, found := m.read(t, string(text))
	if !found {
		return nil
	}
	for v := range m.p.Nodes {
		for k := range m.p.Parts {
			if slices.Contains(one, fmt.Sprintf("x_%d_%d", v, k)) {
				part = append(part, int32(k))
			}
		}
	}
	if len(part) != len(m.p.Nodes) {
		t.Fatalf("%s puts %d nodes into districts", solver, len(part))
	}
	return part
}

// read lists the columns that are 1 in a solution. glpsol writes a line "s mip ROWS COLUMNS STATUS VALUE" and a line "j N VALUE" a
// column; cbc a line that begins with how it went, and a line "N NAME VALUE COST" a column that is not 0.
func (m *milp) read(t *testing.T, text string) (one []string, found bool) {
	t.Helper()
	for line := range strings.Lines(text) {
		w := strings.Fields(line)
		switch {
		case w == nil || w[0] == "c": // glpsol's comments
		case len(w) == 6 && w[0] == "s" && w[1] == "mip":
			if w[4] != "o" && w[4] != "n" {
				t.Fatalf("glpsol is not done: %s", line)
			}
			found = w[4] == "o"
		case len(w) == 3 && w[0] == "j":
			at, err := strconv.Atoi(w[1])
			if err != nil {
				t.Fatal(err)
			}
			if isOne(t, w[2]) {
				one = append(one, m.names[at-1])
			}
		case len(w) > 2 && w[len(w)-3] == "objective" && w[len(w)-2] == "value":
			if w[0] != "Optimal" && w[0] != "Infeasible" && w[0] != "Integer" {
				t.Fatalf("cbc is not done: %s", line)
			}
			found = w[0] == "Optimal"
		case len(w) == 4 && isOne(t, w[2]):
			one = append(one, w[1])
		}
	}
	return one, found
}

func isOne(t *testing.T, word string) bool {
	t.Helper()
	x, err := strconv.ParseFloat(word, 64)
	if err != nil {
		t.Fatal(err)
	}
	return math.Abs(x-1) < 1e-6
}

// connect asks that the districts of a solution be connected where they are not: two nodes may be in one district only with a
// node of what parts them. It reports whether anything was asked.
func (m *milp) connect(part []int32) bool {
	near := m.p.neighbours()
	asked := false
	for k := range m.p.Parts {
		pieces := piecesOf(near, part, int32(k))
		for i, piece := range pieces {
			other := pieces[(i+1)%len(pieces)][0]
			if len(pieces) == 1 {
				break
			}
			between := parting(near, piece, other)
			for c := range m.p.Parts { // in any district
				var b strings.Builder
				fmt.Fprintf(&b, "x_%d_%d + x_%d_%d", piece[0], c, other, c)
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

// parting lists the nodes next to a connected piece that part it from another node.
func parting(near [][]step, piece []int32, other int32) (out []int32) {
	next := make([]bool, len(near))
	for _, v := range piece {
		for _, e := range near[v] {
			next[e.to] = !slices.Contains(piece, e.to)
		}
	}
	seen := make([]bool, len(near))
	seen[other] = true
	for reached := []int32{other}; len(reached) > 0; reached = reached[1:] {
		if next[reached[0]] {
			out = append(out, reached[0])
			continue
		}
		for _, e := range near[reached[0]] {
			if !seen[e.to] {
				seen[e.to] = true
				reached = append(reached, e.to)
			}
		}
	}
	return out
}

// piecesOf are the connected pieces of a district.
func piecesOf(near [][]step, part []int32, k int32) (pieces [][]int32) {
	seen := make([]bool, len(part))
	for v := range part {
		if part[v] != k || seen[v] {
			continue
		}
		piece := []int32{int32(v)}
		seen[v] = true
		for i := 0; i < len(piece); i++ {
			for _, e := range near[piece[i]] {
				if part[e.to] == k && !seen[e.to] {
					seen[e.to] = true
					piece = append(piece, e.to)
				}
			}
		}
		pieces = append(pieces, piece)
	}
	return pieces
}

// solveConnected solves the program until districts are connected; times is how often that had to be asked for.
func (m *milp) solveConnected(t *testing.T, solver string) (part []int32, times int) {
	t.Helper()
	part = m.solve(t, solver)
	for part != nil && m.connect(part) {
		times++
		part = m.solve(t, solver)
	}
	return part, times
}

// TestIntegerProgram compares the fewest cuts with those of an integer program on sixty problems of 10 to 25 nodes, some
// by two solvers.
func TestIntegerProgram(t *testing.T) {
	for _, tool := range []string{"cbc", "glpsol"} {
		if _, err := exec.LookPath(tool); err != nil {
			if os.Getenv("GAPWISE_REQUIRE_TOOLS") == "1" {
				t.Fatal(tool, "is not installed")
			}
			t.Skip(tool, "is not installed")
		}
	}
	r := rand.New(rand.NewPCG(5, 11))
	divided, impossible, connected := 0, 0, 0
	problems := 60
	if testing.Short() {
		problems = 15
	}
	for i := range problems {
		parts := 2 + i%3
		p := linear(r, 10+i*(22-5*parts)/48, parts)
		got := solved(t, p, DefaultWork)
		solvers := []string{"glpsol"}
		if i%15 == 6 {
			solvers = append(solvers, "cbc")
		}
		for _, solver := range solvers {
			part, times := (&milp{p: p}).solveConnected(t, solver)
			connected += times
			if part == nil {
				impossible++
				if got.Feasible != Impossible {
					t.Errorf("%d: %s finds no solution, got %+v", i, solver, got)
				}
				continue
			}
			divided++
			value, err := p.Evaluate(part)
			if err != nil || got.Feasible != Found || got.Value[0] != value[0] || !got.Proven[0] {
				t.Errorf("%d: %s finds %d cuts (%v), got %+v", i, solver, value[0], err, got)
			}
		}
	}
	t.Logf("%d divided, %d without solution, %d times made connected", divided, impossible, connected)
	if divided < problems-5 {
		t.Errorf("only %d have a solution", divided)
	}
}
