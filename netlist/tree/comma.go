package tree

import (
	"bytes"
	"strings"
)

// numberComma deals with the comma at i of a plain text inside brackets. When it stands
// between digits it was meant as part of a number, not to part two entries: that is
// told, and true returned.
func (s *scanner) numberComma(start, i int) bool {
	if i == start || !isDigit(s.line[i-1]) || i+1 >= len(s.line) || !isDigit(s.line[i+1]) {
		return false
	}
	return !s.level().tight && s.tellNumber(start, i)
}

// commaInQuantity tells of commas in numbers of the plain text line[start:end] outside
// brackets, where the text is nothing but a quantity or a place.
func (s *scanner) commaInQuantity(start, end int) {
	text := s.line[start:end]
	comma := bytes.IndexByte(text, ',')
	if comma < 0 || len(text) > 100 || text[0] == '"' || text[0] == '\'' || !isQuantity(string(text)) {
		return
	}
	for i := start + comma; i < end; i++ {
		if s.line[i] == ',' && i > start && i+1 < end && isDigit(s.line[i-1]) && isDigit(s.line[i+1]) && !s.edited(i) {
			s.tellNumber(start, i)
		}
	}
}

func (s *scanner) edited(i int) bool {
	for _, e := range s.edits {
		if e.from == i {
			return true
		}
	}
	return false
}

// isQuantity reports whether text is made of numbers and short words of letters, as in
// 3,8 m or 7,5 .. 9 ft; a track's name with an @ may stand before it.
func isQuantity(text string) bool {
	if _, where, ok := strings.Cut(text, " @ "); ok {
		text = where
	}
	words := strings.Fields(text)
	for _, w := range words {
		number := strings.Trim(w, "0123456789,.½¼¾⅛⅜⅝⅞/'\"-")
		if number == w && len([]rune(w)) > 4 {
			return false
		}
	}
	return len(words) > 0 && isDigit(words[0][0])
}

// tellNumber tells of the number around the comma at i and mends it in the copy. It
// returns false when the commas make no number.
func (s *scanner) tellNumber(start, i int) bool {
	from, to := i, i
	for from > start && isNumberSign(s.line[from-1]) {
		from--
	}
	for to < len(s.line) && isNumberSign(s.line[to]) {
		to++
	}
	for to > from && !isDigit(s.line[to-1]) {
		to--
	}
	meant := meantNumbers(string(s.line[from:to]))
	if len(meant) == 0 {
		return false
	}
	unit := s.unitAfter(to)
	for n := range meant {
		meant[n] += unit
	}
	s.problem(from, to, "a comma splits; write "+strings.Join(meant, " or "))
	s.markBad(start)
	for k := from; k < to; k++ {
		if s.line[k] == ',' {
			s.replace(k, k+1, ".")
		}
	}
	return true
}

func isNumberSign(c byte) bool { return isDigit(c) || c == ',' || c == '.' }

// meantNumbers returns what a number with commas may have meant: with one comma a
// decimal one, with groups of three digits one in thousands, or both.
func meantNumbers(number string) []string {
	groups := strings.Split(number, ",")
	whole, _, point := strings.Cut(groups[len(groups)-1], ".")
	thousands := len(groups[0]) <= 3 && groups[0] != "0" && len(whole) == 3 && !strings.Contains(strings.Join(groups[:len(groups)-1], ""), ".")
	for _, g := range groups[1 : len(groups)-1] {
		thousands = thousands && len(g) == 3
	}
	var meant []string
	if thousands {
		meant = append(meant, strings.Join(groups, ""))
	}
	if len(groups) == 2 && !point && !strings.Contains(groups[0], ".") {
		meant = append(meant, groups[0]+"."+groups[1])
	}
	return meant
}

// unitAfter returns the unit behind a number that ends at i, with a blank before it.
func (s *scanner) unitAfter(i int) string {
	i = blanks(s.line, i)
	end := i
	for end < len(s.line) && s.line[end] != ' ' && s.line[end] != ':' && !isFlowSign(s.line[end]) && !isDigit(s.line[end]) && s.line[end] != '.' && s.line[end] != '#' && end-i < 12 {
		end++
	}
	if end == i || end-i >= 12 {
		return ""
	}
	return " " + string(s.line[i:end])
}
