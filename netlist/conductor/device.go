package conductor

// What a device adds when the layout says nothing of its own.
var (
	// DetectorSeries is the ohmic part of a detector, in its one leg.
	DetectorSeries = Value{Range{0, 0.1}, ohm, "detector in its leg, beside its fixed drop", CommonPractice}
	// DetectorDrop is what a detector takes whatever the current: nothing for one that the
	// wire passes through as through a coil, two diodes in a row for one that senses their drop.
	DetectorDrop = Value{Range{0, 1.5}, "V", "fixed drop of a detector: a coil 0, diodes 0.7 to 1.5", CommonPractice}
	// BreakerResistance is a circuit breaker that is closed, for the loop.
	BreakerResistance = Value{Range{0.02, 0.3}, ohm, "breaker when closed, both legs together", CommonPractice}
	// ReverserResistance is a reverser in either position, for the loop.
	ReverserResistance = Value{Range{0.02, 0.3}, ohm, "reverser, both legs together", CommonPractice}
	// BoosterInside is a booster's output, for the loop.
	BoosterInside = Value{Range{0.05, 0.5}, ohm, "inside a booster, both legs together", CommonPractice}
	// LampCold is a lamp in line that does not glow. Hot it has about ten times as much.
	LampCold = Value{Range{0.3, 2}, ohm, "lamp in line, cold", CommonPractice}
	// FuseResistance is a fuse of a few amperes.
	FuseResistance = Value{Range{0.01, 0.2}, ohm, "fuse of a few amperes", CommonPractice}
	// PTCResistance is a fuse that resets itself, before it has tripped.
	PTCResistance = Value{Range{0.02, 0.5}, ohm, "self-resetting fuse, not tripped", CommonPractice}
)
