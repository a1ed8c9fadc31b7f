package oracle

import (
	"fmt"
	"slices"
)

// partKind is what a branch of a network is a part of.
type partKind int

const (
	ofDevice partKind = iota
	ofBus
	ofFeeder
	ofRail
)

// branch is one resistance between two nodes.
type branch struct {
	a, b    int
	ohms    interval
	sure    bool   // it conducts for certain
	device  int    // whose position it needs, -1 for none
	in      uint64 // those positions
	of      partKind
	assumed bool // its size or length is a guess
	wire    *wireAt
}

// wireAt is a length of wire as a reader finds it.
type wireAt struct {
	name string // of the bus, or of the feeder
	at   float64
	leg  int
	size wireSize
	mate [2]int // what lies on the other leg at both ends, -1 for nothing
}

// switchable is what has positions: a piece of track work, or a changeover.
type switchable struct {
	positions int
	piece     int // -1 for a changeover
}

// guard is what may trip, or what drops a fixed voltage.
type guard struct {
	kind, name string
	trips      interval // amperes
	time       interval // seconds
	volts      interval // a detector's fixed drop
	limits     bool     // a lamp: it keeps a short small, and that is meant
	branches   []int
}

func (g guard) String() string { return g.kind + " " + g.name }

// headEnd is where legs begin: a booster, cab or supply.
type headEnd struct {
	kind, name  string
	ends        [2]int
	volts       interval
	inside      interval
	trips, time interval
}

func (r headEnd) String() string { return r.kind + " " + r.name }

// electric is a layout as a network of resistances. Its nodes are its own.
type electric struct {
	*builder
	room     interval
	nodes    int
	branches []branch
	devices  []switchable
	guards   []guard
	heads    []headEnd
	outlets  map[string]*[2]int // the legs of devices, nil while they are being made
	lines    map[string]*busLine
	lineUp   []string       // buses in the order they were met
	knobs    map[string]int // changeovers as devices
	bars     []bar          // track between places, in both rails
	endRails [][2]int       // by end of a run or piece
	posts    []post         // ends of pieces where a point lies
	seams    *seams
	stops    map[int][]stop // by run, where something stands
	hangs    []hang
	straps   []strap
}

func (e *electric) newNode() int { e.nodes++; return e.nodes - 1 }

func (e *electric) newPair() [2]int { return [2]int{e.newNode(), e.newNode()} }

// put adds a branch that holds in every position of everything, and gives its number.
func (e *electric) put(a, b int, ohms interval, of partKind, sure bool) int {
	e.branches = append(e.branches, branch{a: a, b: b, ohms: interval{max(ohms.lo, leastOhms), max(ohms.hi, leastOhms)}, sure: sure, device: -1, of: of})
	return len(e.branches) - 1
}

// putIn adds a branch that holds in some positions of a device.
func (e *electric) putIn(device int, in uint64, a, b int, ohms interval, of partKind) int {
	at := e.put(a, b, ohms, of, true)
	if d := e.devices[device]; in != e.lasting(d) {
		e.branches[at].device, e.branches[at].in = device, in
	}
	return at
}

// lasting are all positions that a device stays in.
func (e *electric) lasting(d switchable) uint64 {
	all := uint64(1)<<d.positions - 1
	if d.piece >= 0 {
		for i, s := range e.pieces[d.piece].settings {
			if s.passing {
				all &^= 1 << i
			}
		}
	}
	return all
}

// positionsOf lists the positions that a device stays in.
func (e *electric) positionsOf(device int) []int {
	var out []int
	d := e.devices[device]
	for p := range d.positions {
		if e.lasting(d)>>p&1 == 1 {
			out = append(out, p)
		}
	}
	return out
}

// readElectric reads a flat layout and expands it into resistances.
func readElectric(text string) (*electric, error) {
	doc := &document{sections: map[string][]entry{}, open: func(string) ([]byte, error) { return []byte(text), nil }}
	if err := doc.read("layout.yaml"); err != nil {
		return nil, err
	}
	b := &builder{doc: doc, legs: map[string]*pair{}, positions: map[string]position{}}
	b.detectors = map[string]int{}
	for _, step := range []func() error{b.readBuses, b.readPieces, b.readTracks, b.readFeeds, b.readNever} {
		if err := step(); err != nil {
			return nil, err
		}
	}
	e := &electric{
		builder: b, outlets: map[string]*[2]int{}, lines: map[string]*busLine{}, knobs: map[string]int{},
		stops: map[int][]stop{}, endRails: make([][2]int, len(b.ends)),
	}
	e.room = e.limit("temperature", celsiusUnits).or(roomCelsius)
	for p := range b.pieces {
		e.devices = append(e.devices, switchable{len(b.pieces[p].settings), p})
	}
	for i := range e.endRails {
		e.endRails[i] = [2]int{-1, -1}
	}
	for _, step := range []func() error{e.readSources, e.readSeams, e.readHangs, e.readStraps, e.layRails, e.layWork, e.layJoints, e.hangAll, e.strapAll, e.layLines} {
		if err := step(); err != nil {
			return nil, err
		}
	}
	return e, nil
}

// limit is one of the owner's own limits, notKnown where unsaid.
func (e *electric) limit(name string, units map[string]float64) interval {
	at := slices.IndexFunc(e.doc.sections["limits"], func(x entry) bool { return x.name == name })
	if at < 0 {
		return notKnown
	}
	return amount(e.doc.sections["limits"][at].node.Value, units)
}

// LegsMeetError says that metal joins the legs of a source, or may: ohms are for sound wiring.
type LegsMeetError struct {
	Source string
	Sure   bool // also with what nobody vouches for left out
}

func (err *LegsMeetError) Error() string {
	if err.Sure {
		return fmt.Sprintf("legs A and B of %s meet", err.Source)
	}
	return fmt.Sprintf("legs A and B of %s may meet, by a joint that nobody vouches for", err.Source)
}
