package quantity

import (
	"math"
	"strconv"
	"strings"
)

// The AWG sizes a layout may name. 0 is also typed 1/0; 2/0 to 4/0 count on downwards.
const (
	ThickestAWG = -3 // 4/0
	ThinnestAWG = 40
)

// AWGDiameter is the diameter in metres of a solid wire of AWG size n:
// 0.127 mm x 92^((36-n)/39), the defining formula of ASTM B258 (from memory).
func AWGDiameter(n int) float64 {
	return 0.127e-3 * math.Pow(92, float64(36-n)/39)
}

// AWGArea is the cross-section in square metres of a solid wire of AWG size n.
func AWGArea(n int) float64 {
	d := AWGDiameter(n)
	return math.Pi / 4 * d * d
}

// NearestAWG is the AWG size nearest to a cross-section in square metres, by ratio, of those a layout may name.
func NearestAWG(area float64) int {
	n := 36 - 39*math.Log(math.Sqrt(4*area/math.Pi)/0.127e-3)/math.Log(92)
	return int(math.Round(min(ThinnestAWG, max(ThickestAWG, n))))
}

// AWGName is how AWG size n is written: "14 AWG", "2/0 AWG".
func AWGName(n int) string {
	if n <= 0 {
		return strconv.Itoa(1-n) + "/0 AWG"
	}
	return strconv.Itoa(n) + " AWG"
}

var awg = []rune("awg")

// gaugeOperand reads 14 AWG, AWG 14, AWG14, 1/0 AWG; or 1/0 alone, which can only be
// meant as AWG. It gives nil, without moving, when none of these is there.
func (p *parser) gaugeOperand() (*operand, *Error) {
	o := &operand{isGauge: true, from: p.i}
	o.prefixed = p.word(awg, true)
	if o.prefixed {
		p.blanks()
	}
	from := p.i
	size := p.sizeText()
	o.to = p.i
	named := o.prefixed
	if !named && size != "" {
		p.blanks()
		if named = p.word(awg, true); named {
			o.to = p.i
		}
	}
	if !named && !strings.Contains(size, "/") {
		p.i = o.from
		return nil, nil
	}
	p.i = o.to
	o.bareGauge = !named
	var err *Error
	o.gauge, err = p.size(size, from)
	return o, err
}

// sizeText takes the text of a size: digits, or digits and "/0".
func (p *parser) sizeText() string {
	from := p.i
	p.digits()
	if p.i > from && isSlash(p.at(p.i)) && p.at(p.i+1) == '0' && !isDigit(p.at(p.i+2)) {
		p.i += 2
		return string(p.r[from:p.i-2]) + "/0"
	}
	return string(p.r[from:p.i])
}

// size is the number of a size typed at from.
func (p *parser) size(text string, from int) (int, *Error) {
	to := from + len(text)
	if text == "" || p.at(to) == '.' && isDigit(p.at(to+1)) {
		return 0, p.noSize(from, p.token(from))
	}
	if above, zero := strings.CutSuffix(text, "/0"); zero {
		n, err := strconv.Atoi(above)
		if err != nil || n < 1 || n > 1-ThickestAWG || len(above) > 1 {
			return 0, p.noSize(from, to)
		}
		return 1 - n, nil
	}
	if zeros := len(text); zeros > 1 && zeros <= 1-ThickestAWG && strings.Trim(text, "0") == "" {
		return 0, p.fail(from, to, "a leading zero"+p.write(from, to, strconv.Itoa(zeros)+"/0"))
	}
	if err := p.leadingZero(from, text); err != nil {
		return 0, err
	}
	n, err := strconv.Atoi(text)
	if err != nil || n > ThinnestAWG {
		return 0, p.noSize(from, to)
	}
	return n, nil
}

func (p *parser) noSize(from, to int) *Error {
	return p.fail(from, to, "AWG sizes are 4/0, 3/0, 2/0, 1/0 and 1 to 40")
}

// asGauge makes a bare number beside an AWG size a size itself: 16 .. 18 AWG.
func (p *parser) asGauge(o *operand) *Error {
	if !o.isGauge {
		if !o.terms[0].whole {
			return p.noSize(o.from, o.to)
		}
		n, err := p.size(string(p.r[o.from:o.to]), o.from)
		if err != nil {
			return err
		}
		o.isGauge, o.gauge = true, n
	}
	o.si = AWGArea(o.gauge)
	return nil
}
