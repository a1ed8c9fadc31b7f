// Package conductor knows what wire, rail, joints and contacts are electrically: ohms, henries
// and farads per metre, how hot a wire gets, how far rail moves, each with the source of its
// number. Where nobody publishes a value it says so.
package conductor

// Range is a number that lies from Lo to Hi.
type Range struct{ Lo, Hi float64 }

// Exact is a range of one value.
func Exact(v float64) Range { return Range{v, v} }

// Plus adds range to range.
func (r Range) Plus(s Range) Range { return Range{r.Lo + s.Lo, r.Hi + s.Hi} }

// Times multiplies by a number that is not negative.
func (r Range) Times(x float64) Range { return Range{r.Lo * x, r.Hi * x} }

// By multiplies by a range, neither of them negative.
func (r Range) By(s Range) Range { return Range{r.Lo * s.Lo, r.Hi * s.Hi} }

// Mid is the middle.
func (r Range) Mid() float64 { return (r.Lo + r.Hi) / 2 }

// Contains reports whether v lies in the range.
func (r Range) Contains(v float64) bool { return r.Lo <= v && v <= r.Hi }

// Value is a default of this program, with where it comes from.
type Value struct {
	Range
	Unit   string
	What   string
	Source string
}

// The sources that are no publication.
const (
	CommonPractice = "common practice, no source"
	FromMemory     = "from memory"
)

// What joints, contacts and devices are taken for where the layout does not say. Ohms are of one
// contact; of a breaker, reverser, plug or booster of the whole loop.
var (
	SolderedJoint      = Value{Range{0, 2e-3}, "Ω", "a soldered rail joint", CommonPractice}
	PlainJoiner        = Value{Range{2e-3, 100e-3}, "Ω", "a plain rail joiner, new to aged", CommonPractice}
	SlidingJoint       = Value{Range{2e-3, 200e-3}, "Ω", "a sliding expansion joint", CommonPractice}
	BladeTouch         = Value{Range{10e-3, 200e-3}, "Ω", "a turnout blade that touches its stock rail", CommonPractice}
	FrogContact        = Value{Range{5e-3, 50e-3}, "Ω", "a relay or throw-bar contact", CommonPractice}
	Splice             = Value{Range{1e-3, 10e-3}, "Ω", "where a feeder or bond is joined to wire or rail", CommonPractice}
	BusSplice          = Value{Range{1e-3, 10e-3}, "Ω", "where a bus is joined to its source", CommonPractice}
	PlugContact        = Value{Range{10e-3, 60e-3}, "Ω", "a plug, both contacts", CommonPractice}
	TurntableRing      = Value{Range{20e-3, 200e-3}, "Ω", "a ring or wiper contact", CommonPractice}
	DetectorSeries     = Value{Range{1e-3, 50e-3}, "Ω", "a current detector, besides its fixed drop", CommonPractice}
	DetectorDrop       = Value{Range{0, 1.4}, "V", "a current detector, from a coil to two diodes in series", CommonPractice}
	BreakerResistance  = Value{Range{20e-3, 100e-3}, "Ω", "an electronic breaker", CommonPractice}
	ReverserResistance = Value{Range{20e-3, 150e-3}, "Ω", "a reverser", CommonPractice}
	BoosterInside      = Value{Range{50e-3, 300e-3}, "Ω", "a booster's own inside", CommonPractice}
	LampCold           = Value{Range{0.2, 2}, "Ω", "a lamp, cold", CommonPractice}
	FuseResistance     = Value{Range{5e-3, 100e-3}, "Ω", "a fuse", CommonPractice}
	PTCResistance      = Value{Range{30e-3, 500e-3}, "Ω", "a resettable fuse, cold", CommonPractice}
	ShortItself        = Value{Range{0.1, 0.5}, "Ω", "a short itself: a derailed truck is not a bolt", CommonPractice}
	RoomTemperature    = Value{Range{10, 30}, "°C", "the room", CommonPractice}
	LayoutHumidity     = Value{Range{30, 65}, "%", "relative humidity over a year indoors", CommonPractice}
)

// All lists the values above, for those who ask where numbers come from.
func All() []Value {
	return []Value{
		SolderedJoint, PlainJoiner, SlidingJoint, BladeTouch, FrogContact, Splice, BusSplice, PlugContact, TurntableRing,
		DetectorSeries, DetectorDrop, BreakerResistance, ReverserResistance, BoosterInside, LampCold, FuseResistance, PTCResistance,
		ShortItself, RoomTemperature, LayoutHumidity,
	}
}
