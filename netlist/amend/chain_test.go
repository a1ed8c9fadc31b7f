package amend

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gapwise/netlist/reader"
)

// TestChain makes changes in rounds, each on the layout as the one before left it, and saves
// the last: the files have the changes and marks of all rounds, and those that no round
// changed are there too.
func TestChain(t *testing.T) {
	in, out := t.TempDir(), t.TempDir()
	w := onDisk(t, in, club, "d/root.yaml")
	w.Mark = "round 1"
	l := w.lay
	w.CloseGap(gapOn(l, "east/H @ 1 ft 8 in"))
	w.CloseGap(gapOn(l, "west/H @ 1 ft 8 in"))
	w.Set("buses", "ring", Key{"wire", "10 AWG"})
	for _, round := range []struct {
		mark string
		make func()
	}{
		{"round 2", func() {
			w.MoveFeeder(feederOn(w.lay, "east/H @ 1 ft"), "6 in")
			w.AddPlaced("gaps", "Lone", "4 ft", "")
			w.Set("buses", "ring", Key{"length", "61 ft"})
		}},
		{"round 3", func() {
			w.SetFeeder(feederOn(w.lay, "east/H @ 6 in"), Key{"wire", "18 AWG"})
			w.MoveGap(gapOn(w.lay, "Lone @ 4 ft"), "3 ft")
		}},
	} {
		mark := w.Mark
		w = New(reread(t, w), reader.Options{})
		if w.Mark = round.mark; w.Mark == mark {
			t.Fatal("two rounds of one mark")
		}
		round.make()
	}
	w = New(reread(t, w), reader.Options{}) // a last round that changes nothing
	paths, err := w.Save(out, false)
	if err != nil || len(paths) != 4 {
		t.Fatal(paths, err)
	}
	got := filesIn(t, out)
	for name, lines := range map[string][]string{
		"root.yaml": {"  ring: {from: booster front, wire: 10 AWG, length: 61 ft}  # round 1", "  east/H: {A: left, 6 in: {from: ring @ 2 ft, wire: 18 AWG}}  # round 2"},
		"rest.yaml": {"gaps: {bend/Bow: {at: 2 ft, rails: left}, Lone: [3 ft]}  # round 2"},
	} {
		for _, line := range lines {
			if !strings.Contains(got[name], line+"\n") {
				t.Errorf("no line %s in\n%s", line, got[name])
			}
		}
	}
	if want := strings.Replace(club["d/heath.yaml"], "  - 1 ft 8 in\n", "", 1); got["heath.yaml"] != want {
		t.Errorf("got\n%s\nwant\n%s", got["heath.yaml"], want)
	}
	if got["sub/bend.yaml"] != club["d/sub/bend.yaml"] {
		t.Errorf("changed to\n%s", got["sub/bend.yaml"])
	}
	for name, text := range club {
		if on, err := os.ReadFile(filepath.Join(in, name)); err != nil || string(on) != text {
			t.Errorf("%s changed in its own folder: %v\n%s", name, err, on)
		}
	}
	if _, err := w.Save(in+"/d", true); err != nil {
		t.Fatal(err)
	}
	if again := filesIn(t, in+"/d"); again["rest.yaml"] != got["rest.yaml"] || len(again) != len(got) {
		t.Errorf("%d files, one of them\n%s", len(again), again["rest.yaml"])
	}
}
