package quantity

import (
	"math"
	"strconv"
)

// FormatLength prints metres both ways: "4 ft 8 in (1.42 m)".
func FormatLength(metres float64) string {
	if !finite(metres) {
		return "unknown"
	}
	return FormatPlace(metres) + " (" + FormatMetric(metres) + ")"
}

// FormatPlace prints metres as feet and inches to the nearest 1/8 in: "4 ft 8 in",
// "6 1/2 in", "3 ft". Below 1/2 in it is finer: a 1/32 in where one is meant, else
// decimals.
func FormatPlace(metres float64) string {
	if !finite(metres) {
		return "unknown"
	}
	inches := math.Abs(metres) * 1e4 / 254
	text := smallInches(inches)
	if text == "" {
		text = feetInches(inches)
	}
	if metres < 0 && text != "0 in" {
		return "-" + text
	}
	return text
}

// feetInches rounds to 1/8 in first, so that 11.96 in is a foot.
func feetInches(inches float64) string {
	eighths := math.Round(inches * 8)
	feet := math.Floor(eighths / 96)
	rest := int(eighths - 96*feet)
	switch {
	case feet == 0:
		return eighthsText(rest) + " in"
	case rest == 0:
		return plain(feet) + " ft"
	}
	return plain(feet) + " ft " + eighthsText(rest) + " in"
}

// eighthsText prints n/8: "6", "6 1/2", "3/8".
func eighthsText(n int) string {
	whole, part := n/8, n%8
	if part == 0 {
		return strconv.Itoa(whole)
	}
	text := reduced(part, 8)
	if whole > 0 {
		text = strconv.Itoa(whole) + " " + text
	}
	return text
}

// reduced prints n/d for d a power of two.
func reduced(n, d int) string {
	for n%2 == 0 {
		n, d = n/2, d/2
	}
	return strconv.Itoa(n) + "/" + strconv.Itoa(d)
}

// snap is half of the last decimal that smallInches prints, in inches.
const snap = 0.0005

// nothing is the length, in inches, that prints as 0: a micrometre and a bit.
const nothing = 0.00005

// smallInches prints what is under 1/2 in; "" for the rest.
func smallInches(inches float64) string {
	if inches < nothing {
		return "0 in"
	}
	if inches < 0.01 {
		return plain(significant(inches)) + " in"
	}
	rounded := decimals(inches, 3)
	if rounded >= 0.5 {
		return ""
	}
	if n := int(math.Round(rounded * 32)); n > 0 && math.Abs(rounded-float64(n)/32) <= snap+1e-9 {
		return reduced(n, 32) + " in"
	}
	return plain(rounded) + " in"
}

// FormatMetric prints metres as "0.8 mm", "165 mm" or "1.42 m".
func FormatMetric(metres float64) string {
	if !finite(metres) {
		return "unknown"
	}
	mm := decimals(metres*1e3, 2)
	switch {
	case math.Abs(mm) < 10:
		return plain(mm) + " mm"
	case math.Abs(math.Round(mm)) < 1e3:
		return plain(math.Round(mm)) + " mm"
	}
	return strconv.FormatFloat(metres, 'f', 2, 64) + " m"
}
