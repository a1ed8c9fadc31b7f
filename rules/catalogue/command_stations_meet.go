package catalogue

import (
	"fmt"
	"slices"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var commandStationsMeet = rule.Rule{
	ID:       "command-stations-meet",
	Severity: finding.Fault,
	Title:    "the track of two command sources meets",
	Doc: rule.Doc{
		What:    "Track of a booster that repeats one command source meets track of a booster that repeats another (`signal` names them) at a gap, a common rail or the edge of a pit. Boosters for programming have a rule of their own.",
		Why:     "The two signals are not in step, so every wheel and every pickup that bridges the gap joins one booster's plus to the other's minus, again and again, with twice the track voltage between them.",
		Fix:     "Drive both boosters from one command source, or leave a gap between the two layouts that no vehicle bridges.",
		Example: "boosters:\n  one: {supply: brick, volts: 15 V, signal: club, signal-wired: straight}\n  two: {supply: slate, volts: 15 V, signal: guest, signal-wired: straight}   # and their track meets at a gap",
	},
	Sources: []string{"electrical necessity: two square waves that are not in step are opposed part of the time"},
}

func init() { commandStationsMeet.Check = checkCommandStationsMeet }

func checkCommandStationsMeet(c *rule.Case) {
	var found []boosterPair
	var signals [][2]string
	for _, p := range boosterPairs(c) {
		s := [2]string{c.L.Boosters[p.boosters[0]].Signal, c.L.Boosters[p.boosters[1]].Signal}
		if s[0] == "" || s[1] == "" || s[0] == s[1] {
			continue
		}
		slices.Sort(s[:])
		n := slices.Index(signals, s)
		if n < 0 {
			signals, found = append(signals, s), append(found, p)
			continue
		}
		found[n].ways = append(found[n].ways, p.ways...)
	}
	for _, p := range found {
		x, y := &c.L.Boosters[p.boosters[0]], &c.L.Boosters[p.boosters[1]]
		place := c.WayPlace(p.ways[0])
		f := finding.Finding{
			Severity: finding.Fault,
			Pos:      c.WayPos(p.ways[0]),
			Place:    place,
			Message:  fmt.Sprintf("track of booster %s (signal %s) meets track of booster %s (signal %s) at %s, and the two signals are not in step", x.Name, x.Signal, y.Name, y.Signal, place.Text),
			Why:      "every wheel that bridges the gap shorts one booster into the other, with twice the track voltage between them",
			Settings: c.Settings(p.settings),
			Train:    "a metal wheel, or a vehicle with pickups, on the gap",
			Fix:      "drive both boosters from one command source",
			Mends:    oneSignalMends(c, p.boosters),
		}
		meetAt(c, &f, p.ways, 1)
		c.Report(f)
	}
}
