package quantity

import (
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"
)

// DecimalPattern fits what ParseDecimal reads, but for its bound and blanks round it.
const DecimalPattern = `(?:0|[1-9][0-9]*)(?:\.[0-9]+)?`

var plainDecimal = regexp.MustCompile("^" + DecimalPattern + "$")

// ParseDecimal reads a plain number from 0 to high, both included. It is for prices, which have
// no unit of ours and are never a range.
func ParseDecimal(text string, high int) (float64, *Error) {
	digits := strings.Trim(text, " \t")
	fail := func(message string) (float64, *Error) {
		return 0, &Error{
			Width: utf8.RuneCountInString(text), Message: message,
			Expected: "a plain number such as 18.50, 0 to " + strconv.Itoa(high),
		}
	}
	switch {
	case digits == "":
		return fail("no value; a plain number")
	case strings.HasPrefix(digits, "-") && plainDecimal.MatchString(digits[1:]):
		return fail("under the bound, 0")
	case !plainDecimal.MatchString(digits):
		return fail("a plain number, with no word or sign for the money")
	}
	v, err := strconv.ParseFloat(digits, 64)
	if err != nil || v > float64(high) {
		return fail("over the bound, " + strconv.Itoa(high))
	}
	return v, nil
}
