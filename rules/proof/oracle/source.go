package oracle

import (
	"fmt"
	"slices"
	"strings"
)

// source is what a district hangs from: a booster, a breaker, a reverser.
type source struct {
	kind, name string
	apart      bool // a common rail may not tie it: a reverser, or what opens both legs
	automatic  bool // it turns its legs by itself
	up         int  // the source it hangs from, -1 at the root
}

func (s source) String() string { return s.kind + " " + s.name }

// knob is what turns legs over or changes sources: a reverser, a plug that goes
// in either way, a changeover.
type knob struct {
	states int
	suits  bool   // it is there to be put as the trains need it
	thrown string // the turnout that throws it: a state is a setting
	piece  int    // that turnout, -1 for none
	name   string // the changeover that it is the knob of, if it is one's
	ways   []string
}

// terminal is one leg as it leaves a source or a detector.
type terminal struct {
	source  int
	leg     int      // 0 is A, 1 is B, as the source names them
	seenBy  []string // detectors above
	unknown bool     // nobody says where it comes from
	group   string   // at a root: the phase
	sign    int      // at a root: +1 or -1
	knob    int      // -1 when nothing turns here
	through int      // the switch that it comes through, counted from 1; 0 for none
	ups     []int    // by state of the knob; terminal above, -1 for none
}

// pair is where legs A and B of something come from; -1 is no such leg.
type pair [2]int

var nowhere = pair{-1, -1}

var sourceSections = [][2]string{
	{"booster", "boosters"},
	{"cab", "cabs"},
	{"supply", "supplies"},
	{"breaker", "breakers"},
	{"reverser", "reversers"},
	{"detector", "detectors"},
	{"in-line", "in-line"},
	{"changeover", "changeovers"},
	{"plug", "plugs"},
	{"bus", "buses"},
}

func sectionOf(kind string) string {
	for _, s := range sourceSections {
		if s[0] == kind {
			return s[1]
		}
	}
	return ""
}

// origin resolves a source or tap as typed.
func (b *builder) origin(text string) (pair, error) {
	text = strings.TrimSpace(text)
	if text == "unknown" || text == "" {
		return b.unknownPair(), nil
	}
	head, _, tapped := strings.Cut(text, "@")
	head = strings.TrimSpace(head)
	if kind, name, ok := strings.Cut(head, " "); ok {
		if sectionOf(kind) == "" {
			return nowhere, fmt.Errorf("%q is no source", text)
		}
		return b.legsOf(kind, strings.TrimSpace(name))
	}
	if tapped {
		return b.legsOf("bus", head)
	}
	found := ""
	for _, s := range sourceSections {
		if _, ok := b.doc.find(s[1], head); ok {
			if found != "" {
				return nowhere, fmt.Errorf("%q: %s or %s?", text, found, s[0])
			}
			found = s[0]
		}
	}
	if found == "" {
		return nowhere, fmt.Errorf("no source %q", text)
	}
	return b.legsOf(found, head)
}

func (b *builder) unknownPair() pair {
	var p pair
	for leg := range 2 {
		p[leg] = b.addTerminal(terminal{source: -1, leg: leg, unknown: true, knob: -1})
	}
	return p
}

func (b *builder) addTerminal(t terminal) int {
	b.terminals = append(b.terminals, t)
	return len(b.terminals) - 1
}

// legsOf gives the legs behind a device or bus, made on first use.
func (b *builder) legsOf(kind, name string) (pair, error) {
	key := kind + " " + name
	if p, ok := b.legs[key]; ok {
		if p == nil {
			return nowhere, fmt.Errorf("%s hangs from itself", key)
		}
		return *p, nil
	}
	section := sectionOf(kind)
	e, ok := b.doc.find(section, name)
	if !ok {
		return nowhere, fmt.Errorf("no %s", key)
	}
	f, err := b.doc.fields(section, kind, e)
	if err != nil {
		return nowhere, err
	}
	b.legs[key] = nil
	p, err := b.makeLegs(kind, name, f)
	if err != nil {
		return nowhere, fmt.Errorf("%s: %w", key, err)
	}
	b.legs[key] = &p
	return p, nil
}

func (b *builder) makeLegs(kind, name string, f fields) (pair, error) {
	if kind == "booster" || kind == "cab" || kind == "supply" {
		return b.rootLegs(kind, name, f), nil
	}
	if kind == "changeover" {
		return b.changeoverLegs(name, f)
	}
	up, err := b.origin(f.text("from"))
	if err != nil {
		return nowhere, err
	}
	switch kind {
	case "bus":
		switch f.text("legs") {
		case "A":
			return pair{up[0], -1}, nil
		case "B":
			return pair{-1, up[1]}, nil
		}
		return up, nil
	case "in-line":
		if f.text("kind") == "switch" {
			return b.switchLegs(name, f.text("leg"), up), nil
		}
		return up, nil
	case "detector":
		leg, err := legWord(f.text("leg"))
		if err != nil {
			return nowhere, err
		}
		if up[leg] < 0 {
			return nowhere, fmt.Errorf("no such leg above")
		}
		above := b.terminals[up[leg]]
		seen := append(slices.Clone(above.seenBy), name)
		out := up
		out[leg] = b.addTerminal(terminal{source: above.source, leg: above.leg, seenBy: seen, unknown: above.unknown, knob: -1, ups: []int{up[leg]}})
		b.detectors[name] = out[leg]
		return out, nil
	}
	if up[0] < 0 || up[1] < 0 {
		return nowhere, fmt.Errorf("needs two legs")
	}
	switch {
	case kind == "breaker":
		src := b.addSource(source{kind: kind, name: name, apart: f.text("opens") == "both", up: b.terminals[up[0]].source})
		out := up
		for leg := range 2 {
			if opens := f.text("opens"); (opens == "A" && leg == 1) || (opens == "B" && leg == 0) {
				continue
			}
			above := b.terminals[up[leg]]
			out[leg] = b.addTerminal(terminal{source: src, leg: leg, seenBy: above.seenBy, unknown: above.unknown, knob: -1, ups: []int{up[leg]}})
		}
		return out, nil
	case kind == "reverser":
		return b.turningLegs(source{kind: kind, name: name, apart: true, automatic: f.text("switching") == "automatic"}, up, true), nil
	case kind == "plug" && f.text("legs") == "straight":
		return up, nil
	case kind == "plug" && f.text("legs") == "crossed":
		return pair{up[1], up[0]}, nil
	case kind == "plug" && f.text("legs") == "either":
		return b.turningLegs(source{kind: kind, name: name}, up, false), nil
	}
	return nowhere, fmt.Errorf("not modelled")
}

// switchLegs are legs behind a switch: the same legs, while it is on.
func (b *builder) switchLegs(name, legs string, up pair) pair {
	b.switches = append(b.switches, name)
	out := up
	for leg := range 2 {
		if up[leg] < 0 || legs == "A" && leg == 1 || legs == "B" && leg == 0 {
			continue
		}
		above := b.terminals[up[leg]]
		out[leg] = b.addTerminal(terminal{
			source: above.source, leg: above.leg, seenBy: above.seenBy, unknown: above.unknown, knob: -1, ups: []int{up[leg]}, through: len(b.switches),
		})
	}
	return out
}

func (b *builder) addSource(s source) int {
	b.sources = append(b.sources, s)
	return len(b.sources) - 1
}

func (b *builder) addKnob(k knob) int {
	b.knobs = append(b.knobs, k)
	return len(b.knobs) - 1
}

// rootLegs are where legs begin. Boosters of one signal, each known to be wired
// straight or crossed, are one phase.
func (b *builder) rootLegs(kind, name string, f fields) pair {
	automatic := kind == "booster" && f.text("switching") == "automatic"
	src := b.addSource(source{kind: kind, name: name, automatic: automatic, up: -1})
	group, sign := kind+" "+name, 1
	signal, wired := f.text("signal"), f.text("signal-wired")
	if signal != "" && signal != "unknown" && (wired == "straight" || wired == "crossed") {
		group = "signal " + signal
		if wired == "crossed" {
			sign = -1
		}
	}
	turn := -1
	if automatic {
		turn = b.addKnob(knob{states: 2, suits: true, piece: -1})
	}
	var p pair
	for leg := range 2 {
		p[leg] = b.addTerminal(terminal{source: src, leg: leg, group: group, sign: sign * (1 - 2*leg), knob: turn})
	}
	return p
}

// turningLegs are legs that a knob may exchange.
func (b *builder) turningLegs(s source, up pair, suits bool) pair {
	s.up = b.terminals[up[0]].source
	src := b.addSource(s)
	turn := b.addKnob(knob{states: 2, suits: suits, piece: -1})
	seen := slices.Clone(b.terminals[up[0]].seenBy)
	for _, d := range b.terminals[up[1]].seenBy {
		if !slices.Contains(seen, d) {
			seen = append(seen, d)
		}
	}
	unknown := b.terminals[up[0]].unknown || b.terminals[up[1]].unknown
	var p pair
	for leg := range 2 {
		p[leg] = b.addTerminal(terminal{source: src, leg: leg, seenBy: seen, unknown: unknown, knob: turn, ups: []int{up[leg], up[1-leg]}})
	}
	return p
}

func (b *builder) changeoverLegs(name string, f fields) (pair, error) {
	var names []string
	var options []pair
	for _, p := range pairsOf(f.node("positions")) {
		names = append(names, p.key)
		from, crossed := p.value.Value, false
		if inner := field(p.value, "from"); inner != nil {
			from = inner.Value
			legs := field(p.value, "legs")
			crossed = legs != nil && legs.Value == "crossed"
		}
		if from == "nothing" {
			options = append(options, nowhere)
			continue
		}
		o, err := b.origin(from)
		if err != nil {
			return nowhere, err
		}
		if crossed {
			o[0], o[1] = o[1], o[0]
		}
		options = append(options, o)
	}
	if len(options) == 0 {
		return nowhere, fmt.Errorf("no positions")
	}
	turn, order, err := b.changeoverKnob(name, names, f.text("throws-with"))
	if err != nil {
		return nowhere, err
	}
	src := b.addSource(source{kind: "changeover", name: name, apart: f.text("opens") == "both", up: -1})
	if f.text("throw") == "make-first" {
		b.makeFirst = append(b.makeFirst, passing{turn, name, options, [2]bool{f.text("opens") != "B", f.text("opens") != "A"}})
	}
	var p pair
	for leg := range 2 {
		if opens := f.text("opens"); (opens == "A" && leg == 1) || (opens == "B" && leg == 0) {
			p[leg] = options[0][leg]
			continue
		}
		t := terminal{source: src, leg: leg, knob: turn}
		for _, position := range order {
			t.ups = append(t.ups, options[position][leg])
		}
		p[leg] = b.addTerminal(t)
	}
	return p, nil
}

// passing is a changeover that makes before it breaks.
type passing struct {
	knob    int
	name    string
	options []pair
	opens   [2]bool // by leg
}

// changeoverKnob gives the knob and, for each of its states, the position taken
// there. What is thrown together shares one knob, paired by name or by order.
func (b *builder) changeoverKnob(name string, names []string, with string) (int, []int, error) {
	order := make([]int, len(names))
	for i := range order {
		order[i] = i
	}
	if with == "" {
		k := b.addKnob(knob{states: len(names), piece: -1, name: name, ways: names})
		b.positions[name] = position{k, names}
		return k, order, nil
	}
	with = strings.TrimPrefix(with, "changeover ")
	other, err := b.thrownWith(with)
	if err != nil {
		return 0, nil, err
	}
	if len(other.names) != len(names) {
		return 0, nil, fmt.Errorf("thrown with %s, which has other positions", with)
	}
	for i, n := range other.names {
		if at := slices.Index(names, n); at >= 0 {
			order[i] = at
		}
	}
	b.positions[name] = position{other.knob, other.names}
	return other.knob, order, nil
}

// thrownWith finds the knob of another changeover, or that of a turnout.
func (b *builder) thrownWith(name string) (position, error) {
	if _, ok := b.doc.find("changeovers", name); ok {
		_, err := b.legsOf("changeover", name)
		return b.positions[name], err
	}
	e, ok := b.doc.find("turnouts", name)
	if !ok {
		return position{}, fmt.Errorf("a changeover thrown with %s is not modelled", name)
	}
	f, err := b.doc.fields("turnouts", "turnout", e)
	if err != nil {
		return position{}, err
	}
	left, right, leftRank, err := legNames(f.text("hand"))
	if err != nil {
		return position{}, err
	}
	names := []string{left, right}
	if leftRank == 1 {
		names = []string{right, left}
	}
	k := slices.IndexFunc(b.knobs, func(k knob) bool { return k.thrown == name })
	if k < 0 {
		k = b.addKnob(knob{states: 2, thrown: name, piece: -1})
	}
	return position{k, names}, nil
}

// position names the states of a knob.
type position struct {
	knob  int
	names []string
}

func legWord(text string) (int, error) {
	switch text {
	case "A":
		return 0, nil
	case "B":
		return 1, nil
	}
	return 0, fmt.Errorf("%q is no leg", text)
}
