package main

import (
	"fmt"
	"sync"
	"time"

	"gapwise/netlist/source"
)

// patience is how long a check may take before a word about it is due.
const patience = 500 * time.Millisecond

// progress says on a terminal what is being done, once it takes long; the function it
// returns takes the words away again.
func (p *program) progress(what string) (done func()) {
	if !isTerminal(p.err) {
		return func() {}
	}
	var mu sync.Mutex
	shown, over := false, false
	timer := time.AfterFunc(patience, func() {
		mu.Lock()
		defer mu.Unlock()
		if !over {
			shown = true
			fmt.Fprintf(p.err, "%s ...", source.Safe(what))
		}
	})
	return func() {
		timer.Stop()
		mu.Lock()
		defer mu.Unlock()
		over = true
		if shown {
			fmt.Fprint(p.err, "\r\x1b[K")
		}
	}
}
