package quantity

// term is a number and its unit; unit is nil when none was typed. The unit's text stands
// at [number.to, to), with the blanks before it.
type term struct {
	number
	unit *unit
	to   int
}

// operand is one side of a range, or a value that is no range: one term, or two when
// inches follow feet; or a wire's AWG size. Its text stands at [from, to); si is its
// value once the whole text has been read.
type operand struct {
	terms     []term
	isGauge   bool
	gauge     int
	prefixed  bool // AWG stood before the size
	bareGauge bool // 1/0 without AWG
	si        float64
	from, to  int
}

// operand reads one term, or two when the first unit has parts; or an AWG size.
func (p *parser) operand() (*operand, *Error) {
	if p.kind == KindWire {
		if o, err := p.gaugeOperand(); o != nil || err != nil {
			return o, err
		}
	}
	from := p.i
	first, err := p.term()
	if err != nil {
		return nil, err
	}
	o := &operand{terms: []term{first}, from: from, to: first.to}
	if first.unit == nil || first.unit.part == nil {
		return o, nil
	}
	p.blanks()
	hyphen := p.i
	dashed := isHyphen(p.at(p.i))
	if dashed {
		p.i++
		p.blanks()
	}
	if !isDigit(p.at(p.i)) && !isVulgar(p.at(p.i)) {
		p.i = first.to
		return o, nil
	}
	second, err := p.term()
	switch {
	case err != nil:
		return nil, err
	case dashed && second.unit != first.unit.part:
		return nil, p.dots(hyphen, hyphen+1)
	}
	o.terms, o.to = append(o.terms, second), second.to
	return o, p.fits(first, second)
}

// term reads a number and, if one follows, its unit.
func (p *parser) term() (term, *Error) {
	n, err := p.number()
	if err != nil {
		return term{}, err
	}
	t := term{number: n, to: n.to}
	p.blanks()
	if p.done() || p.atDots() {
		p.i = n.to
		return t, nil
	}
	if t.unit = p.unit(); t.unit == nil {
		return t, p.strange()
	}
	t.to = p.i
	return t, nil
}

// unit takes a unit of the kind; nil, without moving, when there is none. The dot of an
// abbreviation goes with it, but not the two of a range.
func (p *parser) unit() *unit {
	for _, s := range p.kind.spellings() {
		if !p.word(s.text, s.anyCase) {
			continue
		}
		if s.unit.dot && p.at(p.i) == '.' && (p.at(p.i+1) != '.' || p.at(p.i+2) == '.') {
			p.i++
		}
		return s.unit
	}
	return nil
}

// fits checks the second term of an operand: the 6 in of 12 ft 6 in.
func (p *parser) fits(first, second term) *Error {
	switch {
	case second.unit == nil:
		return p.noUnit(second.from, second.number.to)
	case second.unit != first.unit.part:
		return p.fail(second.from, second.to, "two measures; a range is typed with two dots")
	case !first.whole:
		return p.fail(first.from, first.to, first.unit.many+" before "+second.unit.many+" are a whole number")
	case second.value() >= first.unit.per:
		return p.fail(second.from, second.to, second.unit.many+" after "+first.unit.many+" are less than "+
			plain(first.unit.per)+p.carry(first, second))
	}
	return nil
}

// unitText is the unit of t as typed, with the blanks before it.
func (p *parser) unitText(t term) string { return string(p.r[t.number.to:t.to]) }

// bare reports whether o is a number without a unit.
func (o *operand) bare() bool {
	return o.bareGauge || len(o.terms) == 1 && o.terms[0].unit == nil
}
