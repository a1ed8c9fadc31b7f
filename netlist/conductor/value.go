// Package conductor holds what wire, rail, joints and devices are electrically, each number
// as a range with its unit and its source. Everything is SI.
//
// A source is a publication with its table, CommonPractice for what people take without one,
// or Memory for what was written down without opening the publication again.
package conductor

// The two sources that are none.
const (
	CommonPractice = "common practice, no source"
	Memory         = "from memory"
)

// Value is a number of the tables: what it may be, in Unit, of What, after Source.
type Value struct {
	Range
	Unit   string
	What   string
	Source string
}

// All lists the values that the program assumes where a layout says nothing, and the
// tables of rail, in the order that `explain` shows them in.
func All() []Value {
	out := []Value{
		RoomTemperature,
		SolderedJoint, PlainJoiner, SlidingJoint, BladeTouch, FrogContact,
		Splice, BusSplice, PlugContact, TurntableRing,
		DetectorSeries, DetectorDrop, BreakerResistance, ReverserResistance, BoosterInside,
		LampCold, FuseResistance, PTCResistance, ShortItself,
	}
	out = append(out, railRows()...)
	out = append(out, SteelRailInductance, EpsilonClose, EpsilonApart, EpsilonRail)
	for _, m := range metals {
		out = append(out, m.expansion)
	}
	return append(out, BaseExpansion, BaseHumidity, AcrossGrainHumidity)
}
