package layout

import (
	"gapwise/netlist/quantity"
	"gapwise/netlist/source"
)

// Place is a point of a rail: on a track, or at the end of a piece (a joint).
// When End >= 0 it is the joint at that end of Piece (a track's start is end 0, its end
// is end 1); otherwise At gives metres from the track's start, as a range when the
// measure is uncertain. FromEnd says that the owner measured from the end (At is
// already turned round; Text is as typed).
type Place struct {
	Piece   PieceID
	End     int32 // -1: at At on a track
	At      quantity.Length
	FromEnd bool
	Text    string // canonical: "M1 @ 4 ft", "T3 points"
	Pos     source.Pos
}

// Tap is a place on a bus: metres from the bus's start. Bus -1 with Unknown set is
// `from: unknown`; Bus -1 without it is unsaid.
type Tap struct {
	Bus     int32
	At      quantity.Length
	Unknown bool
	Text    string
	Pos     source.Pos
}

// SourceKind is what a wire or device may hang from.
type SourceKind uint8

const (
	SourceUnsaid SourceKind = iota
	FromTap
	FromBooster
	FromBreaker
	FromReverser
	FromDetector
	FromInLine
	FromChangeover
	FromPlug
	FromSupply
	FromCab
	FromNothing // a changeover position that connects nothing
	FromUnknown
)

// Source is where a wire or device hangs: Index into the slice of its kind, or Tap.
type Source struct {
	Kind  SourceKind
	Index int32
	Tap   Tap
	Text  string
	Pos   source.Pos
}

// RailSet says which rails a gap, joint, feeder or bond is in. RailA and RailB are the
// rails fed by that leg at the place; Inner and Outer are those of a turnout's leg.
type RailSet uint8

const (
	RailsUnsaid RailSet = iota
	BothRails
	LeftRail
	RightRail
	RailOfA
	RailOfB
	InnerRail
	OuterRail
)

// RailSetWords are the words of the language for RailSet, by value.
var RailSetWords = []string{"", "both", "left", "right", "A", "B", "inner", "outer"}

// Stretch is what `covers` and `under` take: part of a track (From..To, metres from its
// start), a whole piece, or one route of a crossing. On a ring To may be below From: it
// passes the start. GapFrom/GapTo say that the bound was `gap`; the reader resolves it
// (GapIndex, -1 when no gap was found and the stretch runs to the track's end).
type Stretch struct {
	Piece                    PieceID
	Whole                    bool
	From, To                 quantity.Length
	GapFrom, GapTo           bool
	GapFromIndex, GapToIndex int32 // into Layout.Gaps
	RouteFrom, RouteTo       int32 // ends of a crossing or slip, -1 when not a route
	Text                     string
	Pos                      source.Pos
}

// Row says that an entry is a member of a row: its number from 1 of Count.
type Row struct {
	Number, Count int // 0 when not of a row
}

// GapKind is insulated or expansion.
type GapKind uint8

const (
	Insulated GapKind = iota
	Expansion
)

// ExpansionJoint is how an expansion gap is made.
type ExpansionJoint uint8

const (
	JointNone  ExpansionJoint = iota // of insulated gaps
	CutThrough                       // does not conduct
	Sliding                          // conducts perhaps
	Bonded                           // conducts by its bond wire
)

// Gap is one cut, rows expanded. Rails is resolved by the reader to BothRails, LeftRail
// or RightRail of the walk of the place's piece: `inner` and `outer` by the turnout's leg,
// `A` and `B` by the nearest feeder of the track. TypedRails keeps the word.
type Gap struct {
	Entry
	Place      Place
	Rails      RailSet
	TypedRails RailSet
	BridgedBy  int32 // index into InLines, -1 none
	Kind       GapKind
	Joint      ExpansionJoint
	Width      quantity.Length
	Fill       string // "" unsaid, "none" for nothing, else the material
	Row        Row
}

// JointKind of a rail joint.
type JointKind uint8

const (
	JointUnknown JointKind = iota
	Soldered
	Plain
)

// JointKindWords are the words of the language for JointKind, by value.
var JointKindWords = []string{"unknown", "soldered", "plain"}

// RailJoint is one rail joint inside a track, rows expanded.
type RailJoint struct {
	Entry
	Place Place
	Rails RailSet
	Kind  JointKind
	Row   Row
}

// CommonRail declares one rail as common over stretches.
type CommonRail struct {
	Entry
	Rail    Rail
	Of      []Stretch
	Because string
}

// Bond is a wire from rail to rail. When Both, left goes to left and right to right;
// otherwise Rails[0] at From goes to Rails[1] at To.
type Bond struct {
	Entry
	From, To Place
	Both     bool
	Rails    [2]Rail
	Wire     quantity.Wire
	Length   quantity.Length
}

// Feeder is a pair (or one) of wires from a bus to the rails, rows expanded. Leg A goes
// to rail ARail, leg B to the other; Rails narrows it to one rail. From[A] and From[B]
// are the taps.
type Feeder struct {
	Entry
	Place  Place
	ARail  Rail
	Rails  RailSet // BothRails, LeftRail or RightRail
	From   [2]Tap
	Wire   quantity.Wire
	Length quantity.Length
	Broken YesNo // No when unsaid
	Row    Row
}
