package proof_test

import (
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"

	"gapwise/netlist/generate"
	"gapwise/netlist/reader"

	"gapwise/rules"
	"gapwise/rules/proof"
	"gapwise/rules/proof/oracle"
)

// TestOhmsAgainstOracle holds the loop at thousands of points against the oracle, which has its own tables, its own
// picture of every piece and its own way to solve. Where no track work lies on the way they agree to a hundred-thousandth, everywhere within what
// the two pictures of track work leave.
func TestOhmsAgainstOracle(t *testing.T) {
	var texts []string
	for _, pattern := range []string{"../../testdata/*/*sound.yaml", "../testdata/sound/*.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			l, problems, err := reader.ReadFile(t.Context(), file, rules.ReaderOptions())
			if err != nil || len(problems) > 0 {
				t.Fatal(file, err, len(problems))
			}
			texts = append(texts, proof.Flat(l))
		}
	}
	for seed := range uint64(20) {
		texts = append(texts, proof.Flat(generate.Layout(400, seed)))
	}
	compared, skipped, alike := 0, 0, 0
	for i, text := range texts {
		points, err := oracle.Ohms(text)
		var meet *oracle.LegsMeetError
		if err != nil && !errors.As(err, &meet) {
			t.Fatal(err)
		}
		l, err := proof.Read(context.Background(), text)
		if err != nil {
			t.Fatal(err)
		}
		c, err := rules.Trace(context.Background(), l)
		if err != nil {
			t.Fatal(err)
		}
		tracks := map[string]int32{}
		for k := range l.Tracks {
			tracks[l.Tracks[k].Name] = int32(k)
		}
		wrong := 0
		for _, q := range points {
			track, isTrack := tracks[q.Piece]
			if isTrack && l.Tracks[track].JointEvery.Known() {
				continue // the program spreads such joints evenly over a length of rail
			}
			if !isTrack || q.InSettings || q.Skipped || q.Side != 0 {
				skipped++
				continue
			}
			p, ok := c.Power.PointOn(track, q.At)
			if !ok || len(p.Settings) > 0 {
				skipped++
				continue
			}
			compared++
			if within(p.Loop.Hi, q.ROhmWeak, 1e-5) && within(p.Loop.Lo, q.ROhmStrong, 1e-4) {
				alike++
			}
			if !within(p.Loop.Hi, q.ROhmWeak, apart) || !within(p.Loop.Lo, q.ROhmStrong, apart) {
				if wrong++; wrong <= 3 {
					t.Errorf("layout %d (%s), %s @ %.3f m: the oracle has %.6f .. %.6f Ω, the program %.6f .. %.6f", i, l.Name, q.Piece, q.At, q.ROhmStrong, q.ROhmWeak, p.Loop.Lo, p.Loop.Hi)
				}
			}
		}
		if wrong > 0 {
			t.Errorf("layout %d (%s): %d points differ", i, l.Name, wrong)
			if dir := os.Getenv("GAPWISE_MISSED"); dir != "" {
				_ = os.WriteFile(filepath.Join(dir, l.Name+".yaml"), []byte(text), 0o600)
			}
		}
	}
	t.Logf("%d alike in both corners", alike)
	t.Logf("%d points compared, %d fed in settings, inside pieces or not fed left out", compared, skipped)
	if compared < 5000 || alike < compared/6 {
		t.Errorf("only %d points compared, %d alike", compared, alike)
	}
}

func within(a, b, relative float64) bool { return math.Abs(a-b) <= relative*math.Abs(b) }

// apart is how far the two may be: they do not divide track work into the same conductors, so that where contacts and ties
// hang on a stock rail differs by up to a turnout's length.
const apart = 0.2
