package reader

import (
	"math"
	"strconv"
	"strings"
)

const inch = 0.0254 // metres

// spell writes a length in metres for a message, in the units of like.
func spell(metres float64, like string) string {
	if isMetric(like) {
		if metres >= 1 {
			return trimmed(metres, 1000) + " m"
		}
		return trimmed(metres*100, 100) + " cm"
	}
	inches := math.Round(metres/inch*100) / 100
	feet := math.Floor(inches / 12)
	rest := inches - 12*feet
	switch {
	case feet == 0:
		return trimmed(rest, 100) + " in"
	case rest < 0.005:
		return trimmed(feet, 1) + " ft"
	default:
		return trimmed(feet, 1) + " ft " + trimmed(rest, 100) + " in"
	}
}

// isMetric reports whether a length was typed in metric units.
func isMetric(s string) bool {
	return strings.Contains(s, "m") && !strings.Contains(s, "from")
}

func trimmed(v, per float64) string {
	return strconv.FormatFloat(math.Round(v*per)/per, 'f', -1, 64)
}

// nudge is a little farther along, for an example: an inch, or 2 cm.
func nudge(metres float64, like string) string {
	if isMetric(like) {
		return spell(metres+0.02, like)
	}
	return spell(metres+inch, like)
}
