package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"gapwise/netlist/source"
)

// What gapwise ends with. Where several hold, the first of this list counts: a layout or
// command line that was not understood, then a fault, then a check that gave up.
const (
	exitNotUnderstood = 2 // a layout or the command line could not be understood or read
	exitFaults        = 1 // at least one fault, with --strict one caution, that nobody accepted
	exitIncomplete    = 3 // a check gave up or was stopped before it was complete
	exitOK            = 0
)

// program is gapwise with its three streams: results go to out, talk goes to err.
type program struct {
	in       io.Reader
	out, err io.Writer
}

// Main runs one command line and returns the exit status.
func (p *program) Main(args []string) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // a second ^C ends the program at once
	root := p.root()
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	var ended endedError
	switch {
	case err == nil:
		return exitOK
	case errors.As(err, &ended):
		return ended.status
	case ctx.Err() != nil:
		fmt.Fprintln(p.err, "gapwise: stopped before the check was complete")
		return exitIncomplete
	default:
		fmt.Fprintln(p.err, "gapwise: "+source.Safe(err.Error()))
		return exitNotUnderstood
	}
}

// endedError carries the exit status of a command that has said all there is to say.
type endedError struct{ status int }

func (e endedError) Error() string { return fmt.Sprintf("status %d", e.status) }

// end is the error of a command that ends with a status.
func end(status int) error {
	if status == exitOK {
		return nil
	}
	return endedError{status}
}
