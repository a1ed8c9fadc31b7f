package conductor

const (
	ohm    = "Ω"
	degree = "°C"
)

// What one joint or contact adds, in ohms, from new and clean to aged. One that has failed
// altogether is an open joint, which is no number.
var (
	// SolderedJoint is a rail joint filled with solder.
	SolderedJoint = Value{Range{0, 0.002}, ohm, "soldered rail joint", CommonPractice}
	// PlainJoiner is a rail joiner without solder, from new and tight to aged and loose.
	PlainJoiner = Value{Range{0.002, 0.2}, ohm, "plain rail joiner, new to aged", CommonPractice}
	// SlidingJoint is an expansion joint whose joiner is meant to slide.
	SlidingJoint = Value{Range{0.005, 0.5}, ohm, "sliding expansion joint, new to aged", CommonPractice}
	// BladeTouch is a switch blade against its stock rail.
	BladeTouch = Value{Range{0.01, 0.5}, ohm, "switch blade touching its stock rail, clean to dirty", CommonPractice}
	// FrogContact is one contact of a relay, a switch or a switch machine.
	FrogContact = Value{Range{0.01, 0.1}, ohm, "contact of a relay, switch or switch machine", CommonPractice}
	// Splice is one end of a feeder or bond: its joint to the bus, or to the rail.
	Splice = Value{Range{0, 0.01}, ohm, "tap or soldered end of a feeder", CommonPractice}
	// BusSplice is a joint in a bus or between a bus and a device's terminal.
	BusSplice = Value{Range{0, 0.005}, ohm, "splice or screw terminal of a bus", CommonPractice}
	// PlugContact is a plug with its socket, both legs together.
	PlugContact = Value{Range{0.01, 0.1}, ohm, "plug and socket, both legs together", CommonPractice}
	// TurntableRing is one leg's wiper on its ring.
	TurntableRing = Value{Range{0.02, 0.5}, ohm, "wiper on a turntable's ring, one leg, clean to dirty", CommonPractice}
	// ShortItself is what lies across the rails: a derailed truck is no bolt.
	ShortItself = Value{Range{0.1, 0.5}, ohm, "the short itself: a derailed truck, a tool across the rails", CommonPractice}
)

// RoomTemperature is that of air, rail and copper without load.
var RoomTemperature = Value{Range{10, 35}, degree, "room temperature, from a cool basement to a hot attic", CommonPractice}
