package quantity

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// ParseInt reads a whole number in plain digits from low to high, both included. It is
// for counts, which are never a range and never `unknown`.
func ParseInt(text string, low, high int) (int, *Error) {
	digits := strings.Trim(text, " \t")
	width := utf8.RuneCountInString(text)
	fail := func(message string) (int, *Error) {
		return 0, &Error{
			Width: width, Message: message,
			Expected: "a whole number, " + strconv.Itoa(low) + " to " + strconv.Itoa(high),
		}
	}
	if digits == "" {
		return fail("no value; a whole number")
	}
	if strings.Trim(digits, "0123456789") != "" {
		return fail("a whole number, in plain digits")
	}
	if plain := strings.TrimLeft(digits, "0"); len(digits) > 1 && plain != digits {
		if plain == "" {
			plain = "0"
		}
		if len(plain) > longestHint {
			return fail("a leading zero")
		}
		return fail("a leading zero; write " + plain)
	}
	n, err := strconv.Atoi(digits)
	switch {
	case err != nil || n > high:
		return fail("over the bound, " + strconv.Itoa(high))
	case n < low:
		return fail("under the bound, " + strconv.Itoa(low))
	}
	return n, nil
}
