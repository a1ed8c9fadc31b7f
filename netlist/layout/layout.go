// Package layout is the model of one layout as its owner wrote it: every entry, every
// value with its place in the file, and every reference resolved to an index. Nothing
// in it is electrical; what conducts follows in package circuit.
//
// All slices are in reading order: files as first met, entries as typed. An index into
// a slice is the entry's identity; -1 means "none" unless a comment says otherwise.
package layout

import (
	"gapwise/netlist/quantity"
	"gapwise/netlist/source"
)

// Layout is a whole layout with its includes merged.
type Layout struct {
	Files     source.Files
	Name      string // `layout`, or `module` when a module is read by itself
	IsModule  bool
	Scale     string
	Label     string
	Colours   [2]string // wire colours of legs A and B, "" when unsaid
	RailNames [2]string // owner's words for left and right, "" when unsaid

	Pieces         []Piece // tracks and all other pieces: one namespace, one id
	Tracks         []Track
	Turnouts       []Turnout
	ThreeWays      []ThreeWay
	Crossings      []Crossing // crossings and slips
	Turntables     []Turntable
	TransferTables []TransferTable

	Joins []Join // every joint between two piece ends, whoever said it
	// JointDefaults is the `defaults: joint` kind of each file, by file index; the kind of
	// every joint that no `joints` entry names.
	JointDefaults []JointKind
	NeverTogether []Exclusion

	Gaps        []Gap       // rows expanded, one entry a place
	Joints      []RailJoint // rows expanded
	CommonRails []CommonRail
	Bonds       []Bond
	Feeders     []Feeder // rows expanded

	Supplies    []Supply
	Boosters    []Booster
	Commons     []Common
	Cabs        []Cab
	Breakers    []Breaker
	Reversers   []Reverser
	Detectors   []Detector
	InLines     []InLine
	Changeovers []Changeover
	Plugs       []Plug
	Buses       []Bus
	Terminators []Terminator
	Loads       []Load

	Blocks     []Block
	Districts  []District
	Trains     []Train
	Operations Operations
	Limits     []Limit
	Stock      Stock
	Practices  []Practice
	Accepts    []Accept

	// UncertainOrders are pairs of things on one track whose measures leave open which
	// comes first, at most MaxUncertainOrders of them.
	UncertainOrders []UncertainOrder
	// Questions are no mistakes: they are asked so that a slip of the pen is noticed.
	Questions []source.Problem
}

// Entry is what every named thing has. Pos is where its name (or, for a list entry,
// its first key) stands. Name is "" for list entries that were not given one.
type Entry struct {
	Name  string
	Label string
	Pos   source.Pos
}

// YesNo is yes, no, unknown or unsaid.
type YesNo uint8

const (
	YesNoUnsaid YesNo = iota
	Yes
	No
	YesNoUnknown
)

// Rail is one of the two rails of a piece, walking from its start to its end.
type Rail uint8

const (
	Left Rail = iota
	Right
)

// Other is the opposite rail.
func (r Rail) Other() Rail { return 1 - r }

// Leg is one of the two conductors of a bus.
type Leg uint8

const (
	A Leg = iota
	B
)

// Other is the opposite leg.
func (l Leg) Other() Leg { return 1 - l }

func (l Leg) String() string {
	if l == A {
		return "A"
	}
	return "B"
}

// PieceKind tells what a Piece is and which slice its Index points into.
type PieceKind uint8

const (
	TrackPiece PieceKind = iota
	TurnoutPiece
	ThreeWayPiece
	CrossingPiece // crossings and slips: Layout.Crossings
	TurntablePiece
	TransferTablePiece
)

// PieceID is an index into Layout.Pieces.
type PieceID int32

// Piece is one entry of the common namespace of track and track work.
type Piece struct {
	Kind  PieceKind
	Index int32 // into the slice of its kind
	Name  string
	Pos   source.Pos
	Ends  []End // in the order of language.md section 2; EndRef.End indexes it
}

// End is one end of a piece. Facing says whether a walk leaves the piece's own start
// there (AtStart) or its end (AtEnd): joints of like ends turn the rails over.
type End struct {
	Name   string
	Facing Facing
	Joint  EndRef     // the piece end it meets; Piece -1 when none
	Dead   EndKind    // when no piece is met: open end, bumper, module end
	Pos    source.Pos // where the joint (or the open end) was typed
}

// Facing of an end.
type Facing uint8

const (
	AtStart Facing = iota
	AtEnd
)

// EndKind of an end that meets no other piece.
type EndKind uint8

const (
	Joined EndKind = iota
	BareEnd
	Bumper
	ModuleEnd // named under `ends` of a module read by itself
	Unjoined  // an error was reported
)

// EndRef names one end of one piece.
type EndRef struct {
	Piece PieceID
	End   int32
}

// NoEnd is the EndRef of an end that meets nothing.
var NoEnd = EndRef{Piece: -1, End: -1}

// Use of a track or block.
type Use uint8

const (
	UseUnsaid Use = iota
	UseMain
	UseBranch
	UseSiding
	UseYard
	UseIndustry
	UseStaging
	UseHelix
	UseInterlocking
	UseProgramming
)

// UseWords are the words of the language for Use, by value.
var UseWords = []string{"", "main", "branch", "siding", "yard", "industry", "staging", "helix", "interlocking", "programming"}

func (u Use) String() string { return UseWords[u] }

// RailStock is a rail section: Code in thousandths of an inch (0 unknown) and metal
// as typed ("nickel silver", "brass", "steel", ... lower case; "" unknown).
type RailStock struct {
	Code  int
	Metal string
	Said  bool
	Pos   source.Pos
}

// Track is a ruler from its start to its end over whatever stands on it.
// Its Piece has ends "start" and "end". A closed ring has its end joined to its start.
type Track struct {
	Entry
	Piece                          PieceID
	Closed                         bool
	Length                         quantity.Length
	Rail                           RailStock
	Use                            Use
	Straight, Hidden, LiftOut, Cab YesNo // Hidden, LiftOut and Cab are No when unsaid
	// JointEvery is how far apart the rail joints of this track are that no `joints` entry
	// names, from `defaults: joint`; their kind is the file's JointDefaults.
	JointEvery quantity.Length
	Stands     []Stand // bodies on the ruler, in rising order of At
}

// Stand is a turnout, crossing or slip standing on a track. The ruler meets First at
// At and leaves by Second at At + the body's length. For a ring a body may pass the start.
type Stand struct {
	Piece         PieceID
	First, Second int32           // ends of Piece
	At            quantity.Length // from the track's start
	Length        quantity.Length // of the body along the ruler
	Pos           source.Pos
}

// Hand of a turnout.
type Hand uint8

const (
	HandUnsaid Hand = iota
	HandLeft
	HandRight
	HandWye
	HandCurvedLeft
	HandCurvedRight
)

// HandWords are the words of the language for Hand, by value.
var HandWords = []string{"", "left", "right", "wye", "curved-left", "curved-right"}

// Ends of a turnout, as indices into its Piece.Ends. LegLeft and LegRight give the
// legs by hand; names follow the hand (straight/curved, left/right, inner/outer).
const (
	TurnoutPoints = 0
	// ends 1 and 2 are the legs, in the order straight, curved / left, right / inner, outer
)

// FrogLength is the length of a piece's frog, or of its longest, as far as the layout says.
func (l *Layout) FrogLength(p PieceID) quantity.Length {
	switch i := l.Pieces[p].Index; l.Pieces[p].Kind {
	case TurnoutPiece:
		return l.Turnouts[i].FrogLength
	case ThreeWayPiece:
		return l.ThreeWays[i].FrogLength
	case CrossingPiece:
		return l.Crossings[i].FrogLength
	default:
		return quantity.Length{}
	}
}

// LegLeft is the end index of the left leg: straight on a right hand, curved on a left
// hand, left on a wye, inner on curved-left, outer on curved-right.
func (h Hand) LegLeft() int32 {
	switch h {
	case HandLeft, HandCurvedRight:
		return 2
	default:
		return 1
	}
}

// LegRight is the end index of the right leg.
func (h Hand) LegRight() int32 { return 3 - h.LegLeft() }

// Preset is a wiring preset of a turnout, three-way, crossing or slip.
type Preset uint8

const (
	PresetUnsaid Preset = iota
	DeadFrog
	UnfedFrog
	SwitchedFrog
	FlippedFrog
	Selective
	TiedBlades
	PowerRouting
	PowerRoutingGapped
	DeadFrogs
	PoweredFrogs
	SwitchedFrogs
	JoinedFrogs
	InFull // a wiring map; only for turnouts
)

// PresetWords are the words of the language for Preset, by value.
var PresetWords = []string{"", "dead-frog", "unfed-frog", "switched-frog", "flipped-frog", "selective", "tied-blades", "power-routing", "power-routing-gapped", "dead-frogs", "powered-frogs", "switched-frogs", "joined", ""}

func (p Preset) String() string { return PresetWords[p] }

// Blades says what the blades are bonded to.
type Blades uint8

const (
	BladesStock Blades = iota
	BladesEachOther
	BladesNeither
)

// Closures says what the closure rails are joined to.
type Closures uint8

const (
	ClosuresBlade Closures = iota
	ClosuresFrog
	ClosuresBoth
)

// FrogFrom says what feeds a metal frog.
type FrogFrom uint8

const (
	FrogFromNothing FrogFrom = iota
	FrogFromContacts
	FrogFromDevice
	FrogFromBlades
)

// Wiring of a turnout. The reader expands every preset into the five words, so that
// the circuit knows one form only; Preset keeps what was typed.
type Wiring struct {
	Preset                    Preset
	Blades                    Blades
	Closures                  Closures
	FrogMetal                 bool
	IsolatedToe, IsolatedHeel bool // frog cut from the closures; from the legs
	FrogFrom                  FrogFrom
	Jumpers                   YesNo // after defaults, `wiring` and the turnout's own key; No where the preset refuses them
	Pos                       source.Pos
}

// FrogGets is what a frog is switched to in one setting.
type FrogGets uint8

const (
	GetsUnsaid FrogGets = iota
	GetsStockLeft
	GetsStockRight
	GetsOpen
	GetsLegA // of FrogTap
	GetsLegB
	GetsUnknown
)

// FrogGetsWords are the words of the language for FrogGets, by value.
var FrogGetsWords = []string{"", "stock-left", "stock-right", "open", "A", "B", "unknown"}

// ContactMap is one `frog-gets` entry: in setting Setting (an index into
// the piece's settings, see Settings in settings.go), frog Frog gets Gets. Frog is "" for a plain
// turnout; "left-frog", "middle-frog", "right-frog" for a three-way; "west", "east",
// "north", "south" for crossings and slips.
type ContactMap struct {
	Frog    string
	Setting string // the word typed: a leg or a route
	Gets    FrogGets
	Pos     source.Pos
}

// Throw says how contacts change over.
type Throw uint8

const (
	ThrowUnsaid Throw = iota
	BreakFirst
	MakeFirst
)

// Turnout is a two-legged turnout.
type Turnout struct {
	Entry
	Piece          PieceID
	Hand           Hand
	Number         float64 // 0 unsaid
	Length         quantity.Length
	FrogLength     quantity.Length
	Wiring         Wiring
	BladeContact   quantity.Resistance
	Throw          Throw
	FrogTap        Tap // `frog-from`; Bus -1 when unsaid
	FrogGets       []ContactMap
	FlipsAt        quantity.Current
	FrogResistance quantity.Resistance
	ClearAt        [2]quantity.Length // by leg in end order (ends 1 and 2)
	ThrowsWith     PieceID            // -1 none
	OnTrack        PieceID            // the track it stands on, -1 none
}

// ThreeWay is a three-way turnout. Ends: points, left, straight, right.
type ThreeWay struct {
	Entry
	Piece      PieceID
	Lapped     bool
	FirstRight bool // lapped with `first: right`
	Length     quantity.Length
	FrogLength quantity.Length
	Preset     Preset
	Throw      Throw
	FrogGets   []ContactMap
	Jumpers    YesNo
	Pos2       source.Pos // of `wiring`
}

// Slip of a crossing piece.
type Slip uint8

const (
	NoSlip Slip = iota
	SlipAB
	SlipDC
	SlipBoth
)

// Crossing is a crossing or a slip. Ends: a, b, c, d.
type Crossing struct {
	Entry
	Piece      PieceID
	Slip       Slip
	Angle      quantity.Angle
	Length     quantity.Length
	FrogLength quantity.Length
	Preset     Preset
	Throw      Throw
	FrogGets   []ContactMap
	Jumpers    YesNo
	Pos2       source.Pos // of `wiring`
}

// Turntable's Piece has one end a track, in typed order, all Facing AtEnd: a walk goes
// from the bridge out to the approach track. TrackAngle is parallel to Piece.Ends.
type Turntable struct {
	Entry
	Piece      PieceID
	Bridge     quantity.Length
	TrackAngle []quantity.Angle
	SplitRing  bool
	From       Source
	ARail      Rail // of the bridge with its head at 0 deg
	SplitAt    quantity.Angle
	DeadArc    quantity.Angle
}

// TransferTable is one bridge with a setting per a-b pair. Its Piece has the a ends
// (Facing AtStart) first, then the b ends (Facing AtEnd). Offset is parallel to Piece.Ends.
type TransferTable struct {
	Entry
	Piece  PieceID
	Bridge quantity.Length
	ACount int
	Offset []quantity.Length
	From   Source
	ARail  Rail
}

// Join is a joint between two piece ends; Pos is where it was typed first.
type Join struct {
	Ends [2]EndRef
	Pos  source.Pos
}

// Exclusion is one never-together entry: these settings may not hold at once.
type Exclusion struct {
	Entry
	Pieces   []PieceID
	Settings []string // words, parallel to Pieces
	Because  string
}
