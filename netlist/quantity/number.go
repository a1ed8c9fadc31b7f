package quantity

import (
	"math"
	"strconv"
	"strings"
)

// number is a typed number, num/den, at characters [from, to) of the text.
type number struct {
	num, den float64
	whole    bool // typed with digits alone
	from, to int
}

func (n number) value() float64 { return n.num / n.den }

// in is n in SI when it counts u.
func (n number) in(u *unit) float64 {
	return (n.num - u.offset*n.den) * u.mul / (n.den * u.div)
}

// plus is n of a unit and m of its part, in parts: 12 ft and 6 1/2 in as inches.
func (n number) plus(m number, per float64) number {
	return number{
		num: n.num*per*m.den + m.num*n.den, den: n.den * m.den,
		from: n.from, to: m.to,
	}
}

// vulgar is a fraction in one character.
func vulgar(r rune) (num, den float64) {
	switch r {
	case '½':
		return 1, 2
	case '⅓':
		return 1, 3
	case '⅔':
		return 2, 3
	case '¼':
		return 1, 4
	case '¾':
		return 3, 4
	case '⅕':
		return 1, 5
	case '⅖':
		return 2, 5
	case '⅗':
		return 3, 5
	case '⅘':
		return 4, 5
	case '⅙':
		return 1, 6
	case '⅚':
		return 5, 6
	case '⅐':
		return 1, 7
	case '⅛':
		return 1, 8
	case '⅜':
		return 3, 8
	case '⅝':
		return 5, 8
	case '⅞':
		return 7, 8
	case '⅑':
		return 1, 9
	case '⅒':
		return 1, 10
	}
	return 0, 0
}

func isVulgar(r rune) bool {
	_, den := vulgar(r)
	return den != 0
}

// exactDigits is how many digits a float holds without loss.
const exactDigits = 15

// decimal is whole.part as a number. Up to 15 digits both its halves are exact.
func decimal(whole, part string) (num, den float64) {
	if len(whole)+len(part) <= exactDigits {
		n, _ := strconv.ParseInt(whole+part, 10, 64)
		return float64(n), math.Pow10(len(part))
	}
	v, _ := strconv.ParseFloat(whole+"."+part+"0", 64)
	return v, 1
}

// number reads a number: 12, 0.5, 6 1/2, 6-1/2, 1/2, 6½, ½.
func (p *parser) number() (number, *Error) {
	n := number{den: 1, from: p.i}
	if err := p.sign(); err != nil {
		return n, err
	}
	negative := p.i > n.from
	var err *Error
	switch {
	case isVulgar(p.at(p.i)):
		n.num, n.den = vulgar(p.at(p.i))
		p.i++
	case isDigit(p.at(p.i)):
		err = p.digitsNumber(&n)
	default:
		err = p.noNumber(n.from)
	}
	if negative {
		n.num = -n.num
	}
	n.to = p.i
	return n, err
}

// digitsNumber reads a number that starts with a digit.
func (p *parser) digitsNumber(n *number) *Error {
	from := p.i
	if isSlashAfterDigits(&p.cursor) {
		return p.fraction(n)
	}
	whole := p.digits()
	if err := p.leadingZero(from, whole); err != nil {
		return err
	}
	n.num, n.den = decimal(whole, "")
	n.whole = true
	switch next := p.at(p.i); {
	case next == '.' && isDigit(p.at(p.i+1)):
		n.whole = false
		p.i++
		n.num, n.den = decimal(whole, p.digits())
		if p.at(p.i) == '.' && isDigit(p.at(p.i+1)) {
			return p.fail(from, p.token(from), "two dots in one number")
		}
		return p.odd(from)
	case next == '.' && p.at(p.i+1) != '.':
		return p.fail(from, p.i+1, "a dot with no digit behind it"+p.write(from, p.i+1, whole))
	}
	if err := p.odd(from); err != nil {
		return err
	}
	return p.mixed(n)
}

// isSlashAfterDigits looks past the digits at c for a slash with a digit behind it.
func isSlashAfterDigits(c *cursor) bool {
	j := c.i
	for isDigit(c.at(j)) {
		j++
	}
	return j > c.i && isSlash(c.at(j)) && isDigit(c.at(j+1))
}

// fraction reads 1/2.
func (p *parser) fraction(n *number) *Error {
	from := p.i
	above := p.digits()
	p.i++
	belowFrom := p.i
	below := p.digits()
	if strings.Trim(below, "0") == "" {
		return p.fail(from, p.i, "a fraction over 0")
	}
	if err := p.leadingZero(from, above); err != nil {
		return err
	}
	if err := p.leadingZero(belowFrom, below); err != nil {
		return err
	}
	if next := p.at(p.i); isSlash(next) || next == '.' && isDigit(p.at(p.i+1)) {
		return p.fail(from, p.token(from), "a fraction is two whole numbers and one slash")
	}
	a, _ := decimal(above, "")
	b, _ := decimal(below, "")
	n.num, n.den = n.num*b+a, n.den*b
	return p.odd(from)
}

// mixed reads the fraction behind a whole number, if there is one.
func (p *parser) mixed(n *number) *Error {
	back := p.i
	if isHyphen(p.at(p.i)) {
		p.i++
	} else {
		p.blanks()
	}
	gap := p.i > back
	switch next := p.at(p.i); {
	case isVulgar(next):
		a, b := vulgar(next)
		n.num, n.den = n.num*b+a, b
		n.whole = false
		p.i++
		return nil
	case gap && isSlashAfterDigits(&p.cursor):
		from, base := p.i, n.num
		n.whole = false
		if err := p.fraction(n); err != nil {
			return err
		}
		if n.num >= (base+1)*n.den {
			return p.fail(from, p.i, "a fraction behind a whole number is under 1")
		}
		return nil
	case gap && isDigit(next) && isBlank(p.at(back)):
		return p.fail(n.from, p.token(p.i), "a blank splits a number"+p.write(back, p.i, ""))
	}
	p.i = back
	return nil
}

// sign lets a minus pass where the kind goes below zero, and refuses it elsewhere.
func (p *parser) sign() *Error {
	from := p.i
	r := p.at(from)
	if r != '+' && !isHyphen(r) {
		return nil
	}
	p.i++
	end := p.token(p.i)
	if !isDigit(p.at(p.i)) && !isVulgar(p.at(p.i)) {
		return p.noNumber(from)
	}
	if r == '+' {
		return p.fail(from, end, "a number has no plus sign"+p.write(from, from+1, ""))
	}
	if p.kind.Bounds().Min >= 0 {
		return p.tooSmall(from, end)
	}
	return nil
}

// leadingZero refuses 010, which some programs read as 8.
func (p *parser) leadingZero(from int, digits string) *Error {
	if len(digits) < 2 || digits[0] != '0' {
		return nil
	}
	rest := strings.TrimLeft(digits, "0")
	if rest == "" {
		rest = "0"
	}
	return p.fail(from, from+len(digits), "a leading zero"+p.write(from, from+len(digits), rest))
}

// odd refuses what other languages would read on behind a number.
func (p *parser) odd(from int) *Error {
	switch next, after := p.at(p.i), p.at(p.i+1); {
	case next == 'e' || next == 'E':
		digit := after
		if after == '+' || isHyphen(after) {
			digit = p.at(p.i + 2)
		}
		if isDigit(digit) {
			return p.fail(from, p.token(from), "a number has no exponent; write it out")
		}
	case (next == 'x' || next == 'X') && isHexDigit(after):
		return p.fail(from, p.token(from), "a number is typed in plain digits")
	case next == '_' && isDigit(after):
		return p.fail(from, p.token(from), "a number is typed in plain digits"+p.write(p.i, p.i+1, ""))
	}
	return nil
}

func isHexDigit(r rune) bool {
	return isDigit(r) || r >= 'a' && r <= 'f' || r >= 'A' && r <= 'F'
}
