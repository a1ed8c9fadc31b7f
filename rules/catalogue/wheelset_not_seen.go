package catalogue

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gapwise/netlist/layout"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var wheelsetNotSeen = rule.Rule{
	ID:       "wheelset-not-seen",
	Severity: finding.Caution,
	Title:    "a detector does not see a car by the resistor on its axle",
	Doc: rule.Doc{
		What:    "Cars have resistors on an axle so that detectors see them without an engine. One such car standing alone is seen if its resistor is no more than what the detector sees (`sees`). Named are detectors to whose blocks trains come with resistors they do not see. Several cars together are seen sooner: their resistors lie side by side.",
		Why:     "A car left behind is not seen, and the next train runs into it.",
		Fix:     "Resistors of fewer ohms, or a more sensitive detector.",
		Example: "trains:\n  ore: {length: 10 ft, resistor-cars: 4, resistor: 15 kΩ}\ndetectors:\n  D1: {from: main @ 4 ft, leg: A, sees: 10 kΩ}",
	},
	Sources: []string{"axle resistors of 15 kΩ, 20 % either way: NEM 624; a detector should see 100 kΩ, and n cars show a resistor by n: NEM 625"},
}

func init() { wheelsetNotSeen.Check = checkWheelsetNotSeen }

func checkWheelsetNotSeen(c *rule.Case) {
	var open []int32
	var cars []string
	for d := range c.L.Detectors {
		det := &c.L.Detectors[d]
		var unseen, doubtful []string
		worst := 0.0
		var example *layout.Train
		for i := range c.L.Trains {
			t := &c.L.Trains[i]
			if t.ResistorCars == 0 || !comesTo(c, int32(i), int32(d)) {
				continue
			}
			switch {
			case !t.Resistor.Known() || !det.Sees.Known():
				doubtful = append(doubtful, t.Name)
			case t.Resistor.Lo > det.Sees.Hi:
				unseen = append(unseen, t.Name)
				if t.Resistor.Hi > worst {
					worst, example = t.Resistor.Hi, t
				}
			case t.Resistor.Hi > det.Sees.Lo:
				doubtful = append(doubtful, t.Name)
			}
		}
		name := "detector " + det.Name
		if len(doubtful) > 0 {
			open = append(open, int32(d))
			for _, train := range doubtful {
				if !slices.Contains(cars, train) {
					cars = append(cars, train)
				}
			}
		}
		if len(unseen) == 0 {
			continue
		}
		c.Report(finding.Finding{
			Severity: finding.Caution,
			Pos:      det.Pos,
			Place:    finding.Place{Text: name},
			Message:  fmt.Sprintf("%s sees %s at most, and a car of %s has %s on its axle: standing alone it is not seen, %s", name, det.Sees, strings.Join(unseen, ", "), example.Resistor, coupledText(det, example)),
			Why:      "a car left behind is not seen, and the next train runs into it",
			Numbers:  []finding.Number{{Name: "resistor of one car", Text: example.Resistor.String(), SI: worst, Unit: "Ω", Limit: "at most " + det.Sees.String(), Source: name + ", yours; NEM 625 asks for 100 kΩ"}},
			Fix:      fmt.Sprintf("set %s to see %s or more, or fit resistors of fewer ohms", name, example.Resistor),
			Mends:    sensitiveMends(c, int32(d), worst),
		})
	}
	if len(open) > 0 {
		first := &c.L.Detectors[open[0]]
		what := "whether detector " + first.Name + " sees a single car of " + strings.Join(cars, ", ")
		if len(open) > 1 {
			what = fmt.Sprintf("whether %d detectors see a single car of %s, the first of them detector %s", len(open), strings.Join(cars, ", "), first.Name)
		}
		c.LeaveOpen(what, "the layout does not say both ohms, or they overlap: NEM 625 asks a detector to see 100 kΩ", first.Pos)
	}
}

// coupledText says how many cars next to each other are seen: resistors side by side show one by their number.
func coupledText(det *layout.Detector, t *layout.Train) string {
	n := math.Ceil(t.Resistor.Hi/det.Sees.Lo - 1e-9)
	if n > float64(t.ResistorCars) {
		return fmt.Sprintf("nor need all %d of a train together be", t.ResistorCars)
	}
	return fmt.Sprintf("%.0f of them together are seen", n)
}

// comesTo reports whether a train comes to track that a detector is meant to watch; any does where no block says.
func comesTo(c *rule.Case, train, detector int32) bool {
	named := false
	for i := range c.L.Blocks {
		b := &c.L.Blocks[i]
		if b.Detector != detector {
			continue
		}
		named = true
		if len(b.Trains) == 0 || slices.Contains(b.Trains, train) {
			return true
		}
	}
	return !named
}
