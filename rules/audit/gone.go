package audit

import (
	"gapwise/districts/difference"
	"gapwise/rules/finding"
)

// mostGone is how many devices and buses that are gone a step names.
const mostGone = 12

// What is to be done with wires and devices that the file no longer has: what is left under the table may still feed.
const (
	unplugged = "switch everything off and pull the supplies' plugs"
	notInFile = "no longer in the file: take down, or off what feeds it at both legs"
	looseEnds = "no longer in the file: take both wires off the bus, and cap each bare end by itself"
)

// takingDown names the devices, buses and feeders that are gone.
func (a *Audit) takingDown() []Step {
	var things []string
	var feeders []finding.Place
	for i := range a.Difference.Entries {
		e := &a.Difference.Entries[i]
		if e.Fate != difference.Removed {
			continue
		}
		switch {
		case e.Kind == difference.KindFeeder:
			feeders = append(feeders, a.old.FeederPlace(e.Before[0]))
		case e.Kind >= difference.KindSupply && e.Kind <= difference.KindBus:
			things = append(things, kindWord(a.old.L, e.Kind, e.Before[0])+" "+title(a.old, e.Kind, e.Before[0]))
		}
	}
	if len(things)+len(feeders) == 0 {
		return nil
	}
	out := []Step{{Stage: TakingDown, Text: unplugged}}
	if len(things) > 0 {
		out = append(out, Step{Stage: TakingDown, Text: listed(things, mostGone) + ": " + notInFile})
	}
	if len(feeders) > 0 {
		out = append(out, Step{Stage: TakingDown, Text: "feeders at " + placesText(feeders) + ": " + looseEnds})
	}
	return out
}
