package oracle

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// metres holds one unit of length each.
var metres = map[string]float64{
	"ft": 0.3048, "'": 0.3048, "′": 0.3048, "’": 0.3048,
	"in": 0.0254, `"`: 0.0254, "″": 0.0254, "”": 0.0254,
	"m": 1, "cm": 0.01, "mm": 0.001, "km": 1000,
}

var vulgar = map[rune]float64{'½': 1. / 2, '¼': 1. / 4, '¾': 3. / 4, '⅛': 1. / 8, '⅜': 3. / 8, '⅝': 5. / 8, '⅞': 7. / 8, '⅓': 1. / 3, '⅔': 2. / 3}

// term is one number and its unit, which may be empty.
type term struct {
	number float64
	unit   string
}

// scanTerms cuts "12 ft 6 1/2 in" into its terms.
func scanTerms(text string) ([]term, error) {
	var out []term
	rs := []rune(text)
	i := 0
	skip := func(more string) {
		for i < len(rs) && (unicode.IsSpace(rs[i]) || strings.ContainsRune(more, rs[i])) {
			i++
		}
	}
	digits := func() (float64, bool) {
		from := i
		for i < len(rs) && (unicode.IsDigit(rs[i]) || rs[i] == '.') {
			i++
		}
		v, err := strconv.ParseFloat(string(rs[from:i]), 64)
		return v, err == nil
	}
	for skip("-"); i < len(rs); skip("-") {
		var number float64
		seen := false
		for i < len(rs) {
			if f, ok := vulgar[rs[i]]; ok {
				number += f
				seen = true
				i++
				continue
			}
			at := i
			skip("")
			v, ok := digits()
			if !ok {
				i = at
				break
			}
			if i < len(rs) && rs[i] == '/' {
				i++
				d, ok := digits()
				if !ok || d == 0 {
					return nil, fmt.Errorf("%q is no quantity", text)
				}
				v /= d
			}
			number += v
			seen = true
		}
		if !seen {
			return nil, fmt.Errorf("%q is no quantity", text)
		}
		skip("")
		from := i
		for i < len(rs) && (unicode.IsLetter(rs[i]) || strings.ContainsRune(`'"′″’”`, rs[i])) {
			i++
			if !unicode.IsLetter(rs[i-1]) {
				break
			}
		}
		out = append(out, term{number, string(rs[from:i])})
	}
	return out, nil
}

func sum(terms []term, text string) (float64, error) {
	total := 0.0
	for _, t := range terms {
		m, ok := metres[t.unit]
		if !ok && t.number != 0 {
			return 0, fmt.Errorf("%q is no length", text)
		}
		total += t.number * m
	}
	return total, nil
}

// lengthRange reads "7 .. 9 ft" or "12 ft 6 in"; lo and hi are equal for the latter.
func lengthRange(text string) (lo, hi float64, err error) {
	left, right, ranged := strings.Cut(text, "..")
	ls, err := scanTerms(left)
	if err != nil || len(ls) == 0 {
		return 0, 0, fmt.Errorf("%q is no length", text)
	}
	if !ranged {
		lo, err = sum(ls, text)
		return lo, lo, err
	}
	rs, err := scanTerms(right)
	if err != nil || len(rs) == 0 {
		return 0, 0, fmt.Errorf("%q is no length", text)
	}
	if len(ls) == 1 && ls[0].unit == "" && len(rs) == 1 {
		ls[0].unit = rs[0].unit
	}
	if lo, err = sum(ls, text); err != nil {
		return 0, 0, err
	}
	hi, err = sum(rs, text)
	if err == nil && hi < lo {
		err = fmt.Errorf("%q does not rise", text)
	}
	return lo, hi, err
}

// degrees reads an angle in degrees.
func degrees(text string) (float64, error) {
	ts, err := scanTerms(text)
	if err != nil || len(ts) != 1 || (ts[0].unit != "deg" && ts[0].number != 0) {
		return 0, fmt.Errorf("%q is no angle", text)
	}
	return ts[0].number, nil
}
