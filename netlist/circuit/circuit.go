// Package circuit turns a layout into its conductors: every length of rail between
// cuts, every joint, blade, contact, jumper, wire, bus span and device leg, with integer
// ids, plus the walk structure above them (spots and ways), in which the two rails of a
// track stay together. It says what is joined to what; it judges nothing.
//
// A conductor that holds in every setting has Device -1. One that holds in a single
// position of a device (a turnout, a reverser, a changeover ...) carries the device and
// that position; a part that conducts in two positions is two conductors. A conductor
// that is not Sure (an untrusted joiner, a sliding joint, an unknown jumper) is joined
// when we prove that nothing shorts and open when we prove that everything is fed.
package circuit

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/source"
)

// Kind of a conductor.
type Kind uint8

// The kinds of conductors, and what Ref indexes in each.
const (
	RailLength    Kind = iota // Ref: piece; Rail, From, To in metres of the track's ruler
	JointMetal                // rail joint or expansion joint; Ref: piece
	PiecePart                 // rail, frog, jumper or contact inside track work; Ref: piece; Part
	BondWire                  // Ref: Layout.Bonds
	FeederWire                // Ref: Layout.Feeders; Leg
	BusSpan                   // Ref: Layout.Buses; Leg, From, To
	WireEnd                   // where a bus hangs from its source or returns to a tap; Ref: Layout.Buses; Leg
	BreakerLeg                // Ref: Layout.Breakers; Leg
	ReverserLeg               // Ref: Layout.Reversers; Leg is the output's
	DetectorLeg               // Ref: Layout.Detectors; Leg
	InLineLeg                 // Ref: Layout.InLines; Leg
	ChangeoverLeg             // Ref: Layout.Changeovers; Leg is the output's
	PlugLeg                   // Ref: Layout.Plugs; Leg is the output's
	BridgeFeed                // a turntable's or transfer table's bridge rail; Ref: piece
	PastDetector              // the leg that a detector leaves alone; Ref: Layout.Detectors
	PastInLine                // the leg that an in-line part leaves alone; Ref: Layout.InLines
)

// Parts reports whether a conductor parts one district from the next: the legs of a
// breaker, reverser, changeover or a plug that goes either way round are not followed
// when rails are traced to their source.
func (c *Conductor) Parts() bool {
	switch c.Kind {
	case BreakerLeg, ReverserLeg, ChangeoverLeg:
		return true
	case PlugLeg:
		return c.Device >= 0
	default:
		return false
	}
}

// Conductor joins nodes A and B. From and To are positions in metres where they make
// sense. Pos is the entry's place in the file.
type Conductor struct {
	A, B     int32
	Ref      int32
	Device   int32 // index into Circuit.Devices, -1 in every setting
	Position int16 // of Device
	Kind     Kind
	Part     Part
	Rail     layout.Rail
	Leg      layout.Leg
	Sure     bool
	Joint    JointMake // of JointMetal
	From, To float64
	Pos      source.Pos
}

// JointMake is how the metal of a rail joint holds together.
type JointMake uint8

const (
	UnknownJoint JointMake = iota
	SolderedJoint
	PlainJoint
	SlidingJoint // an expansion joint whose rails rub
	BondedJoint  // an expansion joint with a wire across
	BridgedGap   // a gap with an in-line part across
	OneJoint     // no joint of its own: two names of one place
)

// Length in metres along the conductor, 0 where it has none.
func (c *Conductor) Length() float64 { return c.To - c.From }

// DeviceKind tells what has settings.
type DeviceKind uint8

const (
	PieceDevice      DeviceKind = iota // Ref: piece
	ReverserDevice                     // Ref: Layout.Reversers; positions straight, crossed
	ChangeoverDevice                   // Ref: Layout.Changeovers
	PlugDevice                         // Ref: Layout.Plugs, legs either way
	SwitchDevice                       // Ref: Layout.InLines of kind switch; positions on, off
	FrogDevice                         // Ref: piece; flips a frog by itself; positions stock-left, stock-right
)

// Device is a thing with positions. Name is how a finding names it, Positions its words: first its settings, in which
// it rests, then its Moments, one for each position that lasts only while it is thrown.
type Device struct {
	Kind      DeviceKind
	Ref       int32
	Name      string
	Positions []string
	Moments   []Moment
	Pos       source.Pos
	// Coupled are the devices thrown together with this one, directly or through others:
	// Coupled[i].To[p] is their position when this one is in p.
	Coupled []Coupling
}

// Moment is how a device lies while it is thrown: the setting that its blades lie as in, -1 in the air, and the setting that its
// contacts lie as in, -1 closed for all.
type Moment struct {
	Blades, Contacts int16
}

// Rests is the number of settings, the positions that a device rests in.
func (d *Device) Rests() int { return len(d.Positions) - len(d.Moments) }

// Momentary reports whether a position lasts only while the device is thrown: it serves no route, no train
// runs in it, and rail that has a leg only then is not fed.
func (d *Device) Momentary(position int16) bool { return int(position) >= d.Rests() }

// Coupling ties a device's positions to another's.
type Coupling struct {
	Device int32
	To     []int16
}

// SourceKind of a district source.
type SourceKind uint8

const (
	BoosterSource SourceKind = iota
	BreakerSource
	ReverserSource
	CabSource
	SupplySource
	ChangeoverSource
	PlugSource // a plug whose legs may go either way round
)

// Source is what a district hangs from: a booster, breaker or reverser (or a cab, a
// supply, a changeover, a plug that goes either way round). Out are the nodes of its legs
// A and B. Parent is the source that feeds it, -1 for none (a changeover counts as its
// first position), and Booster the source at the head of the chain (itself for a
// booster, -1 for none). Free says that its phase is not tied to what feeds it: a
// reverser, a booster that reverses itself, a changeover that passes one phase straight in
// one position and crossed in another. Crossed says that it passes its parent's legs
// the other way round.
type Source struct {
	Kind    SourceKind
	Ref     int32
	Name    string // "booster front"
	Out     [2]int32
	Parent  int32
	Booster int32
	Free    bool
	Crossed bool
	Pos     source.Pos
}

// Spot is a point of track where both rails are at hand: Node[Left], Node[Right] by the
// walk of Piece. At is metres along a track's ruler; End is the end of a piece of track work it
// stands at, -1 on a track and in the middle of a bridge.
type Spot struct {
	Piece layout.PieceID
	End   int32
	At    float64
	Node  [2]int32
}

// WayKind of a way.
type WayKind uint8

const (
	WayTrack   WayKind = iota // a length of track without cut or joint
	WayJoint                  // a rail joint, inside a track or between two pieces
	WayCut                    // at least one rail has a gap here
	WayThrough                // a route through track work
	WayPit                    // over the edge of a turntable pit: wheels only, no metal
)

// Way leads from spot A to spot B. Turned says that left becomes right: the two
// spots' pieces are walked in opposite senses. Metal tells for each rail of A whether
// it is joined to the same rail line at B by metal in every setting (Open, Perhaps,
// Joined). Gaps are the Layout.Gaps indices that cut each rail of A (-1 none).
// Device and Position are the setting that serves a route, -1 when it is always there.
type Way struct {
	A, B     int32
	Kind     WayKind
	Turned   bool
	Metal    [2]Metal
	Gaps     [2]int32
	Rails    [2]int32
	Piece    layout.PieceID
	Device   int32
	Position int16
	Length   float64
	Pos      source.Pos
}

// Metal says whether a rail line is joined.
type Metal uint8

const (
	Open Metal = iota
	Perhaps
	Joined
)

// Demand is what wheels need of a frog: with Device in Position a wheel on the route
// makes Frog one with As; if they carry different legs, it shorts.
type Demand struct {
	Device   int32
	Position int16
	Frog, As int32
	Piece    layout.PieceID
	Name     string // "frog", "middle-frog", "west"
}

// InnerMetal is metal inside track work that is at no spot, by name: a metal frog ("frog",
// "middle-frog", "west"), or the rail between two frogs of a three-way ("left-between" on
// the right rail of the left route, "right-between" on the left rail of the right route).
type InnerMetal struct {
	Piece layout.PieceID
	Name  string
	Node  int32
}

// UnknownFrog is a metal frog of which the layout does not say what it gets in a position.
type UnknownFrog struct {
	Frog, Device int32
	Position     int16
}

// NotModelled is something the layout says that this circuit leaves open.
type NotModelled struct {
	What, Why string
	Pos       source.Pos
}

// Circuit is the whole layout as conductors.
type Circuit struct {
	Layout      *layout.Layout
	Nodes       int // node ids are 0 .. Nodes-1
	Conductors  []Conductor
	Devices     []Device
	Sources     []Source
	Spots       []Spot
	Ways        []Way
	Demands     []Demand
	Inner       []InnerMetal
	NotModelled []NotModelled
	// UnknownFrogs are left open by the layout, position by position.
	UnknownFrogs []UnknownFrog

	// FeederSpot is the spot of each feeder, -1 when it could not be placed.
	FeederSpot []int32
	// EndSpot[piece][end] is the spot at each end of each piece; -1 for the ends of a ring
	// whose start a body passes.
	EndSpot [][]int32
	// TrackSpots[track] lists the spots of a track in rising order.
	TrackSpots [][]int32
	// PieceDevice is the device of each piece, -1 for those without positions.
	PieceDevice []int32
	// BusNodes has the nodes of each bus's taps, by rising place.
	BusNodes []BusTaps
	// DetectorOut and DetectorIn are the nodes on either side of each detector.
	DetectorOut, DetectorIn []int32

	sourceAt map[sourceKey]int32
}

// BusTaps are the places of a bus where something hangs: At rising, Node by leg (-1
// where the bus does not carry it).
type BusTaps struct {
	At   []float64
	Node [2][]int32
}
