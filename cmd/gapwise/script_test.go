package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"gapwise": main})
}

// TestScripts runs the scenarios of testdata/script: a command line, its layouts, what comes
// out.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("GORACE", "atexit_sleep_ms=0") // with -race, each run would sleep a second
			demos, err := filepath.Abs("../../testdata")
			e.Setenv("DEMOS", demos)
			return err
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status": status,
			"json":   jsonField,
			"lines":  lines,
		},
	})
}

// status runs a command that must end with a status: status 1 gapwise check yard.yaml
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N COMMAND...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	var exit *exec.ExitError
	switch err := ts.Exec(args[1], args[2:]...); {
	case errors.As(err, &exit):
		got = exit.ExitCode()
	case err != nil:
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("status %d, want %d", got, want)
	}
}

// jsonField compares one field of the JSON on stdout: json findings.0.rule feeder-crossed.
// The length of a list is its field #.
func jsonField(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: json PATH VALUE")
	}
	var x any
	ts.Check(json.Unmarshal([]byte(ts.ReadFile("stdout")), &x))
	for name := range strings.SplitSeq(args[0], ".") {
		next, err := step(x, name)
		if err != nil {
			ts.Fatalf("%s: %v", args[0], err)
		}
		x = next
	}
	if got := fmt.Sprint(x); got != args[1] {
		ts.Fatalf("%s is %q, want %q", args[0], got, args[1])
	}
}

func step(x any, name string) (any, error) {
	switch x := x.(type) {
	case map[string]any:
		if field, found := x[name]; found {
			return field, nil
		}
	case []any:
		if name == "#" {
			return len(x), nil
		}
		if i, err := strconv.Atoi(name); err == nil && i < len(x) {
			return x[i], nil
		}
	}
	return nil, fmt.Errorf("no %s", name)
}

// lines counts the lines of stdout or stderr: lines stderr 1
func lines(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: lines stdout|stderr N")
	}
	if got := strings.Count(ts.ReadFile(args[0]), "\n"); strconv.Itoa(got) != args[1] {
		ts.Fatalf("%d lines on %s, want %s", got, args[0], args[1])
	}
}

// TestStatusesAreNamed: the help of check tells every status the program ends with.
func TestStatusesAreNamed(t *testing.T) {
	for _, s := range []int{exitOK, exitFaults, exitNotUnderstood, exitIncomplete} {
		if !strings.Contains(statuses, fmt.Sprintf("\n  %d  ", s)) {
			t.Errorf("status %d is in no help", s)
		}
	}
}
