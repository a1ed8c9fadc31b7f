package oracle

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const root = "../../.."

func hazardsOf(t *testing.T, file string, limit int) []Hazard {
	t.Helper()
	l, err := Read(file, os.ReadFile)
	if err != nil {
		t.Fatal(err)
	}
	hs, err := l.Hazards(limit)
	if err != nil {
		t.Fatal(err)
	}
	return hs
}

func TestSoundLayouts(t *testing.T) {
	for _, name := range []string{"sound.yaml", "upper-sound.yaml"} {
		if hs := hazardsOf(t, filepath.Join(root, "testdata/tin-harbour", name), 0); len(hs) > 0 {
			t.Errorf("%s: %q", name, hs)
		}
	}
}

// The faults that the comments of sound.yaml tell of, each as somebody would look for it.
func TestAsFound(t *testing.T) {
	hs := hazardsOf(t, filepath.Join(root, "testdata/tin-harbour/as-found.yaml"), 0)
	for _, want := range []struct{ kind, what string }{
		{Short, "S2 @ 0.91 m"},              // the feeder at 3 ft is crossed
		{Short, "BL @ 4.04 m by way of BL"}, // the gap at 12 ft 10 in is cut in one rail
		{Short, "MN1, T9, MN2"},             // the frog of T9
		{Tied, "Y3 @ 0.30 m"},               // the feeder from harbour
		{Dead, "M3 @ 1.75 m"},               // behind the expansion gap
		{Block, "M1 @ 1.22 m"},              // the gap at 4 ft
		{Block, "M1 @ 0.20 m"},              // which was meant at 8 in
	} {
		if !slices.ContainsFunc(hs, func(h Hazard) bool { return h.Kind == want.kind && strings.Contains(h.Place+" "+h.Detail, want.what) }) {
			t.Errorf("no %s at %s", want.kind, want.what)
		}
	}
}

// Layouts that the catalogue claims sound, but for a matter that is no hazard.
func TestNearMisses(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(root, "rules/catalogue/testdata/*/near-miss-*.yaml"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no near misses: %v", err)
	}
	for _, f := range files {
		if hs := hazardsOf(t, f, 0); len(hs) > 0 {
			t.Errorf("%s: %q", f, hs)
		}
	}
}

// Trying settings group by group must find what trying all of them at once does.
func TestGroupsAgainstWhole(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(root, "rules/catalogue/testdata/*/*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	tried := 0
	for _, f := range files {
		l, err := Read(f, os.ReadFile)
		if err != nil {
			continue // broken on purpose, or not modelled
		}
		byGroup, err1 := l.Hazards(1)
		whole, err2 := l.Hazards(1 << 12)
		if err1 != nil || err2 != nil {
			t.Errorf("%s: %v, %v", f, err1, err2)
			continue
		}
		if x, y := kinds(byGroup), kinds(whole); !slices.Equal(x, y) {
			t.Errorf("%s: by groups %q, at once %q", f, x, y)
		}
		tried++
	}
	if tried < len(files)/2 {
		t.Errorf("only %d of %d layouts were tried", tried, len(files))
	}
}

func TestIncludes(t *testing.T) {
	files := map[string]string{
		"a/whole.yaml": "include: [part.yaml, {file: part.yaml}]\n" + strings.TrimPrefix(base, "\n") + "tracks: {line: {from: end, to: shelf start, length: 6 ft}}\nfeeders: {line: {A: left, 1 ft: main @ 1 ft}}\n",
		"a/part.yaml":  "tracks: {shelf: {from: line end, to: end, length: 6 ft}}\nfeeders: {shelf: {A: right, 1 ft: main @ 9 ft}}\n",
	}
	open := func(name string) ([]byte, error) {
		if text, ok := files[name]; ok {
			return []byte(text), nil
		}
		return nil, errors.New("no " + name)
	}
	l, err := Read("a/whole.yaml", open)
	if err != nil {
		t.Fatal(err)
	}
	hs, err := l.Hazards(0)
	if err != nil {
		t.Fatal(err)
	}
	// The part has no defaults, so the joint between is unknown: it may short.
	if !slices.ContainsFunc(hs, func(h Hazard) bool { return h.Kind == Short }) {
		t.Errorf("feeders that disagree over the joint: %q", hs)
	}
}

func TestWhatIsNotModelledIsAnError(t *testing.T) {
	for _, text := range []string{
		"", "a: [", "x: &a 1\ny: *a", "tracks: {a: {from: end, to: end}}", "tracks: {a: {from: end, to: T1 points, length: 1 m}}",
		"include: [{file: x, as: y}]", "turnouts: {T: {hand: right}}", "turnouts: {T: {hand: right, wiring: power-routing, jumpers: yes}}",
		"turntables: {T: {bridge: 1 m, tracks: {a: 0 deg}, feed: plain, from: nowhere, A: left}}",
		"tracks: {a: {from: end, to: end, length: 1 m}}\ngaps: {a: [{at: 20 cm, rails: both, kind: insulated}, {at: 20 cm, rails: left, kind: insulated}]}",
		"tracks: {a: {from: end, to: end, length: 5 m}}\ngaps: {a: [{at: 1 .. 2 m, rails: both, kind: insulated}, {at: 1.5 m, rails: left, kind: insulated}]}",
		"breakers: {a: {from: breaker b}, b: {from: breaker a}}", "buses: {a: {like: b}, b: {like: a}}", "tracks: {a: 1, a: 2}",
		"three-ways: {T: {construction: lapped, wiring: dead-frog}}", "changeovers: {c: {positions: {x: nothing}, throws-with: T}}",
	} {
		if _, err := Read("x", func(string) ([]byte, error) { return []byte(text), nil }); err == nil {
			t.Errorf("read without complaint: %s", text)
		}
	}
}

// yard is a ladder of n turnouts of one wiring, fed on every track or at its throat.
func yard(n int, wiring string, fed bool) string {
	var tracks, turnouts, gaps, feeders strings.Builder
	fmt.Fprintf(&tracks, "  L0: {from: end, to: T1 points, length: 3 ft}\n")
	fmt.Fprintf(&feeders, "  L0: {A: left, 1 ft: main @ 1 ft}\n")
	for i := 1; i <= n; i++ {
		to := "end"
		if i < n {
			to = fmt.Sprintf("T%d points", i+1)
		}
		fmt.Fprintf(&tracks, "  L%d: {from: T%d straight, to: %s, length: 3 ft}\n  Y%d: {from: T%d curved, to: end, length: 6 ft}\n", i, i, to, i, i)
		fmt.Fprintf(&turnouts, "  T%d: {hand: left, wiring: %s}\n", i, wiring)
		if fed {
			fmt.Fprintf(&gaps, "  L%d: [1 in]\n  Y%d: [1 in]\n", i, i)
			fmt.Fprintf(&feeders, "  L%d: {A: left, 1 ft: main @ 1 ft}\n  Y%d: {A: left, 1 ft: main @ 1 ft}\n", i, i)
		}
	}
	return base + "tracks:\n" + tracks.String() + "turnouts:\n" + turnouts.String() + "gaps:\n" + gaps.String() + "feeders:\n" + feeders.String()
}

func TestYards(t *testing.T) {
	for _, wiring := range []string{"dead-frog", "switched-frog", "power-routing", "power-routing-gapped"} {
		for _, fed := range []bool{true, false} {
			hs, err := reading(t, yard(6, wiring, fed)).Hazards(0)
			if err != nil {
				t.Fatal(err)
			}
			deaf := wiring == "power-routing-gapped" && !fed // nothing feeds the rails beyond its frogs
			if (len(hs) > 0) != deaf {
				t.Errorf("%s, fed %v: %q", wiring, fed, hs)
			}
		}
	}
	if _, err := reading(t, yard(30, "power-routing", false)).Hazards(0); !errors.Is(err, errTooMany) {
		t.Errorf("2 to the 30 settings: %v", err)
	}
}

func BenchmarkHazards(b *testing.B) {
	for _, n := range []int{8, 12, 30} {
		for _, wiring := range []string{"switched-frog", "power-routing"} {
			for _, fed := range []bool{true, false} {
				if n == 30 && !fed && wiring == "power-routing" {
					continue
				}
				text := yard(n, wiring, fed)
				b.Run(fmt.Sprintf("turnouts=%d/%s/fed=%v", n, wiring, fed), func(b *testing.B) {
					for b.Loop() {
						if _, err := reading(b, text).Hazards(256); err != nil {
							b.Fatal(err)
						}
					}
				})
			}
		}
	}
}
