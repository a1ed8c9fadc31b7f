package oracle

import (
	"fmt"
	"slices"
)

// mostSettings bounds how many settings of what feeds a rail are tried.
const mostSettings = 64

// trial holds the states of one corner: with contacts open, and in the settings of groups of devices.
type trial struct {
	e      *electric
	weak   bool
	still  *state
	any    [][]int // by node, what conducts in any position
	groups map[string][]*state
	meet   map[int]bool // sources whose legs meet in some state
}

func (e *electric) newTrial(weak bool) *trial {
	t := &trial{e: e, weak: weak, any: make([][]int, e.nodes), groups: map[string][]*state{}, meet: map[int]bool{}}
	t.still = t.state(nil)
	for i, b := range e.branches {
		if b.sure || !weak {
			t.any[b.a] = append(t.any[b.a], i)
			t.any[b.b] = append(t.any[b.b], i)
		}
	}
	return t
}

// state makes the network in some setting and notes whose legs meet there.
func (t *trial) state(lie map[int]int) *state {
	s := t.e.newState(t.weak, lie)
	for _, h := range s.meet {
		t.meet[h] = true
	}
	return s
}

// involved lists the devices on whose positions it hangs whether a place's rails are fed.
func (t *trial) involved(rails [2]mix) []int {
	var devices, queue []int
	seen := make([]bool, t.e.nodes)
	enter := func(n int) {
		if !seen[n] && !t.still.fedBy[n] {
			seen[n] = true
			queue = append(queue, n)
		}
	}
	for _, m := range rails {
		enter(m.a)
		enter(m.b)
	}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		for _, i := range t.any[n] {
			b := t.e.branches[i]
			if b.device >= 0 {
				devices = insert(devices, b.device)
			}
			enter(b.a + b.b - n)
		}
	}
	return devices
}

// states are those of every allowed setting of some devices; complete is false where they are too many.
func (t *trial) states(devices []int) (out []*state, complete bool) {
	key := fmt.Sprint(devices)
	if out, ok := t.groups[key]; ok {
		return out, out != nil
	}
	settings := []map[int]int{{}}
	for _, d := range devices {
		var more []map[int]int
		for _, s := range settings {
			for _, p := range t.e.positionsOf(d) {
				next := map[int]int{d: p}
				for k, v := range s {
					next[k] = v
				}
				more = append(more, next)
			}
		}
		if settings = more; len(settings) > mostSettings {
			t.groups[key] = nil
			return nil, false
		}
	}
	out = []*state{}
	for _, s := range settings {
		lie := t.e.anyhow()
		for d, p := range s {
			if piece := t.e.devices[d].piece; piece >= 0 {
				lie[piece] = p
			}
		}
		if !t.e.allowed(lie) {
			continue
		}
		out = append(out, t.state(s))
	}
	t.groups[key] = out
	return out, true
}

// answer is what a place sees at one corner: of each source the worst over the settings.
type answer struct {
	all     []found
	in      []*state // the state that each was found in
	skipped bool
	some    bool // fed in some settings only
}

func (t *trial) ask(rails [2]mix) answer {
	var a answer
	if a.all = t.still.seen(rails); len(a.all) > 0 {
		for range a.all {
			a.in = append(a.in, t.still)
		}
		return a
	}
	devices := t.involved(rails)
	if len(devices) == 0 {
		return a
	}
	states, complete := t.states(devices)
	a.skipped, a.some = !complete, true
	for _, s := range states {
		for _, f := range s.seen(rails) {
			at := slices.IndexFunc(a.all, func(o found) bool { return o.head == f.head })
			switch {
			case at < 0:
				a.all, a.in = append(a.all, f), append(a.in, s)
			case f.ohms > a.all[at].ohms:
				a.all[at], a.in[at] = f, s
			}
		}
	}
	return a
}
