package layout

import (
	"math"
	"strconv"
	"strings"

	"gapwise/netlist/quantity"
	"gapwise/netlist/source"
)

// Metric reports whether a layout's tracks are measured in metres.
func (l *Layout) Metric() bool {
	feet, metres := 0, 0
	for i := range l.Tracks {
		text := l.Tracks[i].Length.Text
		switch {
		case strings.Contains(text, "ft") || strings.Contains(text, "in") || strings.ContainsAny(text, "'\"′″"):
			feet++
		case strings.HasSuffix(text, "m"):
			metres++
		}
	}
	return metres > feet
}

// Spell writes metres as a place or length of the language, in the units of the layout's tracks, so that reading it gives the
// same length within a hundredth of a millimetre.
func (l *Layout) Spell(metres float64) string {
	if !l.Metric() {
		text := quantity.FormatPlace(metres)
		if v, bad := quantity.ParsePosition(text, source.Pos{}); bad == nil && math.Abs(v.Mid()-metres) < 1e-5 {
			return text
		}
	}
	return strings.TrimRight(strings.TrimRight(strconv.FormatFloat(metres, 'f', 5, 64), "0"), ".") + " m"
}

// Handy is a place near one computed, as a person would measure it: on a whole quarter inch, or on 5 mm where tracks
// are measured in metres.
func (l *Layout) Handy(metres float64) float64 {
	step := 0.0254 / 4
	if l.Metric() {
		step = 0.005
	}
	return math.Round(metres/step) * step
}
