package proof

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"runtime"
	"strings"
	"sync"
	"testing"
)

// TestFixesOfSeededFaults seeds faults into sound layouts and makes the fixes of what is found, all together. Where nothing above a
// note stays, the oracle must see no hazard in the mended layout that the sound one did not have. The table counts, kind by kind, the
// findings, those with a fix of their own that was tried, the layouts mended whole, and the findings that stay.
// Mended layouts in which the oracle sees a hazard are kept in the folder that GAPWISE_MISSED names, if it does.
func TestFixesOfSeededFaults(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 6))
	few := 1
	switch {
	case *full:
		few = 12
	case *share > usualShare:
		few = 4
	}
	byKind := map[string][]job{}
	for _, b := range bases(t, generated(r)) {
		for _, f := range Faults(b.Layout) {
			byKind[f.Kind] = append(byKind[f.Kind], job{b, []Fault{f}})
		}
	}
	var jobs []job
	for _, k := range kinds {
		js := byKind[k.name]
		r.Shuffle(len(js), func(i, j int) { js[i], js[j] = js[j], js[i] })
		jobs = append(jobs, js[:min(few, len(js))]...)
	}
	results := mendAll(t, jobs)
	var table strings.Builder
	fmt.Fprintf(&table, "%-26s %7s %9s %9s %7s %7s %7s\n", "fault", "seeded", "findings", "own fix", "mended", "stays", "steps")
	line := func(kind string, n, told, fixed, mended, stays, steps int) {
		fmt.Fprintf(&table, "%-26s %7d %9d %9d %7d %7d %7d\n", kind, n, told, fixed, mended, stays, steps)
	}
	var sum [6]int
	for _, k := range kinds {
		var c [6]int
		for i := range results {
			m := results[i]
			if m == nil || m.Fault.Kind != k.name || m.Told == 0 {
				continue
			}
			c[0]++
			c[1] += m.Told
			c[2] += m.Fixed
			c[4] += m.Stays
			c[5] += m.Steps
			if m.Stays == 0 {
				c[3]++
			}
			for _, l := range m.Left {
				t.Logf("%s, %s at %v stays: %s %s at %s: %s", jobs[i].base.Name, m.Fault.Kind, m.Fault.Where.Pieces, l.Finding.Severity, l.Finding.Rule, l.Finding.Place.Text, l.Why)
			}
			for _, h := range m.Feared {
				t.Errorf("%s, %s at %v: mended in %d steps, and the oracle sees %s", jobs[i].base.Name, m.Fault.Kind, m.Fault.Where.Pieces, m.Steps, h)
			}
			if dir := os.Getenv("GAPWISE_MISSED"); dir != "" && len(m.Feared) > 0 {
				if err := os.WriteFile(fmt.Sprintf("%s/mended-%d.yaml", dir, i), []byte(m.Text), 0o600); err != nil {
					t.Error(err)
				}
			}
		}
		line(k.name, c[0], c[1], c[2], c[3], c[4], c[5])
		for i := range c {
			sum[i] += c[i]
		}
	}
	line("all", sum[0], sum[1], sum[2], sum[3], sum[4], sum[5])
	t.Logf("\n%s", table.String())
	if sum[3] == 0 {
		t.Error("no seeded layout was mended")
	}
}

// mendAll mends in parallel; nil where the seeded layout could not be read.
func mendAll(t *testing.T, jobs []job) []*Mended {
	t.Helper()
	out := make([]*Mended, len(jobs))
	errs := make([]error, len(jobs))
	var wait sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := range next {
				m, ok, err := jobs[i].base.Mend(context.Background(), jobs[i].faults[0])
				if errs[i] = err; ok {
					out[i] = &m
				}
			}
		})
	}
	for i := range jobs {
		next <- i
	}
	close(next)
	wait.Wait()
	for i, err := range errs {
		if err != nil {
			t.Fatalf("%s, %s: %v", jobs[i].base.Name, jobs[i].faults[0].Kind, err)
		}
	}
	return out
}
