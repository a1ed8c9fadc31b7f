package layout

import (
	"gapwise/netlist/quantity"
	"gapwise/netlist/source"
)

// Supply is a low-voltage power supply.
type Supply struct {
	Entry
	Volts     quantity.Voltage
	Rating    quantity.Current
	Tolerance quantity.Percent
	Listed    YesNo
}

// SignalWiring of a booster.
type SignalWiring uint8

const (
	SignalUnsaid SignalWiring = iota
	SignalStraight
	SignalCrossed
	SignalUnknown
)

// CommonWish of a booster's maker.
type CommonWish uint8

const (
	CommonUnsaid CommonWish = iota
	CommonRequired
	CommonForbidden
	CommonUnknown
)

// Switching of a reverser.
type Switching uint8

const (
	SwitchingUnsaid Switching = iota
	Automatic
	ByHand
	SwitchingUnknown
)

// Booster drives legs A and B.
type Booster struct {
	Entry
	Supply          int32 // -1 unsaid
	Volts           quantity.Voltage
	Inside          quantity.Resistance
	Rating, TripsAt quantity.Current
	TripTime, Retry quantity.Time
	Signal          string // name of the command source, "" unsaid
	SignalWired     SignalWiring
	Isolated        YesNo
	Common          CommonWish
	Automatic       bool // a booster that reverses itself
	Use             Use
}

// Common ties boosters' commons.
type Common struct {
	Entry
	Joins  []int32
	Wire   quantity.Wire
	Length quantity.Length
}

// Cab is a plain DC throttle.
type Cab struct {
	Entry
	Volts  quantity.Voltage
	Rating quantity.Current
}

// Opens says which legs a device opens.
type Opens uint8

const (
	OpensUnsaid Opens = iota
	OpensA
	OpensB
	OpensBoth
	OpensUnknown
)

// OpensWords are the words of the language for Opens, by value.
var OpensWords = []string{"", "A", "B", "both", "unknown"}

// Breaker is an electronic circuit breaker.
type Breaker struct {
	Entry
	From       Source
	TripsAt    quantity.Current
	TripTime   quantity.Time
	Resistance quantity.Resistance
	Opens      Opens
}

// Reverser swaps its legs, by itself or by hand.
type Reverser struct {
	Entry
	From       Source
	TripsAt    quantity.Current
	TripTime   quantity.Time
	Resistance quantity.Resistance
	Opens      Opens
	Switching  Switching
	OneAtATime bool // serves: one-at-a-time
}

// Detector watches one leg.
type Detector struct {
	Entry
	From   Source
	Leg    Leg
	Senses string
	Drop   quantity.Voltage
	Sees   quantity.Resistance
}

// InLineKind of an in-line part.
type InLineKind uint8

const (
	InLineUnsaid InLineKind = iota
	Lamp
	Fuse
	PTC
	Switch
)

// InLineKindWords are the words of the language for InLineKind, by value.
var InLineKindWords = []string{"", "lamp", "fuse", "ptc", "switch"}

// InLine is a lamp, fuse, ptc or switch in a leg.
type InLine struct {
	Entry
	From                             Source
	Kind                             InLineKind
	Legs                             Opens // A, B or both
	Rating, Holds, TripsAt, LimitsTo quantity.Current
	Resistance                       quantity.Resistance
}

// Position of a changeover.
type Position struct {
	Name    string
	From    Source // Kind FromNothing for `nothing`
	Crossed bool
	Pos     source.Pos
}

// Changeover connects what hangs from it to one of several sources.
type Changeover struct {
	Entry
	Positions  []Position
	Opens      Opens
	Throw      Throw
	ThrowsWith PieceID // -1 none
}

// PlugLegs says how a plug's legs go through.
type PlugLegs uint8

const (
	PlugUnsaid PlugLegs = iota
	PlugStraight
	PlugCrossed
	PlugEither
	PlugUnknown
)

// Plug is a pluggable connection.
type Plug struct {
	Entry
	From       Source
	Legs       PlugLegs
	Resistance quantity.Resistance
	Rating     quantity.Current
}

// Legs carried by a bus.
type Legs uint8

const (
	LegsBoth Legs = iota
	LegsA
	LegsB
)

// Carries reports whether leg l is carried.
func (ls Legs) Carries(l Leg) bool { return ls == LegsBoth || (ls == LegsA) == (l == A) }

// LaidKind is how a bus's two wires lie.
type LaidKind uint8

const (
	LaidUnsaid LaidKind = iota
	LaidTwisted
	LaidApart
	LaidUnknown
)

// Laid is twisted, or a spacing.
type Laid struct {
	Kind    LaidKind
	Spacing quantity.Length
	Pos     source.Pos
}

// BusUse of a bus.
type BusUse uint8

const (
	BusTrack BusUse = iota
	BusAccessories
	BusLighting
)

// Beside says that a one-leg wire lies beside a bus.
type Beside struct {
	Bus     int32
	Spacing quantity.Length
}

// Under says which stretch a bus runs below, at which station, or over which run of
// stations At.Lo to At.Hi. AtKnown false: no station was typed, the bus's whole length
// runs below all such stretches, in order.
type Under struct {
	At      quantity.Length
	AtKnown bool
	Bus     int32 // -1: this bus's own stations
	Block   int32 // -1: Stretch counts
	Stretch Stretch
}

// Bus is a run of wire. Returns is the tap its far end comes back to; Bus -1 is open.
type Bus struct {
	Entry
	From    Source
	Legs    Legs
	Wire    quantity.Wire
	Length  quantity.Length
	Laid    Laid
	Beside  []Beside
	Returns Tap
	Under   []Under
	Use     BusUse
}

// Terminator is a resistor (and capacitor) across the legs or rails at a place.
type Terminator struct {
	Entry
	OnRail      bool
	Place       Place
	Tap         Tap
	Resistance  quantity.Resistance
	Capacitance quantity.Capacitance
}

// Load is something that draws current at a place or is a conductor there (a bumper).
type Load struct {
	Entry
	OnRail      bool
	Place       Place
	Tap         Tap
	Resistance  quantity.Resistance
	Capacitance quantity.Capacitance
	Draws       quantity.Current
	Inrush      quantity.Current // in the first moments after power returns
	Kind        string
}

// Block is a detection block as meant.
type Block struct {
	Entry
	Covers   []Stretch
	Use      Use
	Detector int32   // -1 none
	Trains   []int32 // only these come here; empty: all
}

// District is a power district as meant.
type District struct {
	Entry
	From   Source
	Blocks []int32
}

// Wheels of a train.
type Wheels uint8

const (
	WheelsUnsaid Wheels = iota
	MetalWheels
	PlasticWheels
	WheelsUnknown
)

// Train is a kind of train.
type Train struct {
	Entry
	Length       quantity.Length
	Current      quantity.Current
	Inrush       quantity.Current // in the first moments after power returns
	AtOnce       int
	Wheels       Wheels
	ResistorCars int
	Resistor     quantity.Resistance
}

// Operations say how the layout is run.
type Operations struct {
	Said   bool
	AtOnce int // 0 unsaid
	Pickup quantity.Length
	Wheels Wheels
	Pos    source.Pos
}

// Limit is an owner's own limit: Name is the rule measure as typed, Unit what Value is
// in; of a value typed as `unknown` it tells nothing.
type Limit struct {
	Name  string
	Value quantity.Value
	Unit  Unit
	Pos   source.Pos
}

// Stock lists the sizes at hand.
type Stock struct {
	Bus, Feeder []StockWire
}

// StockWire is a size at hand, and what a length Per of single conductor costs: Price in whatever money, 0
// with Per unsaid when the layout does not say.
type StockWire struct {
	Wire  quantity.Wire
	Price float64
	Per   quantity.Length
	Pos   source.Pos
}

// Priced reports whether the layout says what the wire costs.
func (s *StockWire) Priced() bool { return s.Per.Known() && s.Per.Mid() > 0 }

// PerMetre is what a metre of single conductor costs; 0 when the layout does not say.
func (s *StockWire) PerMetre() float64 {
	if !s.Priced() {
		return 0
	}
	return s.Price / s.Per.Mid()
}

// Practice is one rule of thumb the owner holds to.
type Practice struct {
	Name string
	Pos  source.Pos
}

// Accept is one accepted finding. Target is what At resolved to, as its canonical text
// ("gap east", "M1 @ 4 ft").
type Accept struct {
	Entry
	Finding string
	At      string
	Target  Target
	Because string
}

// TargetKind tells what an acceptance points at.
type TargetKind uint8

const (
	TargetPlace TargetKind = iota
	TargetGap
	TargetFeeder
	TargetPiece
	TargetBus
	TargetDevice
	TargetBlock
	TargetDistrict
	TargetOther
)

// Target is a resolved `at` of an acceptance: Index into the slice of its kind (gaps,
// feeders, pieces, buses, blocks, districts), Place for places; Pos is where the thing itself stands.
type Target struct {
	Kind  TargetKind
	Index int32
	Place Place
	Text  string
	Pos   source.Pos
}
