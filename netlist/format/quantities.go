package format

import (
	"strings"
	"unicode/utf8"

	"gapwise/netlist/edit"
	"gapwise/netlist/quantity"
	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

// spaceQuantities puts blanks between the numbers and units of plain values, round `..` and
// round `@`.
func spaceQuantities(d *document) []edit.Edit {
	var edits []edit.Edit
	respell := func(at int, old, text string) {
		t := d.tokens[at]
		if text != old && string(d.text[t.from:t.to]) == old { // not in quotes
			edits = append(edits, edit.Edit{From: t.from, To: t.to, Text: text})
		}
	}
	spelt := map[*tree.Node]map[string]bool{} // places as they will be, by their map
	v := visitor{
		entry: func(*tree.Node, *table) {},
		place: func(n *tree.Node, f *tree.Field) {
			text := spaceWhere(f.Key)
			if text != f.Key && (n.Field(text) != nil || spelt[n][text]) {
				return // two places that differ in their blanks alone stay so
			}
			if spelt[n] == nil {
				spelt[n] = map[string]bool{}
			}
			spelt[n][text] = true
			respell(d.key(f), f.Key, text)
		},
		value: func(n *tree.Node, takes string) { respell(d.first(n), n.Text, spaceValue(n.Text, takes)) },
	}
	v.file(d.root)
	return edits
}

// kinds are the kinds of quantities a value may be, by the reference's words.
var kinds = map[string][]quantity.Kind{
	"length":         {quantity.KindLengthFromZero},
	"resistance":     {quantity.KindResistanceFromZero},
	"current":        {quantity.KindCurrentFromZero},
	"voltage":        {quantity.KindVoltageFromZero},
	"angle":          {quantity.KindAngle},
	"time":           {quantity.KindTime},
	"capacitance":    {quantity.KindCapacitance},
	"percentage":     {quantity.KindPercent},
	"wire":           {quantity.KindWire},
	takesStock:       {quantity.KindWire},
	"number":         {quantity.KindCount},
	"{name: angle}":  {quantity.KindAngle},
	"{name: offset}": {quantity.KindPosition},
	"{bus: spacing}": {quantity.KindPosition},
	"{leg: length}":  {quantity.KindLengthFromZero},
	takesLimit: {
		quantity.KindPercent, quantity.KindResistanceFromZero, quantity.KindVoltageFromZero, quantity.KindCurrentFromZero, quantity.KindPosition,
		quantity.KindTime, quantity.KindTemperature, quantity.KindAngle, quantity.KindCapacitance, quantity.KindWire,
	},
}

// spaceValue is a value with its blanks in order.
func spaceValue(text, takes string) string {
	switch takes {
	case takesWhere:
		return spaceWhere(text)
	case "twisted, or a length and `apart`":
		if spacing, apart := strings.CutSuffix(text, "apart"); apart {
			return spaceQuantity(strings.TrimSpace(spacing), kinds["length"]) + " apart"
		}
		return text
	case "place", "places", "tap", "source", "stretches", "stretches, or {place on the bus: stretches}", "{name: source, nothing or {from, legs}}":
		name, where, measured := strings.Cut(text, "@")
		if !measured {
			return text
		}
		return strings.Join(strings.Fields(name), " ") + " @ " + spaceWhere(strings.TrimSpace(where))
	}
	return spaceQuantity(text, kinds[takes])
}

// spaceWhere is a place along a track or bus, or from one to another, with its blanks in
// order.
func spaceWhere(text string) string {
	bounds := strings.Split(text, "..")
	if len(bounds) > 2 {
		return text
	}
	for i, b := range bounds {
		b = strings.TrimSpace(b)
		measure, fromEnd := b, ""
		if words := strings.Fields(b); len(words) > 2 && words[len(words)-2] == "from" && words[len(words)-1] == "end" {
			measure, fromEnd = strings.TrimSpace(b[:strings.LastIndex(b, "from")]), " from end"
		}
		bounds[i] = spaceQuantity(measure, []quantity.Kind{quantity.KindPosition}) + fromEnd
	}
	return strings.Join(bounds, " .. ")
}

// spaceQuantity puts blanks between the numbers and units of a quantity. A text that would
// not say just the same with them, or is no quantity of these kinds, is left as it is.
func spaceQuantity(text string, kinds []quantity.Kind) string {
	spaced := spaceUnits(text)
	if spaced == text {
		return text
	}
	for _, k := range kinds {
		before, err := quantity.Parse(k, text, source.Pos{})
		if err != nil {
			continue
		}
		after, err := quantity.Parse(k, spaced, source.Pos{})
		if err == nil && before.Lo == after.Lo && before.Hi == after.Hi && before.State == after.State {
			return spaced
		}
	}
	return text
}

// spaceUnits puts a blank before a unit of letters, behind it, and round `..`; several blanks
// become one.
func spaceUnits(text string) string {
	var b strings.Builder
	text = strings.ReplaceAll(text, "..", " .. ")
	before := ' '
	for i, r := range text {
		switch {
		case isNumber(before) && isUnit(r), isUnit(before) && isNumber(r) && !isSquare(text[:i], text[i:]):
			b.WriteByte(' ')
		}
		b.WriteRune(r)
		before = r
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

func isNumber(r rune) bool {
	return r >= '0' && r <= '9' || strings.ContainsRune("½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒", r)
}

func isUnit(r rune) bool {
	return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || strings.ContainsRune("Ω\u2126µ\u03bc%", r)
}

// isSquare reports whether a 2 between two parts of a text is the square of mm2.
func isSquare(before, rest string) bool {
	next, _ := utf8.DecodeRuneInString(rest[1:])
	return strings.HasSuffix(strings.ToLower(before), "mm") && rest[0] == '2' && !isNumber(next)
}
