package oracle

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// ErrTooBig says that a layout has more settings than are tried one by one.
var ErrTooBig = errors.New("the layout has more settings than are tried")

// lever is what one throw sets: a piece, or pieces thrown together with the changeovers that they throw; a changeover; an in-line switch.
type lever struct {
	pieces   []int
	knob     int // the changeover's, -1 for none
	switched int // the switch, counted from 1; 0 for none
	ways     []placing
}

// placing is one position of a lever.
type placing struct {
	name string
	lies []int // by the lever's pieces
	lie  int   // of the changeover; 0 is on and 1 off for a switch
}

// pose is how everything lies: settings of pieces, states of changeovers, switches that are on. What is not set is at -1, or off. Knobs of
// reversers, and of plugs that go in either way, stay at -1: they lie as they like.
type pose struct {
	lie   []int
	state []int
	on    []bool // by switch, counted from 1
}

func (l *Layout) newPose() *pose {
	ps := &pose{l.anyhow(), make([]int, len(l.knobs)), make([]bool, len(l.switches)+1)}
	for k := range ps.state {
		ps.state[k] = -1
	}
	return ps
}

// used says which knobs and switches stand before a wire to the rails, to the end of a bus, or before a changeover that makes first.
func (l *Layout) used() (knobs, switches []bool) {
	knobs, switches = make([]bool, len(l.knobs)), make([]bool, len(l.switches)+1)
	var up func(t int)
	up = func(t int) {
		if t < 0 {
			return
		}
		tm := l.terminals[t]
		if tm.knob >= 0 {
			knobs[tm.knob] = true
		}
		switches[tm.through] = true
		for _, o := range tm.ups {
			up(o)
		}
	}
	for _, h := range l.hung {
		up(h.terminal)
	}
	for _, c := range l.closed {
		for leg := range 2 {
			up(c.legs[leg])
			up(c.ends[leg])
		}
	}
	for _, mk := range l.makeFirst {
		knobs[mk.knob] = true
		for _, o := range mk.options {
			up(o[0])
			up(o[1])
		}
	}
	return knobs, switches
}

// levers lists the levers: pieces in their order, then changeovers, then switches. Changeovers and switches that nothing hangs on are left out.
func (l *Layout) levers() ([]lever, error) {
	s := newSets(len(l.pieces))
	for p, pc := range l.pieces {
		if pc.with >= 0 {
			s.union(p, pc.with)
		}
	}
	var out []lever
	for p := range l.pieces {
		if s.find(p) != p {
			continue
		}
		lv := lever{knob: -1}
		tries := 1
		for q := range l.pieces {
			if s.find(q) == p {
				lv.pieces = append(lv.pieces, q)
				if tries *= max(1, len(l.pieces[q].settings)); tries > mostParts {
					return nil, ErrTooBig
				}
			}
		}
		l.together(&lv, l.anyhow(), 0)
		out = append(out, lv)
	}
	knobs, switches := l.used()
	for k, kn := range l.knobs {
		if kn.name == "" || kn.piece >= 0 || !knobs[k] {
			continue
		}
		lv := lever{knob: k}
		for i, w := range kn.ways {
			lv.ways = append(lv.ways, placing{name: "changeover " + kn.name + " " + w, lie: i})
		}
		out = append(out, lv)
	}
	for i, name := range l.switches {
		if !switches[i+1] {
			continue
		}
		out = append(out, lever{knob: -1, switched: i + 1, ways: []placing{{name: "switch " + name + " on"}, {name: "switch " + name + " off", lie: 1}}})
	}
	return out, nil
}

// together adds to a lever of pieces the settings in which they may lie together.
func (l *Layout) together(lv *lever, lie []int, i int) {
	if i == len(lv.pieces) {
		if !l.allowed(lie) {
			return
		}
		var names []string
		var lies []int
		for _, p := range lv.pieces {
			lies = append(lies, lie[p])
			names = append(names, l.lying(p, lie[p]))
		}
		lv.ways = append(lv.ways, placing{name: strings.Join(names, " with "), lies: lies})
		return
	}
	p := lv.pieces[i]
	for s, st := range l.pieces[p].settings {
		if !st.passing {
			lie[p] = s
			l.together(lv, lie, i+1)
		}
	}
	lie[p] = -1
}

// lying names a piece and its setting. A lapped three-way has one leg set in two ways.
func (l *Layout) lying(p, s int) string {
	st := l.pieces[p].settings[s]
	again := ""
	if slices.ContainsFunc(l.pieces[p].settings[:s], func(o setting) bool { return o.name == st.name }) {
		again = ", both thrown"
	}
	return l.pieces[p].name + " " + st.name + again
}

// set puts a lever into one of its ways, or leaves it open at -1.
func (l *Layout) set(ps *pose, lv *lever, w int) {
	switch {
	case lv.switched > 0:
		ps.on[lv.switched] = w == 0
		return
	case lv.knob >= 0:
		ps.state[lv.knob] = w
		return
	}
	for i, p := range lv.pieces {
		ps.lie[p] = -1
		if w >= 0 {
			ps.lie[p] = lv.ways[w].lies[i]
		}
		for k := range l.knobs {
			if l.knobs[k].piece == p {
				ps.state[k] = ps.lie[p]
			}
		}
	}
}

// eachPose visits every full setting that may be, with the way of each lever. It fails where there are more than limit.
func (l *Layout) eachPose(levers []lever, limit int, visit func(ps *pose, chosen []int)) error {
	n := 1
	for _, lv := range levers {
		if n *= len(lv.ways); n > limit {
			return ErrTooBig
		}
	}
	ps := l.newPose()
	chosen := make([]int, len(levers))
	var try func(int)
	try = func(i int) {
		if i == len(levers) {
			if l.allowed(ps.lie) {
				visit(ps, chosen)
			}
			return
		}
		for w := range levers[i].ways {
			chosen[i] = w
			l.set(ps, &levers[i], w)
			try(i + 1)
		}
		l.set(ps, &levers[i], -1)
	}
	try(0)
	return nil
}

func settingNames(levers []lever, chosen []int) []string {
	var out []string
	for i, w := range chosen {
		if w >= 0 && len(levers[i].ways) > 1 {
			out = append(out, levers[i].ways[w].name)
		}
	}
	return out
}

// carried follows a terminal up to its phase. It carries nothing where a switch is open, a changeover gives nothing or is not set, or nobody knows
// what is above. state has the knobs of reversers and plugs set as well.
func (l *Layout) carried(t int, ps *pose, state []int) (phase string, sign int, ok bool) {
	for {
		tm := l.terminals[t]
		if tm.unknown || tm.through > 0 && !ps.on[tm.through] {
			return "", 0, false
		}
		lies := 0
		if tm.knob >= 0 {
			if lies = state[tm.knob]; lies < 0 {
				return "", 0, false
			}
		}
		if tm.ups == nil {
			if lies == 1 {
				return tm.group, -tm.sign, true
			}
			return tm.group, tm.sign, true
		}
		if t = tm.ups[lies]; t < 0 {
			return "", 0, false
		}
	}
}

// wiredTo says whether a terminal is joined to the source that it is named after, or to the next knob above.
func (l *Layout) wiredTo(t int, ps *pose) bool {
	for {
		tm := l.terminals[t]
		if tm.through > 0 && !ps.on[tm.through] {
			return false
		}
		if tm.knob >= 0 || tm.ups == nil {
			return true
		}
		t = tm.ups[0]
	}
}

// loose lists the knobs above some terminals that no lever sets: reversers, and plugs that go in either way.
func (l *Layout) loose(ps *pose, terminals ...int) []int {
	var out []int
	for _, t := range terminals {
		for _, k := range l.knobsOf(t, nil) {
			if l.knobs[k].name == "" && l.knobs[k].piece < 0 && ps.state[k] < 0 {
				out = insert(out, k)
			}
		}
	}
	return out
}

// someState says whether ok holds in some state of some knobs, the others lying as the pose has them.
func (l *Layout) someState(knobs []int, ps *pose, ok func(state []int) bool) bool {
	return l.stateOf(knobs, slices.Clone(ps.state), ok)
}

func (l *Layout) stateOf(knobs, state []int, ok func(state []int) bool) bool {
	if len(knobs) == 0 {
		return ok(state)
	}
	old := state[knobs[0]]
	for s := range l.knobs[knobs[0]].states {
		state[knobs[0]] = s
		if l.stateOf(knobs[1:], state, ok) {
			return true
		}
	}
	state[knobs[0]] = old
	return false
}

// clash says how two terminals clash in one state: opposite legs of one phase, or legs of two phases.
func (l *Layout) clash(x, y int, ps *pose, state []int) (legs, phases bool) {
	gx, sx, okx := l.carried(x, ps, state)
	gy, sy, oky := l.carried(y, ps, state)
	if !okx || !oky {
		return false, false
	}
	return gx == gy && sx != sy, gx != gy
}

// sourceLeg names a leg by its source.
func (l *Layout) sourceLeg(t int) string {
	tm := l.terminals[t]
	return fmt.Sprintf("leg %s of %s", []string{"A", "B"}[tm.leg], l.sources[tm.source])
}
