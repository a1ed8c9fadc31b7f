package catalogue

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts"
	"gapwise/rules/rule"
)

// running finds what trains that move and standing loads draw.
func running(c *rule.Case) *districts.Gatherings {
	return c.T.Gatherings(districts.Draws{
		Train:  func(t *layout.Train) quantity.Current { return t.Current },
		Load:   func(x *layout.Load) quantity.Current { return x.Draws },
		Moving: true,
	})
}

// drawersText names what draws: "coach, 2 ore and standing loads of 0.1 A".
func drawersText(c *rule.Case, g *districts.Gathering) string {
	var parts []string
	for i := 0; i < len(g.Trains); {
		n := i + 1
		for n < len(g.Trains) && g.Trains[n] == g.Trains[i] {
			n++
		}
		name := "train " + c.L.Trains[g.Trains[i]].Name
		if n-i > 1 {
			name = fmt.Sprintf("%d trains %s", n-i, c.L.Trains[g.Trains[i]].Name)
		}
		parts = append(parts, name)
		i = n
	}
	if g.Standing > 0 {
		parts = append(parts, "standing loads of "+quantity.FormatCurrent(g.Standing))
	}
	return listText(parts)
}

// listText joins words: "a, b and c".
func listText(parts []string) string {
	if len(parts) < 2 {
		return strings.Join(parts, "")
	}
	last := len(parts) - 1
	return strings.Join(parts[:last], ", ") + " and " + parts[last]
}

// keepAway names the fewest trains whose absence brings a gathering down to a limit, the lightest
// single one that does first; ok is false when none would.
func keepAway(c *rule.Case, g *districts.Gathering, limit float64) (text string, ok bool) {
	amps := func(t int32) float64 { return c.L.Trains[t].Current.Hi }
	for _, t := range slices.Backward(g.Trains) {
		if !beyond(g.Amps-amps(t), limit) {
			return "train " + c.L.Trains[t].Name, true
		}
	}
	var out districts.Gathering
	left := g.Amps
	for _, t := range g.Trains {
		if !beyond(left, limit) {
			break
		}
		left -= amps(t)
		out.Trains = append(out.Trains, t)
	}
	return drawersText(c, &out), !beyond(left, limit)
}

// forProgramming reports whether a source hangs from a booster of a programming track, where no
// trains run.
func forProgramming(c *rule.Case, s int32) bool {
	b := c.C.Sources[s].Booster
	return b >= 0 && c.C.Sources[b].Kind == circuit.BoosterSource && c.L.Boosters[c.C.Sources[b].Ref].Use == layout.UseProgramming
}

// namesOf lists trains by name, and how many loads there are, of those that say nothing.
func namesOf(c *rule.Case, trains []int32, loads int) string {
	var parts []string
	for _, t := range trains {
		parts = append(parts, "train "+c.L.Trains[t].Name)
	}
	switch {
	case loads == 1:
		parts = append(parts, "one load")
	case loads > 1:
		parts = append(parts, fmt.Sprintf("%d loads", loads))
	}
	return listText(parts)
}
