package main

import (
	"bytes"
	"os"
	"runtime"
	"strings"
	"testing"
)

// run runs a command line inside the test.
func run(args ...string) (status int, out, err string) {
	var o, e bytes.Buffer
	p := program{in: strings.NewReader(""), out: &o, err: &e}
	status = p.Main(args)
	return status, o.String(), e.String()
}

const demo = "../../testdata/tin-harbour/"

// TestSameBytes checks the demo 50 times (4 with -short) in text and in JSON, with one processor and with
// two: the same bytes come out.
func TestSameBytes(t *testing.T) {
	files := []string{demo + "as-found.yaml", demo + "upper.yaml"}
	commands := [][]string{append([]string{"check"}, files...), append([]string{"check", "--format", "json"}, files...)}
	runs := 50
	if testing.Short() {
		runs = 4
	}
	before := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(before)
	for _, args := range commands {
		_, first, _ := run(args...)
		if len(first) < 1000 {
			t.Fatalf("only %d bytes to compare", len(first))
		}
		for i := range runs {
			runtime.GOMAXPROCS(1 + i%2)
			if _, again, _ := run(args...); again != first {
				t.Fatalf("run %d of %v differs", i+2, args)
			}
		}
	}
}

// TestDemo: as found, both decks have faults; put right, neither has a fault or a caution.
func TestDemo(t *testing.T) {
	for file, want := range map[string]int{"as-found.yaml": exitFaults, "upper.yaml": exitFaults, "sound.yaml": exitOK, "upper-sound.yaml": exitOK} {
		if got, out, err := run("check", "--strict", demo+file); got != want {
			t.Errorf("%s: status %d, want %d\n%s%s", file, got, want, out, err)
		}
	}
}

// TestTypedWordsAreSafe: what is typed, too, reaches the terminal escaped.
func TestTypedWordsAreSafe(t *testing.T) {
	for _, args := range [][]string{
		{"ch\u202e\x1b[2Jeck"}, {"check", "\u202e\x1b[2J.yaml"}, {"check", "--\u202e\x1b[2J"}, {"explain", "\u202e\x1b[2J"}, {"help", "\u202e\x1b[2J"},
	} {
		status, out, err := run(args...)
		if status != exitNotUnderstood || out != "" {
			t.Errorf("%q: status %d, stdout %q", args, status, out)
		}
		if !strings.HasPrefix(err, "gapwise: ") || !strings.Contains(err, `\u202e\x1b[2J`) || strings.Count(err, "\n") != 1 {
			t.Errorf("%q: stderr %q", args, err)
		}
	}
}

// TestCannotWrite: a result that cannot be written is told in one line.
func TestCannotWrite(t *testing.T) {
	full, err := os.OpenFile(os.DevNull, os.O_RDONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer full.Close()
	for _, args := range [][]string{{"check", demo + "sound.yaml"}, {"check", "--format", "json", demo + "sound.yaml"}, {"explain"}, {"explain", "rail-dead"}} {
		var e bytes.Buffer
		p := program{in: strings.NewReader(""), out: full, err: &e}
		if status := p.Main(args); status != exitNotUnderstood {
			t.Errorf("%v: status %d", args, status)
		}
		if !strings.HasPrefix(e.String(), "gapwise: cannot write the result: ") || strings.Count(e.String(), "\n") != 1 {
			t.Errorf("%v: %q", args, e.String())
		}
	}
}
