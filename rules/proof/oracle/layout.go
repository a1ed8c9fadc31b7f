package oracle

import (
	"fmt"
	"slices"
)

// Layout is a layout expanded into metal.
type Layout struct {
	terminals []terminal
	sources   []source
	knobs     []knob
	detectors map[string]int // the terminal behind each

	nodes      int
	owner      []string // by node: the track or piece it is part of
	conductors []conductor
	hung       []hung
	closed     []closedBus
	makeFirst  []passing
	switches   []string // in-line switches
	common     []int    // nodes of declared common rails

	pieces []piece
	ends   []end
	tracks []track
	runs   []run
	joints []joint
	edges  []edge
	outer  [][2]int // by track: its first and last end

	never     [][]choice
	blocks    []block
	districts []district
	trains    []train  // those that may have metal wheels
	plastic   []train  // those that have not
	strangers []string // trains of which too little is known
	pickup    float64  // metres between an engine's outer pick-ups, 0 when unknown
}

// choice is one piece in settings of one name.
type choice struct {
	piece int
	name  string
}

type district struct {
	legs   pair
	from   string
	blocks []string
}

type train struct {
	name   string
	length float64 // its longest
}

// builder is a layout in the making.
type builder struct {
	Layout
	doc         *document
	making      string // the track or piece whose nodes are being made
	legs        map[string]*pair
	positions   map[string]position
	feeds       []feed
	pieceFields []fields
	trackFields []fields
}

// Read reads a layout and expands it. open gives the text of a file; includes are
// resolved beside the file that names them. What the language allows and is not
// modelled here is an error.
func Read(name string, open func(string) ([]byte, error)) (*Layout, error) {
	doc := &document{sections: map[string][]entry{}, open: open}
	if err := doc.read(name); err != nil {
		return nil, err
	}
	b := &builder{doc: doc, legs: map[string]*pair{}, positions: map[string]position{}}
	b.detectors = map[string]int{}
	for _, step := range []func() error{
		b.readBuses, b.readPieces, b.readTracks, b.readFeeds, b.readCuts,
	} {
		if err := step(); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	b.layMetal()
	for _, step := range []func() error{
		b.hangFeeds, b.readBonds, b.readCommonRails, b.readNever, b.readBlocks, b.readDistricts, b.readTrains, b.settled,
	} {
		if err := step(); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	l := b.Layout
	return &l, nil
}

func (b *builder) readNever() error {
	for _, e := range b.doc.sections["never-together"] {
		var all []choice
		for _, p := range pairsOf(e.node) {
			if p.key == "because" || p.key == "label" || p.key == "name" {
				continue
			}
			at := b.pieceNamed(p.key)
			if at < 0 || !slices.ContainsFunc(b.pieces[at].settings, func(s setting) bool { return s.name == p.value.Value }) {
				return fmt.Errorf("never-together: no setting %s of %s", p.value.Value, p.key)
			}
			all = append(all, choice{at, p.value.Value})
		}
		if len(all) < 2 {
			return fmt.Errorf("never-together: two pieces or more")
		}
		b.never = append(b.never, all)
	}
	for k := range b.knobs {
		if b.knobs[k].thrown != "" {
			b.knobs[k].piece = b.pieceNamed(b.knobs[k].thrown)
		}
	}
	for p := range b.pieces {
		with := b.pieceFields[p].text("throws-with")
		if with == "" {
			continue
		}
		if b.pieces[p].with = b.pieceNamed(with); b.pieces[p].with < 0 {
			return fmt.Errorf("%s throws with %s, which is not modelled", b.pieces[p].name, with)
		}
	}
	return nil
}

func (b *builder) readDistricts() error {
	for _, e := range b.doc.sections["districts"] {
		f, err := b.doc.fields("districts", "district", e)
		if err != nil {
			return err
		}
		legs, err := b.origin(f.text("from"))
		if err != nil {
			return fmt.Errorf("district %s: %w", e.name, err)
		}
		b.districts = append(b.districts, district{legs, f.text("from"), words(f.node("blocks"))})
	}
	return nil
}

// readTrains keeps the trains whose length is known, those with metal wheels, or with wheels of which nobody says, apart from those with plastic ones.
func (b *builder) readTrains() error {
	wheels := ""
	for _, o := range b.doc.sections["operations"] {
		switch o.name {
		case "wheels":
			wheels = o.node.Value
		case "pickup":
			if o.node.Value == "unknown" {
				continue
			}
			var err error
			if _, b.pickup, err = lengthRange(o.node.Value); err != nil {
				return err
			}
		}
	}
	for _, e := range b.doc.sections["trains"] {
		f, err := b.doc.fields("trains", "train", e)
		if err != nil {
			return err
		}
		own := f.text("wheels")
		if own == "" {
			own = wheels
		}
		n := f.text("length")
		if n == "" || n == "unknown" {
			b.strangers = append(b.strangers, e.name)
			continue
		}
		_, hi, err := lengthRange(n)
		switch {
		case own != "plastic" && err != nil:
			return err
		case own != "plastic":
			b.trains = append(b.trains, train{e.name, hi})
		case err != nil || b.pickup == 0:
			b.strangers = append(b.strangers, e.name)
		default:
			b.plastic = append(b.plastic, train{e.name, hi})
		}
	}
	return nil
}
