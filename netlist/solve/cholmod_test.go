package solve_test

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"gapwise/netlist/solve"
)

// cholmod compiles the program of testdata/cholmod. Without a compiler or the library
// (libsuitesparse-dev) there is nothing to compare with, unless tools are required.
func cholmod(t testing.TB) string {
	t.Helper()
	program := filepath.Join(t.TempDir(), "cholmod")
	out, err := exec.CommandContext(t.Context(), "cc", "-O2", "-Wall", "-I/usr/include/suitesparse",
		filepath.Join("testdata", "cholmod", "cholmod.c"), "-o", program, "-lcholmod", "-lm").CombinedOutput()
	switch {
	case err == nil:
		return program
	case os.Getenv("GAPWISE_REQUIRE_TOOLS") == "1":
		t.Fatalf("cholmod.c does not compile: %v\n%s", err, out)
	default:
		t.Skipf("no compiler or no CHOLMOD: %v", err)
	}
	return ""
}

// times is what the program prints.
type times struct {
	ordering, analysis, factorisation float64 // seconds; analysis has its own ordering
	entries                           int
	residual                          float64
}

// runCholmod runs the program on a network.
func runCholmod(t testing.TB, program string, n int, edges []solve.Edge, runs int) times {
	t.Helper()
	name := filepath.Join(t.TempDir(), "network")
	file, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	w := bufio.NewWriter(file)
	fmt.Fprintln(w, n, len(edges))
	for _, e := range edges {
		fmt.Fprintln(w, e.I, e.J, e.G)
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	if err := file.Close(); err != nil {
		t.Fatal(err)
	}
	out, err := exec.CommandContext(t.Context(), program, name, fmt.Sprint(runs)).Output()
	if err != nil {
		t.Fatal(err)
	}
	var r times
	if _, err := fmt.Sscan(string(out), &r.ordering, &r.analysis, &r.factorisation, &r.entries, &r.residual); err != nil {
		t.Fatalf("%v in %q", err, out)
	}
	return r
}

// TestFillAgainstCHOLMOD: our order is at most a twentieth worse than its approximate minimum
// degree.
func TestFillAgainstCHOLMOD(t *testing.T) {
	program := cholmod(t)
	for _, size := range []int{1000, 10000} {
		n, edges := circuitLike(size, 4)
		compareFill(t, program, n, edges)
	}
	n, edges := grid(60)
	compareFill(t, program, n, edges)
}

func compareFill(t *testing.T, program string, n int, edges []solve.Edge) {
	t.Helper()
	theirs := runCholmod(t, program, n, edges, 1)
	if theirs.residual > 1e-10 {
		t.Errorf("its solution misses an ampere by %v: it solves another network", theirs.residual)
	}
	if ours := factor(t, n, edges).Entries(); float64(ours) > 1.05*float64(theirs.entries) {
		t.Errorf("%d entries for %d nodes, CHOLMOD has %d", ours, n, theirs.entries)
	}
}

// BenchmarkAgainstCHOLMOD prints our time over CHOLMOD's, the least of several runs on both sides,
// for ordering, for analysis (ordering included), and for simplicial factorisation. Reading the network is on neither
// side; finding the rows of the factor is in our analysis and in its factorisation. Our selected
// inverse stands beside in milliseconds: CHOLMOD has none.
func BenchmarkAgainstCHOLMOD(b *testing.B) {
	program := cholmod(b)
	type network struct {
		name  string
		n     int
		edges []solve.Edge
	}
	var networks []network
	for _, size := range sizes {
		n, edges := circuitLike(size, 1)
		networks = append(networks, network{fmt.Sprintf("circuit/nodes=%d", size), n, edges})
	}
	n, edges := grid(300)
	networks = append(networks, network{fmt.Sprintf("grid/nodes=%d", n), n, edges})
	for _, x := range networks {
		b.Run(x.name, func(b *testing.B) {
			const runs = 7
			theirs := runCholmod(b, program, x.n, x.edges, runs)
			ctx := context.Background()
			var ordering, analysis, factorisation, inverse time.Duration
			for b.Loop() {
				for range runs {
					begin := time.Now()
					if _, err := solve.Ordering(ctx, x.n, x.edges); err != nil {
						b.Fatal(err)
					}
					start := time.Now()
					a, err := solve.Analyse(ctx, x.n, x.edges)
					if err != nil {
						b.Fatal(err)
					}
					analysed := time.Now()
					f, err := a.Factor(ctx, x.edges)
					if err != nil {
						b.Fatal(err)
					}
					factored := time.Now()
					if _, err := f.SelectedInverse(ctx); err != nil {
						b.Fatal(err)
					}
					end := time.Now()
					ordering = least(ordering, start.Sub(begin))
					analysis = least(analysis, analysed.Sub(start))
					factorisation = least(factorisation, factored.Sub(analysed))
					inverse = least(inverse, end.Sub(factored))
				}
			}
			both := theirs.analysis + theirs.factorisation
			b.ReportMetric(0, "ns/op") // both sides and all runs: no figure of use
			b.ReportMetric(ordering.Seconds()/theirs.ordering, "x-ordering")
			b.ReportMetric(analysis.Seconds()/theirs.analysis, "x-analysis")
			b.ReportMetric(factorisation.Seconds()/theirs.factorisation, "x-factorisation")
			b.ReportMetric((analysis+factorisation).Seconds()/both, "x-both")
			b.ReportMetric(both*1e3, "ms-CHOLMOD")
			b.ReportMetric(inverse.Seconds()*1e3, "ms-inverse")
		})
	}
}

// least is the shorter of two times, of which the first is 0 at the start.
func least(a, b time.Duration) time.Duration {
	if a == 0 {
		return b
	}
	return min(a, b)
}
