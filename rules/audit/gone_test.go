package audit

import (
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// TestEmptied: much taken away and hardly anything added looks like two files exchanged; the other way round it does not, nor
// do a few feeders taken away, nor anything that makes a caution.
func TestEmptied(t *testing.T) {
	for _, c := range []struct {
		before, after string
		want          bool
	}{
		{"upper-sound", "sound", true},
		{"sound", "upper-sound", false},
		{"sound", "sound", false},
	} {
		if a := run(t, demo(t, c.before), demo(t, c.after)); a.Emptied() != c.want {
			t.Errorf("%s to %s: %t\n%s", c.before, c.after, a.Emptied(), told(a.Difference))
		}
	}
	few, many := demo(t, "sound"), demo(t, "sound")
	few.Trains = few.Trains[:1]
	if run(t, many, few).Emptied() {
		t.Error("a few entries taken away")
	}
	bare := demo(t, "sound")
	bare.Feeders = bare.Feeders[:len(bare.Feeders)-20]
	if a := run(t, many, bare); a.Emptied() {
		t.Errorf("20 feeders taken away, with %s", moved(a))
	}
}

// TestTakingDown: devices, buses and feeders that are gone are named before any meter or power.
func TestTakingDown(t *testing.T) {
	a := run(t, demo(t, "upper-sound"), demo(t, "sound"))
	var steps []string
	for _, s := range a.Steps {
		if s.Stage == TakingDown {
			steps = append(steps, s.Text)
		}
	}
	text := strings.Join(steps, "\n")
	for _, want := range []string{unplugged, "breaker deck", "bus deck", notInFile, "feeders at all ", looseEnds} {
		if !strings.Contains(text, want) {
			t.Errorf("does not say %q:\n%s", want, text)
		}
	}
	if !slices.IsSortedFunc(a.Steps, func(x, y Step) int { return int(x.Stage) - int(y.Stage) }) {
		t.Error("not in order")
	}
	for _, s := range run(t, demo(t, "sound"), demo(t, "upper-sound")).Steps {
		if s.Stage == TakingDown {
			t.Errorf("nothing is gone: %s", s.Text)
		}
	}
}

// TestUnknownLengths: a length of bus or track that is not known is told with how to measure it, whether or not it
// settles anything by itself; what is measured first is not told twice.
func TestUnknownLengths(t *testing.T) {
	l := demo(t, "sound")
	nothing := quantity.Value{State: quantity.Unknown}
	edit(&l.Buses, 5).Wire = quantity.Wire{Value: nothing}
	edit(&l.Buses, 5).Length = quantity.Length{Value: nothing}
	var track string
	for i := range l.Tracks {
		if l.Pieces[l.Tracks[i].Piece].Ends[1].Dead != layout.Joined {
			edit(&l.Tracks, i).Length = quantity.Length{Value: nothing}
			track = l.Tracks[i].Name
			break
		}
	}
	a := run(t, demo(t, "sound"), l)
	told := map[string]string{}
	if a.Measure != nil {
		told[a.Measure.What] = strings.Join(a.Measure.How, " ")
	}
	for _, u := range a.Unknown {
		if _, twice := told[u.What]; twice {
			t.Errorf("%s is told twice", u.What)
		}
		told[u.What] = strings.Join(u.How, " ")
	}
	for what, how := range map[string]string{
		"the wire of bus mine": "caliper", "the length of bus mine": "a tape along the wire", "the length of track " + track: "a tape laid along one rail",
	} {
		if !strings.Contains(told[what], how) {
			t.Errorf("%s: %q", what, told[what])
		}
	}
	if a := run(t, demo(t, "sound"), demo(t, "sound")); len(a.Unknown) > 0 {
		t.Errorf("%v", a.Unknown)
	}
}
