package quantity

import (
	"regexp"
	"slices"
	"strings"
)

// Pattern is a regular expression, without anchors, for how values of kind k are typed;
// `unknown` is left to the caller. It keeps to what Go and the schemas of other programs
// read alike. All that Parse takes fits it; of the rest it lets pass only what is wrong
// by its size: a value out of bounds, a range that falls, 14 in behind feet.
func (k Kind) Pattern() string {
	low, value := k.SidePatterns()
	pattern := either(low+patternDots) + "?" + value
	if k == KindWire {
		pattern = either(pattern, patternAWG+patternBlanks+patternSize+patternDots+patternSize)
	}
	return either(pattern)
}

// TakesZero reports whether a value of kind k may be a 0 without a unit.
func (k Kind) TakesZero() bool { return k.Bounds().zero == zeroFine && k != KindTemperature }

const (
	patternBlanks = `[ \t]*`
	patternDots   = patternBlanks + `\.\.` + patternBlanks
	patternWhole  = `(?:0|[1-9][0-9]*)`
	patternAWG    = `[aA][wW][gG]`
)

var (
	patternHyphen = class(isHyphen)
	patternSlash  = class(isSlash)
	patternVulgar = class(isVulgar)
	patternOver   = patternSlash + `[1-9][0-9]*`
	patternSize   = either(`[1-4]`+patternSlash+`0`, `0`, `[1-9][0-9]?`)
	patternNumber = either(
		patternWhole+either(
			`\.[0-9]+`,
			either(patternHyphen, patternBlanks)+patternVulgar,
			either(patternHyphen, `[ \t]+`)+patternWhole+patternOver,
			patternOver,
		)+`?`,
		patternVulgar,
	)
	patternZero = `0` + either(`\.0+`, either(either(patternHyphen, `[ \t]+`)+`0`)+`?`+patternOver) + `?`
)

// SidePatterns are as Pattern: what may stand before the dots of a range, where a bare
// number takes the unit behind them, and what behind the dots or alone.
func (k Kind) SidePatterns() (low, value string) {
	number := patternNumber
	if k.Bounds().Min < 0 {
		number = patternHyphen + "?" + number
	}
	if k == KindCount {
		return number, number
	}
	var all, pairs []string
	for _, u := range k.units() {
		one := k.unitPattern(u)
		all = append(all, one)
		if u.part != nil {
			between := patternBlanks + patternHyphen + "?" + patternBlanks
			pairs = append(pairs, patternWhole+patternBlanks+one+between+number+patternBlanks+k.unitPattern(u.part))
		}
	}
	unit := patternBlanks + either(all...)
	lows := append([]string{number + either(unit) + "?"}, pairs...)
	values := append([]string{number + unit}, pairs...)
	if k == KindWire {
		gauge := either(patternAWG+patternBlanks+patternSize, patternSize+patternBlanks+patternAWG)
		lows = append(lows, gauge, patternSize)
		values = append(values, gauge)
	}
	if k.TakesZero() {
		values = append(values, patternZero)
	}
	return either(lows...), either(values...)
}

// units of k, each once, in the order of its spellings.
func (k Kind) units() []*unit {
	var us []*unit
	for _, s := range k.spellings() {
		if !slices.Contains(us, s.unit) {
			us = append(us, s.unit)
		}
	}
	return us
}

// unitPattern is every spelling of one unit of k.
func (k Kind) unitPattern(u *unit) string {
	var texts []string
	all := k.spellings()
	for _, s := range all {
		many := slices.ContainsFunc(all, func(p spelling) bool { return p.isManyOf(&s) })
		one := slices.ContainsFunc(all, func(p spelling) bool { return s.isManyOf(&p) })
		switch {
		case s.unit != u || one:
		case many && s.anyCase:
			texts = append(texts, s.pattern()+"[sS]?")
		case many:
			texts = append(texts, s.pattern()+"s?")
		default:
			texts = append(texts, s.pattern())
		}
	}
	if u.dot {
		return either(texts...) + `\.?`
	}
	return either(texts...)
}

// isManyOf reports whether s is one with an s behind it.
func (s *spelling) isManyOf(one *spelling) bool {
	return s.unit == one.unit && s.anyCase == one.anyCase && string(s.text) == string(one.text)+"s"
}

func (s *spelling) pattern() string {
	var b strings.Builder
	for _, r := range s.text {
		switch {
		case r == ' ':
			b.WriteString(`[ \t]+`)
		case s.anyCase && r >= 'a' && r <= 'z':
			b.WriteString("[" + string(r) + string(r-'a'+'A') + "]")
		default:
			b.WriteString(regexp.QuoteMeta(string(r)))
		}
	}
	return b.String()
}

// either is a group of alternatives.
func either(texts ...string) string { return "(?:" + strings.Join(texts, "|") + ")" }

// lastMark is behind every dash, slash and fraction that the language knows.
const lastMark = '\u3000'

// class is the characters that is accepts.
func class(is func(rune) bool) string {
	var b strings.Builder
	for r := ' '; r < lastMark; r++ {
		switch {
		case !is(r):
		case r == '-':
			b.WriteString(`\-`)
		default:
			b.WriteRune(r)
		}
	}
	return "[" + b.String() + "]"
}
