package quantity

import "strings"

// LendUnit gives left the unit of right, as every range does, for the two ends of a
// stretch or a row, which are read one by one because they may fall: "35" before "3 ft"
// becomes "35 ft". It leaves left alone unless it is a bare length other than 0 and right
// is a length with exactly one unit.
func LendUnit(left, right string) string {
	l := parser{cursor: cursor{r: []rune(left)}, kind: KindPosition}
	l.blanks()
	n, err := l.number()
	l.blanks()
	if err != nil || !l.done() || n.num == 0 {
		return left
	}
	r := parser{cursor: cursor{r: []rune(right)}, kind: KindPosition}
	r.blanks()
	o, err := r.operand()
	if err != nil {
		return left
	}
	r.blanks()
	if !r.done() || o.bare() || len(o.terms) != 1 {
		return left
	}
	return strings.TrimRight(left, " \t") + r.unitText(o.terms[0])
}
