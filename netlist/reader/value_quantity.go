package reader

import (
	"gapwise/netlist/quantity"
	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

// parse is one of the readers of package quantity.
type parse[T any] func(text string, pos source.Pos) (T, *quantity.Error)

// quantityKind is a kind decoded by one of them.
func quantityKind[T any](value, noun string, k quantity.Kind, read parse[T]) kind {
	return kind{value: value, noun: noun + " or `unknown`", shape: fixed(quantityShape(k)), decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
		t, ok := r.scalar(n, k)
		if !ok {
			return nil, false
		}
		return measured(r, t, read)
	}}
}

var (
	lengthKind        = quantityKind("length", "a length", quantity.KindLength, quantity.ParseLength)
	upToLengthKind    = quantityKind("length", "a length", quantity.KindLengthFromZero, quantity.ParseLengthFromZero)
	resistanceKind    = quantityKind("resistance", "a resistance", quantity.KindResistanceFromZero, quantity.ParseResistanceFromZero)
	currentKind       = quantityKind("current", "a current", quantity.KindCurrentFromZero, quantity.ParseCurrentFromZero)
	voltageKind       = quantityKind("voltage", "a voltage", quantity.KindVoltageFromZero, quantity.ParseVoltageFromZero)
	ratedCurrentKind  = quantityKind("current", "a current", quantity.KindCurrent, quantity.ParseCurrent) // 0 is senseless
	outputVoltageKind = quantityKind("voltage", "a voltage", quantity.KindVoltage, quantity.ParseVoltage)
	crossingAngleKind = quantityKind("angle", "an angle", quantity.KindCrossingAngle, quantity.ParseCrossingAngle)
	timeKind          = quantityKind("time", "a time", quantity.KindTime, quantity.ParseTime)
	capacitanceKind   = quantityKind("capacitance", "a capacitance", quantity.KindCapacitance, quantity.ParseCapacitance)
	percentKind       = quantityKind("percentage", "a percentage", quantity.KindPercent, quantity.ParsePercent)
	angleKind         = quantityKind("angle", "an angle", quantity.KindAngle, quantity.ParseAngle)
	wireKind          = quantityKind("wire", "a wire", quantity.KindWire, quantity.ParseWire)
	numberKind        = quantityKind("number", "a number", quantity.KindCount, quantity.ParseCount)
)

// measured reads t as a quantity and reports what is wrong with it at its place.
func measured[T any](r *reader, t text, read parse[T]) (T, bool) {
	v, err := read(t.s, t.pos)
	if err != nil {
		r.blame(t.part(t.shift+err.Offset, err.Width, t.s), problem{message: err.Message, expected: err.Expected})
		return v, false
	}
	return v, true
}

// wholeKind is a whole number in plain digits.
func wholeKind(low, high int) kind {
	return kind{value: "whole number", noun: "a whole number", shape: fixed(wholeShape(low, high)), decode: func(r *reader, k *key, n *tree.Node) (any, bool) {
		t, ok := r.scalar(n, k)
		if !ok {
			return nil, false
		}
		v, err := quantity.ParseInt(t.s, low, high)
		if err != nil {
			r.blame(t.part(t.shift+err.Offset, err.Width, t.s), problem{message: err.Message, expected: err.Expected})
			return nil, false
		}
		return v, true
	}}
}
