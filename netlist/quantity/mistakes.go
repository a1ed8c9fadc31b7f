package quantity

import (
	"strings"
	"unicode"
)

// longestHint is the longest text, in characters, that a message offers to write.
const longestHint = 40

// fail is an error at characters [from, to) of the text.
func (p *parser) fail(from, to int, message string) *Error {
	from = min(from, len(p.r))
	to = max(from, min(to, len(p.r)))
	s := p.kind.speech()
	return &Error{
		Offset: from, Width: to - from, Message: message,
		Expected: s.noun + ", such as " + s.example + ", or `unknown`",
	}
}

// write is the tail of a message that offers the text with [from, to) replaced; empty
// when that would be long.
func (p *parser) write(from, to int, with string) string {
	if hint := p.replaced(from, to, with); hint != "" {
		return "; write " + hint
	}
	return ""
}

// replaced is the text with [from, to) replaced, its blanks made single; empty when long
// or not fit to be seen.
func (p *parser) replaced(from, to int, with string) string {
	if len(p.r)-(to-from)+len(with) > longestHint {
		return ""
	}
	text := strings.Join(strings.Fields(string(p.r[:from])+with+string(p.r[to:])), " ")
	if strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }) {
		return ""
	}
	return text
}

// noUnit is the message for a missing or foreign unit.
func (p *parser) noUnit(from, to int) *Error {
	if p.kind == KindWire && strings.EqualFold(string(p.r[from:to]), "awg") {
		return p.noSize(from, to)
	}
	s := p.kind.speech()
	return p.fail(from, to, s.noun+" "+s.is)
}

// tooSmall is the message for 0 and below.
func (p *parser) tooSmall(from, to int) *Error {
	noun := p.kind.speech().noun
	if p.kind.Bounds().zero == zeroFine {
		return p.fail(from, to, noun+" is 0 or more")
	}
	return p.fail(from, to, noun+" is more than 0")
}

// noNumber is the message where a number should start.
func (p *parser) noNumber(from int) *Error {
	to := p.token(from)
	switch word := strings.ToLower(string(p.r[from:min(to, from+longestHint)])); word {
	case "":
		return p.fail(from, from+2, "a number is missing")
	case "unknown", "null", "nil", "none", "~", "?", "??", "n/a", "na", "tbd":
		if to-from < len(strings.Trim(string(p.r), " \t")) {
			return p.fail(from, to, "unknown stands alone")
		}
		return p.fail(from, to, "write unknown")
	}
	if p.at(from) == '.' && isDigit(p.at(from+1)) {
		return p.fail(from, to, "a number starts with a digit"+p.write(from, from, "0"))
	}
	return p.fail(from, to, p.kind.speech().noun+" starts with a number")
}

// strange is the message for what stands where a unit should.
func (p *parser) strange() *Error {
	from, to := p.i, p.token(p.i)
	switch {
	case isHyphen(p.at(from)):
		return p.dots(from, from+1)
	case isSlash(p.at(from)):
		return p.fail(from, from+1, "a fraction is typed without blanks, such as 1/2")
	case strings.EqualFold(string(p.r[from:min(to, from+3)]), "to"):
		return p.dots(from, from+2)
	}
	return p.noUnit(from, to)
}

// leftOver is the message for what stands behind a complete value.
func (p *parser) leftOver() *Error {
	from, to := p.i, p.token(p.i)
	switch {
	case p.atDots():
		return p.fail(from, from+2, "a range has two ends")
	case isHyphen(p.at(from)):
		return p.dots(from, from+1)
	case strings.EqualFold(string(p.r[from:min(to, from+3)]), "to"):
		return p.dots(from, from+2)
	}
	return p.fail(from, to, "the value ends before this")
}

// comma tells how to write a number in which a comma was typed: 3,8 is 3.8, but 1,200
// may be either.
func (p *parser) comma(at int) *Error {
	if !isDigit(p.at(at-1)) || !isDigit(p.at(at+1)) {
		return p.fail(at, at+1, "a comma splits"+p.write(at, at+1, " "))
	}
	group := p.cursor
	group.i = at + 1
	digits := len(group.digits())
	point := p.replaced(at, at+1, ".")
	switch {
	case point == "" || strings.ContainsRune(point, ','):
		return p.fail(at, at+1, "a comma splits")
	case digits == 3:
		return p.fail(at, at+1, "a comma splits; write "+p.replaced(at, at+1, "")+" or "+point)
	}
	return p.fail(at, at+1, "a comma splits; write "+point)
}

// dots is the message for a range typed in another way.
func (p *parser) dots(from, to int) *Error {
	message := "a range is typed with two dots"
	if hint := p.replaced(from, to, " .. "); hint != "" {
		message += "; " + hint + "?"
	}
	return p.fail(from, to, message)
}

// falls is the message for a range typed from the larger value to the smaller.
func (p *parser) falls(low, high *operand) *Error {
	message := "a range rises"
	if high.to-low.from <= longestHint {
		left, right := string(p.r[high.from:high.to]), string(p.r[low.from:low.to])
		if low.bare() {
			unit := p.unitText(high.terms[0])
			left, right = strings.TrimSuffix(left, unit), right+unit
		}
		message += "; " + left + " .. " + right + "?"
	}
	return p.fail(low.from, high.to, message)
}

// which asks for the unit of a bare number before a measure with two units.
func (p *parser) which(low, high *operand) *Error {
	message := "the first value has no unit"
	if hint := p.replaced(low.to, low.to, " "+strings.TrimLeft(p.unitText(high.terms[0]), " \t")); hint != "" {
		message += "; " + hint + "?"
	}
	return p.fail(low.from, low.to, message)
}

// carry turns 3 ft 14 in into 4 ft 2 in, for a hint; empty when the inches are no whole
// number or the numbers are absurd.
func (p *parser) carry(first, second term) string {
	const absurd = 1e6
	if !second.whole || first.num > absurd || second.num > absurd {
		return ""
	}
	per := first.unit.per
	more := float64(int(second.num / per))
	hint := plain(first.num+more) + p.unitText(first)
	if left := second.num - more*per; left > 0 {
		hint += " " + plain(left) + p.unitText(second)
	}
	return "; " + strings.Join(strings.Fields(hint), " ") + "?"
}
