package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"golang.org/x/sys/unix"
)

// newTerminal opens a pseudo-terminal so many cells wide: what is written to tty can be
// read from host.
func newTerminal(t *testing.T, columns uint16) (host, tty *os.File) {
	t.Helper()
	host, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { host.Close() })
	fd := int(host.Fd())
	if err := unix.IoctlSetPointerInt(fd, unix.TIOCSPTLCK, 0); err != nil {
		t.Fatal(err)
	}
	number, err := unix.IoctlGetInt(fd, unix.TIOCGPTN)
	if err != nil {
		t.Fatal(err)
	}
	if err := unix.IoctlSetWinsize(fd, unix.TIOCSWINSZ, &unix.Winsize{Col: columns, Row: 24}); err != nil {
		t.Fatal(err)
	}
	tty, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", number), os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { tty.Close() })
	return host, tty
}

// onTerminal runs gapwise with its results on a terminal and gives what is shown.
func onTerminal(t *testing.T, columns uint16, env []string, args ...string) string {
	t.Helper()
	host, tty := newTerminal(t, columns)
	cmd := exec.Command("gapwise", args...)
	cmd.Env = append([]string{"PATH=" + os.Getenv("PATH"), "TERM=xterm"}, env...)
	cmd.Stdout = tty
	shown := make(chan string)
	go func() {
		var b bytes.Buffer
		io.Copy(&b, host) // ends with an error when the last writer has closed the terminal
		shown <- b.String()
	}()
	err := cmd.Run()
	tty.Close()
	if err != nil && cmd.ProcessState.ExitCode() != exitFaults {
		t.Fatal(err)
	}
	return strings.ReplaceAll(<-shown, "\r\n", "\n")
}

// TestTerminal: on a terminal the verdict and the severity words have colours, and lines
// are as wide as it is; with NO_COLOR, or on a terminal that shows none, the bytes are
// those of a pipe.
func TestTerminal(t *testing.T) {
	args := []string{"check", demo + "as-found.yaml"}
	_, piped, _ := run(args...)
	coloured := onTerminal(t, 80, nil, args...)
	if !strings.HasPrefix(coloured, "\x1b[1;31m") || !strings.Contains(coloured, ": \x1b[1;33mcaution\x1b[0m ") {
		t.Errorf("no colours in %q", coloured[:200])
	}
	bare := strings.NewReplacer("\x1b[1;31m", "", "\x1b[1;33m", "", "\x1b[36m", "", "\x1b[0m", "").Replace(coloured)
	if bare != piped {
		t.Errorf("without its colours it is\n%s\nwant\n%s", bare, piped)
	}
	for _, env := range []string{"NO_COLOR=1", "TERM=dumb"} {
		if got := onTerminal(t, 80, []string{env}, args...); got != piped {
			t.Errorf("with %s it is\n%s\nwant\n%s", env, got, piped)
		}
	}
	narrow := onTerminal(t, 60, []string{"NO_COLOR=1"}, args...)
	wide := onTerminal(t, 100, []string{"NO_COLOR=1"}, args...)
	if a, b, c := strings.Count(wide, "\n"), strings.Count(piped, "\n"), strings.Count(narrow, "\n"); a >= b || b >= c {
		t.Errorf("%d lines when wide, %d when usual, %d when narrow", a, b, c)
	}
}

// TestProgress: on a terminal a word is said once work takes long, and taken away again.
func TestProgress(t *testing.T) {
	host, tty := newTerminal(t, 80)
	p := program{err: tty}
	p.progress("checking a short one")()
	done := p.progress("checking ya\x1b[31mrd.yaml")
	b := make([]byte, 100)
	host.SetReadDeadline(time.Now().Add(20 * patience))
	n, err := host.Read(b)
	if got, want := string(b[:n]), `checking ya\x1b[31mrd.yaml ...`; err != nil || got != want {
		t.Errorf("%q is shown, want %q; %v", got, want, err)
	}
	done()
	n, err = host.Read(b)
	if got, want := string(b[:n]), "\r\x1b[K"; err != nil || got != want {
		t.Errorf("%q is shown, want %q; %v", got, want, err)
	}
}
