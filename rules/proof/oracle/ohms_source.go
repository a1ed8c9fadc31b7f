package oracle

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// busLine is a bus: two wires with places along them where something is tapped.
type busLine struct {
	name    string
	legs    [2]bool
	size    wireSize
	known   bool    // its size
	length  float64 // +Inf when unknown
	taps    []tapAt
	returns string // the tap where its far end is wired to, "" for none
}

// tapAt is a place along a bus, with a node a leg.
type tapAt struct {
	at    float64
	nodes [2]int
}

// tap finds or makes the nodes at a place.
func (e *electric) tap(l *busLine, at float64) [2]int {
	for _, t := range l.taps {
		if t.at == at || math.Abs(t.at-at) <= tiny {
			return t.nodes
		}
	}
	nodes := nowhere
	for leg := range 2 {
		if l.legs[leg] {
			nodes[leg] = e.newNode()
		}
	}
	l.taps = append(l.taps, tapAt{at, nodes})
	return nodes
}

// readSources makes every device and bus, whether anything hangs on it or not.
func (e *electric) readSources() error {
	for _, s := range sourceSections {
		for _, x := range e.doc.sections[s[1]] {
			if _, err := e.outlet(s[0], x.name); err != nil {
				return err
			}
		}
	}
	return nil
}

// sourceNodes gives the nodes of a source or tap as typed; -1 is no such leg.
func (e *electric) sourceNodes(text string) ([2]int, error) {
	text = strings.TrimSpace(text)
	if text == "unknown" || text == "" {
		return e.newPair(), nil
	}
	head, where, tapped := strings.Cut(text, "@")
	head = strings.TrimSpace(head)
	kind, name, ok := strings.Cut(head, " ")
	if !ok {
		kind, name = "bus", head
		if !tapped {
			for _, s := range sourceSections {
				if _, found := e.doc.find(s[1], head); found {
					kind = s[0]
					break
				}
			}
		}
	}
	name = strings.TrimSpace(name)
	if kind != "bus" {
		return e.outlet(kind, name)
	}
	if _, err := e.outlet(kind, name); err != nil {
		return nowhere, err
	}
	l := e.lines[name]
	where = strings.TrimSpace(where)
	switch {
	case where == "start" || !tapped:
		return e.tap(l, 0), nil
	case where == "end":
		return e.tap(l, l.length), nil
	}
	v := lengthOf(where)
	if !v.known() {
		return nowhere, fmt.Errorf("no place %q", text)
	}
	return e.tap(l, (v.lo+v.hi)/2), nil
}

// outlet gives the nodes behind a device, made on first use.
func (e *electric) outlet(kind, name string) ([2]int, error) {
	key := kind + " " + name
	if out, ok := e.outlets[key]; ok {
		if out == nil {
			return nowhere, fmt.Errorf("%s hangs from itself", key)
		}
		return *out, nil
	}
	x, ok := e.doc.find(sectionOf(kind), name)
	if !ok {
		return nowhere, fmt.Errorf("no %s", key)
	}
	f, err := e.doc.fields(sectionOf(kind), kind, x)
	if err != nil {
		return nowhere, err
	}
	e.outlets[key] = nil
	out, err := e.makeOutlet(kind, name, f)
	if err != nil {
		return nowhere, fmt.Errorf("%s: %w", key, err)
	}
	e.outlets[key] = &out
	return out, nil
}

func (e *electric) makeOutlet(kind, name string, f fields) ([2]int, error) {
	switch kind {
	case "booster", "cab", "supply":
		r := headEnd{
			kind: kind, name: name, ends: e.newPair(), volts: amount(f.text("volts"), voltUnits),
			inside: amount(f.text("inside"), ohmUnits).or(insideOhms),
			trips:  amount(f.text("trips-at"), ampUnits), time: amount(f.text("trip-time"), secondUnits),
		}
		if kind == "cab" { // its range is the throttle's: a short or a train is judged with it open
			r.volts.lo = r.volts.hi
		}
		e.heads = append(e.heads, r)
		return r.ends, nil
	case "changeover":
		return e.changeoverNodes(name, f)
	}
	up, err := e.sourceNodes(f.text("from"))
	if err != nil {
		return nowhere, err
	}
	switch kind {
	case "bus":
		return e.makeLine(name, f, up)
	case "breaker", "reverser":
		ohms := breakerOhms
		if kind == "reverser" {
			ohms = reverserOhms
		}
		g := guard{kind: kind, name: name, trips: amount(f.text("trips-at"), ampUnits), time: amount(f.text("trip-time"), secondUnits), volts: exactly(0)}
		return e.inLegs(g, up, f.text("opens"), amount(f.text("resistance"), ohmUnits).or(ohms).divided(2), 2)
	case "detector":
		g := guard{kind: kind, name: name, trips: notKnown, time: notKnown, volts: amount(f.text("drop"), voltUnits).or(detectorVolts)}
		return e.inLegs(g, up, f.text("leg"), detectorOhms, 1)
	case "in-line":
		g := guard{kind: kind, name: name, trips: notKnown, time: notKnown, volts: exactly(0)}
		switch f.text("kind") {
		case "lamp":
			g.limits = true
		case "ptc":
			g.trips = amount(f.text("trips-at"), ampUnits)
		case "fuse":
			g.trips = amount(f.text("rating"), ampUnits).times(fuseBlows)
		}
		return e.inLegs(g, up, f.text("leg"), inLineOhms(f), 1)
	case "plug":
		if up[0] < 0 || up[1] < 0 {
			return nowhere, fmt.Errorf("needs two legs")
		}
		ohms := amount(f.text("resistance"), ohmUnits).or(plugOhms).divided(2)
		out := e.newPair()
		for leg := range 2 {
			to := leg
			if f.text("legs") == "crossed" {
				to = 1 - leg
			}
			e.put(up[leg], out[to], ohms, ofDevice, f.text("legs") != "" && f.text("legs") != "unknown")
		}
		return out, nil
	}
	return nowhere, fmt.Errorf("not modelled")
}

// fuseBlows is the current, over its rating, that blows a fuse within seconds. Common practice, no source.
var fuseBlows = interval{1.35, 2}

// inLineOhms is the resistance of an in-line part, of one leg.
func inLineOhms(f fields) interval {
	ohms := map[string]interval{"lamp": lampOhms, "fuse": fuseOhms, "ptc": ptcOhms}
	usual, ok := ohms[f.text("kind")]
	if !ok {
		usual = contactOhms
	}
	return amount(f.text("resistance"), ohmUnits).or(usual)
}

// inLegs puts a device into the legs that a word names. In one leg alone it has so many times the ohms.
func (e *electric) inLegs(g guard, up [2]int, word string, ohms interval, alone float64) ([2]int, error) {
	out := up
	for leg, w := range []string{"A", "B"} {
		if up[leg] < 0 || (word == "A" || word == "B") && word != w {
			continue
		}
		own := ohms
		if word == w {
			own = ohms.scaled(alone)
		}
		out[leg] = e.newNode()
		g.branches = append(g.branches, e.put(up[leg], out[leg], own, ofDevice, true))
	}
	if len(g.branches) == 0 {
		return nowhere, fmt.Errorf("no such leg above")
	}
	e.guards = append(e.guards, g)
	return out, nil
}

// makeLine makes a bus, joined to its source at 0.
func (e *electric) makeLine(name string, f fields, up [2]int) ([2]int, error) {
	l := &busLine{name: name, legs: [2]bool{up[0] >= 0, up[1] >= 0}, length: math.Inf(1)}
	switch f.text("legs") {
	case "A":
		l.legs[1] = false
	case "B":
		l.legs[0] = false
	}
	if l.size, l.known = readWire(f.text("wire")); !l.known {
		l.size = gauges(busGauges)
	}
	if v := lengthOf(f.text("length")); v.known() {
		l.length = (v.lo + v.hi) / 2
	}
	if to := f.text("to"); to != "open" {
		l.returns = to
	}
	e.lines[name] = l
	e.lineUp = append(e.lineUp, name)
	start := e.tap(l, 0)
	for leg := range 2 {
		if start[leg] >= 0 {
			e.put(up[leg], start[leg], busSpliceOhms, ofBus, true)
		}
	}
	return start, nil
}

// layLines lays the wire between the taps of every bus. Where a bus's length is not known its end is
// taken for its last known place.
func (e *electric) layLines() error {
	for i := 0; i < len(e.lineUp); i++ {
		l := e.lines[e.lineUp[i]]
		if l.returns == "" {
			continue
		}
		there, err := e.sourceNodes(l.returns)
		if err != nil {
			return err
		}
		for leg, n := range e.tap(l, l.length) {
			if n >= 0 && there[leg] >= 0 {
				e.put(n, there[leg], busSpliceOhms, ofBus, true)
			}
		}
	}
	for _, name := range e.lineUp {
		l := e.lines[name]
		slices.SortFunc(l.taps, func(x, y tapAt) int {
			if x.at < y.at {
				return -1
			}
			return 1
		})
		for i := 1; i < len(l.taps); i++ {
			x, y := l.taps[i-1], l.taps[i]
			metres := y.at - x.at
			if math.IsInf(metres, 1) {
				metres = 0
			}
			for leg := range 2 {
				if !l.legs[leg] {
					continue
				}
				at := e.put(x.nodes[leg], y.nodes[leg], l.size.ohmsPerMetre(e.room).scaled(metres), ofBus, true)
				e.branches[at].assumed = !l.known || math.IsInf(y.at, 1)
				if l.known {
					e.branches[at].wire = &wireAt{"bus " + name, x.at, leg, l.size, [2]int{x.nodes[1-leg], y.nodes[1-leg]}}
				}
			}
		}
	}
	return nil
}

// changeoverNodes connects what hangs from a changeover to one source in each position.
func (e *electric) changeoverNodes(name string, f fields) ([2]int, error) {
	device, names, err := e.changeoverDevice(name, f)
	if err != nil {
		return nowhere, err
	}
	out := e.newPair()
	for i, p := range pairsOf(f.node("positions")) {
		from, crossed := p.value.Value, false
		if inner := field(p.value, "from"); inner != nil {
			from = inner.Value
			legs := field(p.value, "legs")
			crossed = legs != nil && legs.Value == "crossed"
		}
		in := uint64(1) << i
		if at := slices.Index(names, p.key); at >= 0 {
			in = 1 << at
		}
		if from == "nothing" {
			continue
		}
		up, err := e.sourceNodes(from)
		if err != nil {
			return nowhere, err
		}
		if crossed {
			up[0], up[1] = up[1], up[0]
		}
		for leg, w := range []string{"A", "B"} {
			opens := f.text("opens")
			switch {
			case up[leg] < 0:
			case opens == w || opens != "A" && opens != "B":
				e.putIn(device, in, up[leg], out[leg], contactOhms, ofDevice)
			case i == 0: // the leg that is not opened stays on the first position
				e.put(up[leg], out[leg], exactly(0), ofDevice, true)
			}
		}
	}
	return out, nil
}

// changeoverDevice finds what is thrown when a changeover is, and the names of its positions.
func (e *electric) changeoverDevice(name string, f fields) (int, []string, error) {
	with := strings.TrimPrefix(f.text("throws-with"), "changeover ")
	if with == "" {
		var names []string
		for _, p := range pairsOf(f.node("positions")) {
			names = append(names, p.key)
		}
		if len(names) == 0 || len(names) > 60 {
			return 0, nil, fmt.Errorf("no positions, or too many")
		}
		at, ok := e.knobs[name]
		if !ok {
			at = len(e.devices)
			e.knobs[name] = at
			e.devices = append(e.devices, switchable{len(names), -1})
		}
		return at, names, nil
	}
	if p := e.pieceNamed(with); p >= 0 {
		var names []string
		for _, s := range e.pieces[p].settings {
			names = append(names, s.name)
		}
		return p, names, nil
	}
	x, ok := e.doc.find("changeovers", with)
	if !ok || with == name {
		return 0, nil, fmt.Errorf("thrown with %q, which is not modelled", with)
	}
	other, err := e.doc.fields("changeovers", "changeover", x)
	if err != nil {
		return 0, nil, err
	}
	return e.changeoverDevice(with, other)
}
