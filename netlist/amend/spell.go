package amend

import (
	"math"
	"strconv"
	"strings"

	"gapwise/netlist/quantity"
)

const inch = 0.0254 // metres

// spelled writes a length, or range, to a millionth of an inch or of a millimetre, in the
// units in which a like one was typed.
func spelled(l quantity.Length, like string) string {
	write := feetAndInches
	if strings.Contains(strings.ReplaceAll(like, "from end", ""), "m") {
		write = metric
	}
	lo, hi := write(l.Lo), write(l.Hi)
	if lo == hi {
		return lo
	}
	return lo + " .. " + hi
}

func metric(metres float64) string {
	if metres >= 1 {
		return decimals(metres, 9) + " m"
	}
	return decimals(metres*100, 7) + " cm"
}

func feetAndInches(metres float64) string {
	inches := math.Round(metres/inch*1e6) / 1e6
	feet := math.Floor(inches / 12)
	rest := inches - 12*feet
	text := decimals(rest, 6)
	if n := math.Round(rest * 64); text != decimals(math.Round(rest), 6) && math.Abs(rest*64-n) < 1e-5 {
		text = fraction(int(n))
	}
	switch {
	case feet == 0:
		return text + " in"
	case text == "0":
		return decimals(feet, 0) + " ft"
	}
	return decimals(feet, 0) + " ft " + text + " in"
}

// fraction prints n/64: "6 1/2", "3/8".
func fraction(n int) string {
	whole, part, of := n/64, n%64, 64
	for part%2 == 0 && of > 1 {
		part, of = part/2, of/2
	}
	text := strconv.Itoa(part) + "/" + strconv.Itoa(of)
	if whole > 0 {
		text = strconv.Itoa(whole) + " " + text
	}
	return text
}

// decimals prints a number with at most so many decimals.
func decimals(v float64, most int) string {
	text := strconv.FormatFloat(v, 'f', most, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}
