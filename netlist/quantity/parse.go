package quantity

import (
	"strings"
	"unicode"

	"gapwise/netlist/source"
)

// parser reads one value of one kind.
type parser struct {
	cursor
	kind Kind
}

// Parse reads text as a value of kind k in SI units (degrees, percent, °C and square
// metres where the kind says so). The offsets of an Error count characters of text. It
// takes time in proportion to the text.
func Parse(k Kind, text string, pos source.Pos) (Value, *Error) {
	w, err := parse(k, text, pos)
	return w.Value, err
}

// parse reads a value of any kind; the gauge is that of a wire typed as one AWG size.
func parse(k Kind, text string, pos source.Pos) (Wire, *Error) {
	w := Wire{Value: Value{Text: text, Pos: pos}}
	p := parser{cursor: cursor{r: []rune(text)}, kind: k}
	switch strings.Trim(text, " \t") {
	case "":
		return w, p.fail(0, len(p.r), "no value; "+k.speech().noun+" or `unknown`")
	case "unknown":
		w.State = Unknown
		return w, nil
	}
	low, high, err := p.value()
	if err != nil {
		return w, err
	}
	w.Lo, w.Hi, w.State = min(low.si, high.si), max(low.si, high.si), Known
	if low.isGauge && high.isGauge && low.gauge == high.gauge {
		w.Gauge, w.HasGauge = low.gauge, true
	}
	return w, nil
}

// value reads a number or a range; low and high are one operand when it is no range.
func (p *parser) value() (low, high *operand, err *Error) {
	if err := p.foreign(); err != nil {
		return nil, nil, err
	}
	p.blanks()
	if low, err = p.operand(); err != nil {
		return nil, nil, err
	}
	if high, err = p.second(); err != nil {
		return nil, nil, err
	}
	if high == nil {
		return low, low, p.single(low)
	}
	return low, high, p.span(low, high)
}

// foreign refuses the marks that have no place in any value, wherever they stand.
func (p *parser) foreign() *Error {
	for i, r := range p.r {
		switch {
		case r == ',':
			return p.comma(i)
		case r == '…' || r == '‥' || r == '±':
			return p.dots(i, i+1)
		case !isBlank(r) && !unicode.IsPrint(r):
			return p.fail(i, i+1, "an unusual blank or a character that cannot be seen")
		}
	}
	return nil
}

// second reads what follows the first operand: ".." and another one, or nothing, which
// gives nil.
func (p *parser) second() (*operand, *Error) {
	p.blanks()
	if p.done() {
		return nil, nil
	}
	if !p.atDots() {
		return nil, p.leftOver()
	}
	from := p.i
	p.i += 2
	if p.at(p.i) == '.' {
		for p.at(p.i) == '.' {
			p.i++
		}
		return nil, p.dots(from, p.i)
	}
	p.blanks()
	if p.done() {
		return nil, p.fail(from, p.i, "a range needs a second value")
	}
	high, err := p.operand()
	if err != nil {
		return nil, err
	}
	p.blanks()
	if !p.done() {
		return nil, p.leftOver()
	}
	return high, nil
}
