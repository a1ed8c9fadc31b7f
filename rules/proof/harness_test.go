package proof

import (
	"context"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"gapwise/rules"
	"gapwise/rules/catalogue"
)

// usualShare is the share of README's own test command; whether every rule is needed is asked with larger ones.
const usualShare = 16

var (
	full  = flag.Bool("full", false, "seed every fault into every sound layout, not a share of them")
	seed  = flag.Uint64("seed", 1, "chooses the share of faults that is seeded")
	share = flag.Int("share", usualShare, "how many faults of each kind the share has")
	some  = flag.Int("layouts", 12, "how many of the generated layouts faults are seeded into, besides the demo layouts")
)

// bases are the sound layouts: the demo layouts and those generated ones that are chosen.
func bases(t *testing.T, generated []int) []*Base {
	t.Helper()
	ctx := context.Background()
	sound, err := SoundLayouts(ctx, "../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	if len(sound) < 6 {
		t.Fatalf("only %d demo layouts", len(sound))
	}
	var out []*Base
	for _, i := range generated {
		sound = append(sound, Generated(i))
	}
	for _, s := range sound {
		b, err := NewBase(ctx, s, rules.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range b.False {
			t.Errorf("%s: false alarm: %s %s at %s: %s", s.Name, f.Severity, f.Rule, f.Place.Text, f.Message)
		}
		for _, h := range b.Feared {
			t.Errorf("%s: the oracle sees a hazard: %s at %s: %s", s.Name, h.Kind, h.Place, h.Detail)
		}
		out = append(out, b)
	}
	return out
}

// job is a fault to seed into a layout.
type job struct {
	base   *Base
	faults []Fault
}

// judge seeds faults in parallel; the results are in the order of the jobs.
func judge(t *testing.T, jobs []job, o rules.Options) [][]Result {
	t.Helper()
	out := make([][]Result, len(jobs))
	errs := make([]error, len(jobs))
	var wait sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := range next {
				out[i], errs[i] = jobs[i].base.Judge(context.Background(), o, jobs[i].faults...)
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

// chosen lists every fault of every base, or a share of each kind.
func chosen(bases []*Base, r *rand.Rand) []job {
	byKind := map[string][]job{}
	for _, b := range bases {
		for _, f := range Faults(b.Layout) {
			byKind[f.Kind] = append(byKind[f.Kind], job{b, []Fault{f}})
		}
	}
	var out []job
	for _, k := range kinds {
		jobs := byKind[k.name]
		if most := mostOfAKind(); len(jobs) > most {
			r.Shuffle(len(jobs), func(i, j int) { jobs[i], jobs[j] = jobs[j], jobs[i] })
			jobs = jobs[:most]
		}
		out = append(out, jobs...)
	}
	return out
}

// mostOfAKind is how many faults of each kind are seeded.
func mostOfAKind() int {
	switch {
	case *full:
		return math.MaxInt
	case testing.Short():
		return 4
	default:
		return *share
	}
}

// generated chooses among the generated layouts: all of them, or some.
func generated(r *rand.Rand) []int {
	all := r.Perm(GeneratedCount)
	if !*full {
		all = all[:min(*some, len(all))]
	}
	slices.Sort(all)
	return all
}

// TestSeededFaults seeds faults into sound layouts. Each must be found, or the oracle must show
// that it is harmless. With -full every fault is seeded, without it a share that -seed chooses.
// Layouts in which one is missed are kept in the folder that GAPWISE_MISSED names, if it does.
func TestSeededFaults(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 4))
	bs := bases(t, generated(r))
	jobs := chosen(bs, r)
	var results []Result
	for _, rs := range judge(t, jobs, rules.Options{}) {
		results = append(results, rs...)
	}
	table := NewTable(results, 0)
	t.Logf("\n%s", table)
	for i := range results {
		r := &results[i]
		if r.Outcome != Missed {
			continue
		}
		t.Errorf("missed in %s: %s at %v %.2f m %v: %s", jobs[i].base.Name, r.Fault.Kind, r.Fault.Where.Pieces, r.Fault.Where.At, r.Fault.Where.Names, r.Why)
		if dir := os.Getenv("GAPWISE_MISSED"); dir != "" {
			if err := os.WriteFile(fmt.Sprintf("%s/%d.yaml", dir, i), []byte(r.Text), 0o600); err != nil {
				t.Error(err)
			}
		}
	}
	for _, row := range table.Rows {
		if row.Seeded == 0 {
			t.Errorf("no fault of the kind %q was seeded", row.Kind)
		}
	}
	if *full || *share > usualShare {
		everyRuleIsNeeded(t, bs, results)
	}
}

// everyRuleIsNeeded expects that switching any one rule off changes the table for the worse.
// Where the share chosen does not need a rule, further faults meant for it are seeded until
// one does; that one is then seeded with the rule really switched off.
func everyRuleIsNeeded(t *testing.T, bs []*Base, results []Result) {
	t.Helper()
	var all []job
	for _, b := range bs {
		for _, f := range Faults(b.Layout) {
			all = append(all, job{b, []Fault{f}})
		}
	}
	for _, r := range catalogue.All() {
		worse := func(x Result) bool { return x.Without(r.ID).Outcome > x.Outcome }
		if slices.ContainsFunc(results, worse) {
			continue
		}
		needed := false
		for i := 0; i < len(all) && !needed; i++ {
			if !slices.Contains(all[i].faults[0].Meant, r.ID) {
				continue
			}
			with := judge(t, all[i:i+1], rules.Options{})[0][0]
			if needed = worse(with); needed {
				off := judge(t, all[i:i+1], rules.Options{Without: []string{r.ID}})[0][0]
				if off.Outcome <= with.Outcome {
					t.Errorf("%s: with the rule off, %s is still %s", r.ID, with.Fault.Kind, off.Outcome)
				}
			}
		}
		if !needed {
			t.Errorf("no seeded fault needs %s", r.ID)
		}
	}
}

// unmeant reports whether one fault takes a block away that another is held against: with nothing meant there, nothing differs.
func unmeant(x, y *Fault) bool {
	return x.Kind == "block left out" && slices.ContainsFunc(x.Where.Pieces, func(p string) bool { return slices.Contains(y.Where.Pieces, p) })
}

// TestPairsOfFaults seeds two faults at once, each of which is found alone. It counts the pairs of
// which both are reported at their places, and lists which kinds mask which; a pair of which neither
// is reported fails.
func TestPairsOfFaults(t *testing.T) {
	pairs := 60
	switch {
	case *full:
		pairs = 500
	case testing.Short():
		pairs = 10
	}
	r := rand.New(rand.NewPCG(*seed, 5))
	jobs := chosen(bases(t, nil), r)
	alone := map[*Base][]Fault{}
	var order []*Base
	for i, rs := range judge(t, jobs, rules.Options{}) {
		if b := jobs[i].base; rs[0].Outcome == Found {
			if alone[b] == nil {
				order = append(order, b)
			}
			alone[b] = append(alone[b], rs[0].Fault)
		}
	}
	var both []job
	for len(both) < pairs {
		b := order[r.IntN(len(order))]
		fs := alone[b]
		x, y := r.IntN(len(fs)), r.IntN(len(fs))
		if x != y && !unmeant(&fs[x], &fs[y]) && !unmeant(&fs[y], &fs[x]) {
			both = append(both, job{b, []Fault{fs[x], fs[y]}})
		}
	}
	reported, masks := 0, map[string]int{}
	for i, rs := range judge(t, both, rules.Options{}) {
		switch {
		case rs[0].Outcome == Found && rs[1].Outcome == Found:
			reported++
		case rs[0].Outcome == Found:
			masks[rs[0].Fault.Kind+" masks "+rs[1].Fault.Kind+" ("+rs[1].Outcome.String()+")"]++
		case rs[1].Outcome == Found:
			masks[rs[1].Fault.Kind+" masks "+rs[0].Fault.Kind+" ("+rs[0].Outcome.String()+")"]++
		case rs[0].Outcome != FoundByAnother && rs[1].Outcome != FoundByAnother && rs[0].Outcome != Refused:
			t.Errorf("neither is reported in %s: %s at %v, %s at %v", both[i].base.Name, rs[0].Fault.Kind, rs[0].Fault.Where, rs[1].Fault.Kind, rs[1].Fault.Where)
		default:
			masks[rs[0].Fault.Kind+" and "+rs[1].Fault.Kind+" mask each other"]++
		}
	}
	var lines []string
	for text, n := range masks {
		lines = append(lines, fmt.Sprintf("%4d %s", n, text))
	}
	slices.Sort(lines)
	t.Logf("both reported: %d of %d pairs\n%s", reported, pairs, strings.Join(lines, "\n"))
}
