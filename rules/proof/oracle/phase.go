package oracle

import (
	"fmt"
	"slices"
)

// polarity follows a terminal up to its phase with the knobs as they lie. live is
// false where a changeover gives nothing, and where nobody says what is above.
func (l *Layout) polarity(t int, state []int) (group string, sign int, live bool) {
	tm := l.terminals[t]
	if tm.unknown {
		return "", 0, false
	}
	lies := 0
	if tm.knob >= 0 {
		lies = state[tm.knob]
	}
	if tm.ups == nil {
		if lies == 1 {
			return tm.group, -tm.sign, true
		}
		return tm.group, tm.sign, true
	}
	if tm.ups[lies] < 0 {
		return "", 0, false
	}
	return l.polarity(tm.ups[lies], state)
}

// knobsOf adds the knobs that a terminal hangs on.
func (l *Layout) knobsOf(t int, to []int) []int {
	tm := l.terminals[t]
	if tm.knob >= 0 && !slices.Contains(to, tm.knob) {
		to = append(to, tm.knob)
	}
	for _, up := range tm.ups {
		if up >= 0 {
			to = l.knobsOf(up, to)
		}
	}
	return to
}

// steady says whether a terminal carries a leg however the knobs lie.
func (l *Layout) steady(t int) bool {
	tm := l.terminals[t]
	if tm.unknown {
		return false
	}
	for _, up := range tm.ups {
		if up < 0 || !l.steady(up) {
			return false
		}
	}
	return true
}

// feeds says whether a terminal carries a leg in some state.
func (l *Layout) feeds(t int) bool {
	tm := l.terminals[t]
	if tm.unknown {
		return false
	}
	return tm.ups == nil || slices.ContainsFunc(tm.ups, func(up int) bool { return up >= 0 && l.feeds(up) })
}

// anyState says whether ok holds with the knobs of some terminals in some state.
// Each lies in any of its states, but where a piece throws it, as the piece lies.
func (l *Layout) anyState(knobs, state, lie []int, ok func() bool) bool {
	if len(knobs) == 0 {
		return ok()
	}
	k := l.knobs[knobs[0]]
	for s := range k.states {
		if k.piece >= 0 && lie[k.piece] >= 0 && lie[k.piece] < k.states && lie[k.piece] != s {
			continue
		}
		state[knobs[0]] = s
		if l.anyState(knobs[1:], state, lie, ok) {
			return true
		}
	}
	return false
}

func (l *Layout) opposed(x, y int, state []int) bool {
	gx, sx, okx := l.polarity(x, state)
	gy, sy, oky := l.polarity(y, state)
	return okx && oky && gx == gy && sx != sy
}

// canOppose says whether two terminals are opposite legs in some state.
func (l *Layout) canOppose(x, y int, lie []int) bool {
	state := make([]int, len(l.knobs))
	return l.anyState(l.knobsOf(y, l.knobsOf(x, nil)), state, lie, func() bool { return l.opposed(x, y, state) })
}

// canAgree says whether two terminals are one leg in some state.
func (l *Layout) canAgree(x, y int, lie []int) bool {
	state := make([]int, len(l.knobs))
	return l.anyState(l.knobsOf(y, l.knobsOf(x, nil)), state, lie, func() bool {
		gx, sx, okx := l.polarity(x, state)
		gy, sy, oky := l.polarity(y, state)
		return okx && oky && gx == gy && sx == sy
	})
}

// cannotSuit says whether wheels that join these pairs at once are a short
// whatever the reversers do, with the other knobs in some state.
func (l *Layout) cannotSuit(pairs [][2]int, lie []int) bool {
	var free, suits []int
	for _, p := range pairs {
		for _, k := range l.knobsOf(p[1], l.knobsOf(p[0], nil)) {
			switch {
			case slices.Contains(free, k) || slices.Contains(suits, k):
			case l.knobs[k].suits:
				suits = append(suits, k)
			default:
				free = append(free, k)
			}
		}
	}
	state := make([]int, len(l.knobs))
	return l.anyState(free, state, lie, func() bool {
		return !l.anyState(suits, state, lie, func() bool {
			return !slices.ContainsFunc(pairs, func(p [2]int) bool { return l.opposed(p[0], p[1], state) })
		})
	})
}

// automatics lists the sources above a terminal that turn their legs by themselves.
func (l *Layout) automatics(t int) []int {
	var out []int
	for s := l.terminals[t].source; s >= 0; s = l.sources[s].up {
		if l.sources[s].automatic {
			out = append(out, s)
		}
	}
	return out
}

func (l *Layout) legName(t int) string {
	tm := l.terminals[t]
	if tm.source < 0 {
		return "an unknown leg"
	}
	out := fmt.Sprintf("leg %s of %s", []string{"A", "B"}[tm.leg], l.sources[tm.source])
	if n := len(tm.seenBy); n > 0 {
		out += " behind detector " + tm.seenBy[n-1]
	}
	return out
}

// thrown lists the pieces whose throw changes what a terminal carries.
func (l *Layout) thrown(t int) []int {
	var out []int
	for _, k := range l.knobsOf(t, nil) {
		if p := l.knobs[k].piece; p >= 0 {
			out = insert(out, p)
		}
	}
	return out
}

// locked tells apart how pieces lie that throw changeovers.
func (l *Layout) locked(lie []int) int {
	out := 0
	for _, k := range l.knobs {
		if k.piece >= 0 {
			out = out*4 + lie[k.piece] + 1
		}
	}
	return out
}
