package quantity

import "unicode"

// cursor walks over the characters of one text. Reading past the end gives 0.
type cursor struct {
	r []rune
	i int
}

func (c *cursor) at(i int) rune {
	if i < 0 || i >= len(c.r) {
		return 0
	}
	return c.r[i]
}

func (c *cursor) done() bool { return c.i >= len(c.r) }

func (c *cursor) blanks() {
	for isBlank(c.at(c.i)) {
		c.i++
	}
}

// digits takes a run of digits and returns it.
func (c *cursor) digits() string {
	from := c.i
	for isDigit(c.at(c.i)) {
		c.i++
	}
	return string(c.r[from:c.i])
}

// word takes text, in any case if anyCase, and reports whether it stood there as a
// word of its own. On a miss it stays where it was.
func (c *cursor) word(text []rune, anyCase bool) bool {
	start := c.i
	for _, want := range text {
		got := c.at(c.i)
		switch {
		case want == ' ' && isBlank(got):
			c.blanks()
			continue
		case got == want:
		case anyCase && got >= 'A' && got <= 'Z' && got+'a'-'A' == want:
		default:
			c.i = start
			return false
		}
		c.i++
	}
	if wordy(text[len(text)-1]) && wordy(c.at(c.i)) {
		c.i = start
		return false
	}
	return true
}

// token is the end of the run of characters from i that holds no blank and no "..".
func (c *cursor) token(i int) int {
	for i < len(c.r) && !isBlank(c.r[i]) && !(c.r[i] == '.' && c.at(i+1) == '.') {
		i++
	}
	return i
}

// atDots reports whether the dots of a range stand here.
func (c *cursor) atDots() bool { return c.at(c.i) == '.' && c.at(c.i+1) == '.' }

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

func isBlank(r rune) bool { return r == ' ' || r == '\t' }

// isHyphen knows the dashes that text programs put where a hyphen was typed.
func isHyphen(r rune) bool {
	switch r {
	case '-', '\u2010', '\u2011', '\u2012', '\u2013', '\u2014', '\u2212':
		return true
	}
	return false
}

// isSlash knows the slashes of typed fractions.
func isSlash(r rune) bool { return r == '/' || r == '\u2044' || r == '\u2215' }

// wordy characters may not follow a unit that ends in one: "mm" is not the start of
// "mmx", but "ft" ends before a digit, as in 5ft6in.
func wordy(r rune) bool { return unicode.IsLetter(r) || r == '²' || r == '³' || r == '^' }
