package quantity

import "strings"

// Kind is a kind of quantity a key of the layout language can ask for. Two kinds may
// share a unit and differ in what they do with zero.
type Kind uint8

// The kinds. A FromZero kind lets a range begin at 0 ("0 .. 12 V": at most 12 V), which
// the plain kind of the same unit refuses.
const (
	KindLength Kind = iota
	KindLengthFromZero
	KindPosition
	KindWire
	KindResistance
	KindResistanceFromZero
	KindCurrent
	KindCurrentFromZero
	KindVoltage
	KindVoltageFromZero
	KindTime
	KindCapacitance
	KindAngle         // a bearing, once round
	KindCrossingAngle // between two tracks
	KindPercent
	KindTemperature
	KindCount
	kindEnd
)

// Kinds lists every kind in a fixed order.
func Kinds() []Kind {
	ks := make([]Kind, 0, kindEnd)
	for k := Kind(0); k < kindEnd; k++ {
		ks = append(ks, k)
	}
	return ks
}

// speech is how messages talk about a kind.
type speech struct {
	noun    string // with its article
	is      string // the rest of "a length ..."
	example string // a quantity of this kind, as typed
}

var (
	lengthSpeech     = speech{"a length", "is in ft, in, m, cm, mm", "12 ft 6 1/2 in"}
	resistanceSpeech = speech{"a resistance", "is in Ω, mΩ, kΩ, MΩ", "60 mΩ"}
	currentSpeech    = speech{"a current", "is in A, mA", "5 A"}
	voltageSpeech    = speech{"a voltage", "is in V, mV", "15 V"}
)

// speech returns how messages talk about k.
func (k Kind) speech() speech {
	switch k {
	case KindWire:
		return speech{"a wire", "is AWG or mm²", "14 AWG"}
	case KindResistance, KindResistanceFromZero:
		return resistanceSpeech
	case KindCurrent, KindCurrentFromZero:
		return currentSpeech
	case KindVoltage, KindVoltageFromZero:
		return voltageSpeech
	case KindTime:
		return speech{"a time", "is in s, ms, µs", "40 ms"}
	case KindCapacitance:
		return speech{"a capacitance", "is in µF, nF, pF, F", "0.1 µF"}
	case KindAngle, KindCrossingAngle:
		return speech{"an angle", "is in deg", "60 deg"}
	case KindPercent:
		return speech{"a percentage", "is in %", "5 %"}
	case KindTemperature:
		return speech{"a temperature", "is in °C, °F", "20 °C"}
	case KindCount:
		return speech{"a number", "has no unit", "6"}
	default:
		return lengthSpeech
	}
}

// Words are how the language reference speaks of k: what it is, and how it is written
// ("length", "in ft, in, m, cm, mm; 12 ft 6 1/2 in").
func (k Kind) Words() (name, written string) {
	s := k.speech()
	_, name, _ = strings.Cut(s.noun, " ")
	return name, strings.TrimPrefix(s.is, "is ") + "; " + s.example
}
