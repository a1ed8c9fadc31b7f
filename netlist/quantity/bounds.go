package quantity

// zero says what a kind makes of 0.
type zero uint8

const (
	zeroNever zero = iota // 0 is refused
	zeroLow               // a range may begin at 0
	zeroFine              // 0 is a value like any other
)

// Bound is what a kind accepts: 0 as Zero says, else from Min to Max in SI units, both
// included. MinText and MaxText are those two as messages print them. Why gives the
// reason, which is common practice without a source: the bounds catch slips of the pen,
// they are not limits of safety.
type Bound struct {
	Min, Max         float64
	MinText, MaxText string
	zero             zero
	Why              string
}

// Bounds of k, one row a kind.
func (k Kind) Bounds() Bound {
	switch k {
	case KindLength:
		return Bound{
			1e-5, 1e3, "0.01 mm", "1 km", zeroNever,
			"a gap is wider than a tenth of a sheet of paper, and no layout has a kilometre of one track",
		}
	case KindLengthFromZero:
		return Bound{
			1e-5, 1e3, "0.01 mm", "1 km", zeroLow,
			"as a length; a train may be anything up to a length",
		}
	case KindPosition:
		return Bound{
			1e-5, 1e3, "0.01 mm", "1 km", zeroFine,
			"a place may be the start itself, and lies on a track, which has at most a kilometre",
		}
	case KindWire:
		return Bound{
			5e-9, 1.2e-4, "0.005 mm²", "120 mm²", zeroNever,
			"from AWG 40, thinner than a hair, to just over AWG 4/0, thick as a thumb",
		}
	case KindResistance:
		return Bound{
			1e-6, 1e7, "1 µΩ", "10 MΩ", zeroNever,
			"every contact has a microhm; a hand meter, itself about 10 MΩ, cannot tell more from an open gap",
		}
	case KindResistanceFromZero:
		return Bound{
			1e-6, 1e7, "1 µΩ", "10 MΩ", zeroLow,
			"as a resistance; a contact may be as good as a bolt",
		}
	case KindCurrent:
		return Bound{
			1e-6, 200, "1 µA", "200 A", zeroNever,
			"a microampere is below any detector, and 200 A is what a whole house takes",
		}
	case KindCurrentFromZero:
		return Bound{
			1e-6, 200, "1 µA", "200 A", zeroLow,
			"as a current; a load may be off",
		}
	case KindVoltage:
		return Bound{
			1e-6, 1e3, "1 µV", "1 kV", zeroNever,
			"above 1 kV electricians speak of high voltage; mains is let through, so that a rule can warn of it",
		}
	case KindVoltageFromZero:
		return Bound{
			1e-6, 1e3, "1 µV", "1 kV", zeroLow,
			"as a voltage; a cab's knob goes down to 0",
		}
	case KindTime:
		return Bound{
			1e-9, 3600, "1 ns", "3600 s", zeroLow,
			"faster than any contact or signal edge here, and slower than any fuse that still opens",
		}
	case KindCapacitance:
		return Bound{
			1e-13, 10, "0.1 pF", "10 F", zeroLow,
			"two bare pins have about 0.1 pF; the largest stay-alive store a model carries is a few farads",
		}
	case KindAngle:
		return Bound{
			0, 360, "0 deg", "360 deg", zeroFine,
			"once round; a bridge's first track stands at 0",
		}
	case KindCrossingAngle:
		return Bound{
			1, 90, "1 deg", "90 deg", zeroNever,
			"tracks at 0 never cross, and of the two angles of a crossing one says the smaller",
		}
	case KindPercent:
		return Bound{
			1e-3, 100, "0.001 %", "100 %", zeroLow,
			"a share of a whole; nobody measures finer than a thousandth of a percent",
		}
	case KindTemperature:
		return Bound{
			-60, 100, "-60 °C", "100 °C", zeroFine,
			"from the hardest frost outdoors to boiling water",
		}
	default: // KindCount
		return Bound{
			1, 100, "1", "100", zeroNever,
			"a turnout number is the length that spreads by one; below 1 or over 100 is no turnout",
		}
	}
}
