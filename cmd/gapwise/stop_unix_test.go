//go:build unix

package main

import (
	"bytes"
	"os"
	"os/exec"
	"syscall"
	"testing"
)

// TestStop interrupts a check that waits for its layout: it ends at once with one line.
func TestStop(t *testing.T) {
	for _, signal := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		pipe := t.TempDir() + "/yard.yaml"
		if err := syscall.Mkfifo(pipe, 0o600); err != nil {
			t.Fatal(err)
		}
		var out, errs bytes.Buffer
		cmd := exec.Command("gapwise", "check", pipe)
		cmd.Stdout, cmd.Stderr = &out, &errs
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		// Opening returns once gapwise has opened the other end.
		w, err := os.OpenFile(pipe, os.O_WRONLY, 0)
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Process.Signal(signal); err != nil {
			t.Fatal(err)
		}
		_ = cmd.Wait() // the status is looked at below
		w.Close()
		if got := cmd.ProcessState.ExitCode(); got != exitIncomplete {
			t.Errorf("%v: status %d, want %d", signal, got, exitIncomplete)
		}
		if out.Len() > 0 || errs.String() != "gapwise: stopped before the check was complete\n" {
			t.Errorf("%v: stdout %q, stderr %q", signal, out.String(), errs.String())
		}
	}
}
