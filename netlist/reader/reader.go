package reader

import (
	"context"

	"gapwise/netlist/layout"
	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

// reader is the state of reading one layout.
type reader struct {
	ctx  context.Context
	open func(name string) ([]byte, error)
	opts Options

	lay      *layout.Layout
	problems []source.Problem
	guessed  int // names compared so far to find nearest ones

	units  []*unit
	parsed map[string]*parsedFile

	unknown      map[string]*unknownAt
	unknownOrder []string // keys of unknown, as first met

	names     [thingCount]names
	lostNames map[string]bool // names in sections that were not understood
	blind     bool            // a whole file is missing: unknown names are not blamed

	byThing     [thingCount][]*record // entries by kind, in reading order
	railEntries []railEntry           // gaps, joints and feeders, in reading order

	doubt        doubts
	meets        meets
	lacking      map[source.Pos]bool // groups whose lack of a key was told, by their piece
	lostSections [thingCount]bool
	torn         map[lineAt]bool
	tornFiles    map[int32]bool // whose levels cannot be told
	lostOn       map[lostKey]bool
	asked        map[*unit]bool // modules whose borrowed defaults were asked about
	feederAt     []text         // parallel to Layout.Feeders: where its place was typed
	gapAt        []text         // parallel to Layout.Gaps
	jointAt      []text         // parallel to Layout.Joints
	hanging      []onRail
	practised    map[string]source.Pos // by name, where first listed
	limited      map[string]source.Pos
	gapsOn       [][]gapOn    // parallel to Layout.Tracks
	claims       [][]claim    // parallel to Layout.Tracks
	tracks       []trackState // parallel to Layout.Tracks
	exposed      map[layout.EndRef]exposure
	endList      []layout.EndRef // of the modules' `ends`, by their index
}

// unit is one use of one file: a module that is included twice, under two prefixes, is
// two units of one file.
type unit struct {
	file     int32
	path     string
	prefix   string // of names: "" or "east/"
	outer    *unit  // the including unit
	root     *tree.Node
	module   bool
	defaults map[string]*record
	// lostDefaults says that some may be missing because of a mistake that was reported.
	lostDefaults bool
}

// parsedFile is a file read once. Used are the prefixes under which it stands.
type parsedFile struct {
	index int32
	root  *tree.Node
	used  map[string]bool
	lost  []string // first words of lines that the tree reported
}

func newReader(ctx context.Context, open func(string) ([]byte, error), o Options) *reader {
	return &reader{
		ctx: ctx, open: open, opts: o, lay: &layout.Layout{},
		parsed: map[string]*parsedFile{}, unknown: map[string]*unknownAt{}, lostNames: map[string]bool{},
		exposed: map[layout.EndRef]exposure{}, lostOn: map[lostKey]bool{}, asked: map[*unit]bool{}, torn: map[lineAt]bool{}, tornFiles: map[int32]bool{}, lacking: map[source.Pos]bool{}, practised: map[string]source.Pos{}, limited: map[string]source.Pos{},
	}
}
