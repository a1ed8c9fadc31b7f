package quantity

import "gapwise/netlist/source"

// ParseLength reads a length in metres, more than 0.
func ParseLength(text string, pos source.Pos) (Length, *Error) {
	v, err := Parse(KindLength, text, pos)
	return Length{v}, err
}

// ParseLengthFromZero reads a length whose range may begin at 0: "0 .. 10 ft".
func ParseLengthFromZero(text string, pos source.Pos) (Length, *Error) {
	v, err := Parse(KindLengthFromZero, text, pos)
	return Length{v}, err
}

// ParsePosition reads a distance in metres along a track or bus; 0 is fine, with or
// without a unit.
func ParsePosition(text string, pos source.Pos) (Length, *Error) {
	v, err := Parse(KindPosition, text, pos)
	return Length{v}, err
}

// ParseResistance reads a resistance in ohms, more than 0.
func ParseResistance(text string, pos source.Pos) (Resistance, *Error) {
	v, err := Parse(KindResistance, text, pos)
	return Resistance{v}, err
}

// ParseResistanceFromZero reads a resistance whose range may begin at 0: "0 .. 0.5 Ω".
func ParseResistanceFromZero(text string, pos source.Pos) (Resistance, *Error) {
	v, err := Parse(KindResistanceFromZero, text, pos)
	return Resistance{v}, err
}

// ParseCurrent reads a current in amperes, more than 0.
func ParseCurrent(text string, pos source.Pos) (Current, *Error) {
	v, err := Parse(KindCurrent, text, pos)
	return Current{v}, err
}

// ParseCurrentFromZero reads a current whose range may begin at 0: "0 .. 1 A".
func ParseCurrentFromZero(text string, pos source.Pos) (Current, *Error) {
	v, err := Parse(KindCurrentFromZero, text, pos)
	return Current{v}, err
}

// ParseVoltage reads a voltage in volts, more than 0.
func ParseVoltage(text string, pos source.Pos) (Voltage, *Error) {
	v, err := Parse(KindVoltage, text, pos)
	return Voltage{v}, err
}

// ParseVoltageFromZero reads a voltage whose range may begin at 0: "0 .. 12 V".
func ParseVoltageFromZero(text string, pos source.Pos) (Voltage, *Error) {
	v, err := Parse(KindVoltageFromZero, text, pos)
	return Voltage{v}, err
}

// ParseTime reads a time in seconds; a range may begin at 0.
func ParseTime(text string, pos source.Pos) (Time, *Error) {
	v, err := Parse(KindTime, text, pos)
	return Time{v}, err
}

// ParseCapacitance reads a capacitance in farads; a range may begin at 0.
func ParseCapacitance(text string, pos source.Pos) (Capacitance, *Error) {
	v, err := Parse(KindCapacitance, text, pos)
	return Capacitance{v}, err
}

// ParseCrossingAngle reads the angle in degrees between two tracks, up to 90.
func ParseCrossingAngle(text string, pos source.Pos) (Angle, *Error) {
	v, err := Parse(KindCrossingAngle, text, pos)
	return Angle{v}, err
}

// ParseAngle reads a bearing in degrees, 0 to 360.
func ParseAngle(text string, pos source.Pos) (Angle, *Error) {
	v, err := Parse(KindAngle, text, pos)
	return Angle{v}, err
}

// ParsePercent reads a share in parts per hundred; a range may begin at 0.
func ParsePercent(text string, pos source.Pos) (Percent, *Error) {
	v, err := Parse(KindPercent, text, pos)
	return Percent{v}, err
}

// ParseTemperature reads a temperature in degrees Celsius; it alone may be below 0.
func ParseTemperature(text string, pos source.Pos) (Temperature, *Error) {
	v, err := Parse(KindTemperature, text, pos)
	return Temperature{v}, err
}

// ParseWire reads a wire size, its value the cross-section in square metres. AWG numbers
// fall as wires get thicker, so a range of them, 16 .. 18 AWG, may be typed either way;
// it has no Gauge.
func ParseWire(text string, pos source.Pos) (Wire, *Error) {
	return parse(KindWire, text, pos)
}

// ParseCount reads a bare number, such as a turnout's.
func ParseCount(text string, pos source.Pos) (Value, *Error) {
	return Parse(KindCount, text, pos)
}
