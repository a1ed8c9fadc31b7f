package districts_test

import (
	"fmt"
	"testing"

	"gapwise/districts"

	"pgregory.net/rapid"
)

// causes counts everything a trace blames.
func causes(tr *districts.Trace) int {
	p := tr.Polarity
	return len(tr.Ties) + len(tr.WireTies) + len(tr.BondTies) + len(tr.Conflicts) +
		len(p.WrongFeeders) + len(p.WrongGaps) + len(p.WrongRails) + len(p.WrongSignals)
}

// blamed says in words what a trace blames.
func blamed(tr *districts.Trace) string {
	p := tr.Polarity
	return fmt.Sprintf("ties %+v, feeders %v, gaps %v, rails %v, signals %v, shorts %+v", tr.Ties, p.WrongFeeders, p.WrongGaps, p.WrongRails, p.WrongSignals, tr.Conflicts)
}

// TestTraceAgainstOracle compares with the brute force of oracle_test.go, which shares no
// code with what it judges. What a single wheel or metal shorts must be blamed; what is
// right even with a train on every one-rail gap must not be. Between the two lie plans
// where only several one-rail gaps bridged at once join what should be apart: there either
// answer is allowed, and they are counted.
func TestTraceAgainstOracle(t *testing.T) {
	count := map[string]int{}
	checkOften(t, func(t *rapid.T) {
		p := drawPlan(t)
		tr, err := traceText(p.yaml())
		if err != nil {
			t.Fatalf("%v\n%s", err, p.yaml())
		}
		strict, wide := p.judge(false), p.judge(true)
		found := causes(tr) > 0
		switch {
		case !strict.clean() && wide.clean():
			t.Fatalf("the oracle is at odds with itself: %+v, bridged %+v\n%s", strict, wide, p.yaml())
		case !strict.clean() && !found:
			t.Fatalf("nothing is blamed, but the oracle finds %+v\n%s", strict, p.yaml())
		case wide.clean() && found:
			t.Fatalf("the oracle finds nothing, blamed are: %s\n%s", blamed(tr), p.yaml())
		}
		count[kind(strict, wide)]++
	})
	t.Logf("%v", count)
	for _, k := range []string{"clean", "short", "tie", "clash"} {
		if count[k] < 100 {
			t.Errorf("only %d plans with %s: %v", count[k], k, count)
		}
	}
}

func kind(strict, wide verdict) string {
	switch {
	case wide.clean():
		return "clean"
	case strict.clean():
		return "between"
	case strict.short && strict.tie:
		return "short and tie"
	case strict.short:
		return "short"
	case strict.tie:
		return "tie"
	default:
		return "clash"
	}
}

const rounds = 60

func checkOften(t *testing.T, law func(t *rapid.T)) {
	t.Helper()
	for range rounds {
		rapid.Check(t, law)
	}
}
