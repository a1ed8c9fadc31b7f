package quantity

// single settles a value that is no range.
func (p *parser) single(o *operand) *Error {
	if err := p.settle(o, nil); err != nil {
		return err
	}
	return p.check(o, false)
}

// span settles both sides of a range.
func (p *parser) span(low, high *operand) *Error {
	var before *operand
	if low.prefixed { // AWG 16 .. 18
		before = low
	}
	if err := p.settle(high, before); err != nil {
		return err
	}
	if err := p.settle(low, high); err != nil {
		return err
	}
	if err := p.check(low, true); err != nil {
		return err
	}
	if err := p.check(high, false); err != nil {
		return err
	}
	if low.si > high.si && !(low.isGauge && high.isGauge) {
		return p.falls(low, high)
	}
	return nil
}

// settle finds the SI value of o. A bare number takes the unit of beside, the other side
// of its range, if that has exactly one; 0 needs none, but for temperatures, whose scales
// differ about it.
func (p *parser) settle(o, beside *operand) *Error {
	switch {
	case o.bare() && beside != nil && beside.isGauge:
		return p.asGauge(o)
	case o.bareGauge:
		return p.noUnit(o.from, o.to)
	case o.isGauge:
		o.si = AWGArea(o.gauge)
		return nil
	}
	first := o.terms[0]
	switch {
	case len(o.terms) == 2:
		o.si = first.plus(o.terms[1].number, first.unit.per).in(first.unit.part)
	case first.unit != nil:
		o.si = first.in(first.unit)
	case p.kind == KindCount:
		o.si = first.value()
	case beside != nil && len(beside.terms) == 1 && !beside.bare():
		o.si = first.in(beside.terms[0].unit)
	case first.num == 0 && p.kind != KindTemperature:
		o.si = 0
	case beside != nil && len(beside.terms) == 2:
		return p.which(o, beside)
	default:
		return p.noUnit(o.from, o.to)
	}
	if o.si == 0 {
		o.si = 0 // -0 °C is 0 °C
	}
	return nil
}

// check holds o against the bounds of the kind. Begins says that it begins a range.
func (p *parser) check(o *operand, begins bool) *Error {
	b := p.kind.Bounds()
	switch {
	case o.si == 0 && (b.zero == zeroFine || b.zero == zeroLow && begins):
		return nil
	case !(o.si <= b.Max):
		return p.bound(o, "over the bound, "+b.MaxText)
	case b.Min >= 0 && o.si <= 0:
		return p.tooSmall(o.from, o.to)
	case o.si < b.Min:
		return p.bound(o, "under the bound, "+b.MinText)
	}
	return nil
}

func (p *parser) bound(o *operand, message string) *Error {
	b := p.kind.Bounds()
	err := p.fail(o.from, o.to, message)
	err.Expected = b.MinText + " .. " + b.MaxText
	return err
}
