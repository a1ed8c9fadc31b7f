package source

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxMarks is how many combining marks may follow one another before the rest are
// shown escaped, so that a stack of them cannot run into the lines above and below.
const maxMarks = 3

// Safe returns s fit for one line of a terminal: control characters, escape sequences,
// direction and zero-width marks, unusual blanks and bytes that are no UTF-8 are shown
// escaped (\x1b, \u202e); everything that can be seen stays. Safe(Safe(s)) is Safe(s).
func Safe(s string) string {
	if plainASCII(s) {
		return s
	}
	var b strings.Builder
	marks := 0
	for len(s) > 0 {
		r, n := utf8.DecodeRuneInString(s)
		marks = countMarks(r, marks)
		b.WriteString(visible(r, s[:n], marks))
		s = s[n:]
	}
	return b.String()
}

func plainASCII(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

func countMarks(r rune, marks int) int {
	if r >= 0x300 && unicode.In(r, unicode.Mn, unicode.Me) {
		return marks + 1
	}
	return 0
}

// visible is what stands for r, whose bytes are raw, behind marks-1 combining marks.
func visible(r rune, raw string, marks int) string {
	switch {
	case r == utf8.RuneError && len(raw) == 1:
		return `\x` + hex(rune(raw[0]), 2)
	case r == '\t':
		return `\t`
	case r == '\n':
		return `\n`
	case r == '\r':
		return `\r`
	case unicode.IsPrint(r) && !looksEmpty(r) && marks <= maxMarks:
		return raw
	case r < 0x80:
		return `\x` + hex(r, 2)
	case r > 0xffff:
		return `\U` + hex(r, 8)
	}
	return `\u` + hex(r, 4)
}

// looksEmpty reports whether r counts as a letter or sign but draws nothing.
func looksEmpty(r rune) bool {
	switch r {
	case 0x034f, 0x115f, 0x1160, 0x17b4, 0x17b5, 0x2800, 0x3164, 0xffa0:
		return true
	}
	return false
}

func hex(r rune, digits int) string {
	s := strconv.FormatInt(int64(r), 16)
	return strings.Repeat("0", max(0, digits-len(s))) + s
}
