package districts_test

import (
	"fmt"
	"strings"
)

// drawing types layouts of many turnouts.
type drawing struct {
	tracks, turnouts, feeders []string
	threeWays, slips          []string
	wirings                   []string // taken in turn
	together                  bool     // crossovers are thrown together
	n                         int
}

// turnout adds one and gives its name.
func (d *drawing) turnout(more string) string {
	name := fmt.Sprintf("T%d", d.n)
	wiring := d.wirings[d.n%len(d.wirings)]
	switch wiring {
	case "switched-frog":
		wiring += ", throw: break-first"
	case "swapped": // the contacts of its frog are
		wiring = "switched-frog, throw: break-first, frog-gets: {straight: stock-right, curved: stock-left}"
	}
	d.turnouts = append(d.turnouts, fmt.Sprintf("  %s: {hand: left, wiring: %s%s}", name, wiring, more))
	d.n++
	return name
}

// track adds one of 4 ft between two ends, and a feeder if one is asked for.
func (d *drawing) track(from, to string, fed bool) {
	name := fmt.Sprintf("K%d", len(d.tracks))
	d.tracks = append(d.tracks, fmt.Sprintf("  %s: {from: %s, to: %s, length: 4 ft}", name, from, to))
	if fed {
		d.feeders = append(d.feeders, fmt.Sprintf("  %s: {A: left, 2 ft: main @ %d ft}", name, 1+len(d.feeders)))
	}
}

func (d *drawing) text() string {
	return `gapwise: 1
layout: many turnouts
defaults:
  turnout: {length: 9 in, jumpers: yes}
  joint: {kind: soldered}
  gap: {rails: both, kind: insulated, fill: styrene}
  feeder: {wire: 20 AWG, length: 8 in}
supplies: {brick: {volts: 18 V, rating: 6 A, listed: yes}}
boosters: {one: {supply: brick, volts: 15 V, trips-at: 5 A, trip-time: 40 ms}}
buses: {main: {from: booster one, wire: 14 AWG, length: 3000 ft, laid: twisted}}
tracks:
` + strings.Join(d.tracks, "\n") + section("turnouts", d.turnouts) + section("three-ways", d.threeWays) + section("slips", d.slips) + section("feeders", d.feeders)
}

// section is one section of a layout, nothing where it has no entries.
func section(name string, entries []string) string {
	if len(entries) == 0 {
		return "\n"
	}
	return "\n" + name + ":\n" + strings.Join(entries, "\n") + "\n"
}

// fan draws a double slip between two three-ways, which have four positions each, and turnouts behind them.
func (d *drawing) fan(construction, throw string, fed bool) {
	for _, name := range []string{"W0", "W1"} {
		d.threeWays = append(d.threeWays, fmt.Sprintf("  %s: {construction: %s, wiring: switched-frog, jumpers: yes, throw: %s}", name, construction, throw))
	}
	d.slips = append(d.slips, fmt.Sprintf("  S0: {slip: both, wiring: switched-frogs, throw: %s}", throw))
	d.track("end", "W0 points", true)
	d.track("end", "W1 points", false)
	d.track("W0 straight", "S0 a", false)
	d.track("W1 straight", "S0 d", fed)
	d.track("S0 b", "end", fed)
	t := d.turnout("")
	d.track("S0 c", t+" points", false)
	d.track(t+" straight", "end", fed)
	d.track(t+" curved", "W1 left", false)
	u := d.turnout("")
	d.track("W0 left", u+" straight", false)
	d.track(u+" points", "W1 right", false)
	d.track(u+" curved", "end", fed)
	d.track("W0 right", "end", fed)
}

// ladders draws two ladders whose tracks lead from one to the other, fed at the outer ends
// only, or in every track between.
func (d *drawing) ladders(each int, between bool) {
	var west, east []string
	for range each {
		west, east = append(west, d.turnout("")), append(east, d.turnout(""))
	}
	d.track("end", west[0]+" points", true)
	d.track("end", east[0]+" points", true)
	for i := range each {
		d.track(west[i]+" curved", east[i]+" curved", between)
		if i+1 < each {
			d.track(west[i]+" straight", west[i+1]+" points", false)
			d.track(east[i]+" straight", east[i+1]+" points", false)
		} else {
			d.track(west[i]+" straight", east[i]+" straight", between)
		}
	}
}

// grid draws parallel tracks with crossovers between neighbours, column by column; only the first
// track is fed at its start, or every length between two turnouts.
func (d *drawing) grid(tracks, columns int, all bool) {
	at := make([]string, tracks)
	for r := range at {
		at[r] = "end"
	}
	first := len(d.tracks)
	for c := range columns {
		for r := c % 2; r+1 < tracks; r += 2 {
			up := d.turnout("")
			more := ""
			if d.together {
				more = ", throws-with: " + up
			}
			down := d.turnout(more)
			d.track(at[r], up+" points", all || len(d.tracks) == first)
			d.track(at[r+1], down+" straight", all)
			d.track(up+" curved", down+" curved", false)
			at[r], at[r+1] = up+" straight", down+" points"
		}
	}
	for r := range at {
		d.track(at[r], "end", all)
	}
}

// yard draws a ladder of tracks that end, each fed or not.
func (d *drawing) yard(tracks int, fed bool) {
	at := "end"
	for i := range tracks {
		t := d.turnout("")
		d.track(at, t+" points", i == 0)
		d.track(t+" curved", "end", fed)
		at = t + " straight"
	}
	d.track(at, "end", fed)
}

// sidings draws passing sidings one after the other on a single track.
func (d *drawing) sidings(n int) {
	at := "end"
	for range n {
		west, east := d.turnout(""), d.turnout("")
		d.track(at, west+" points", true)
		d.track(west+" straight", east+" straight", true)
		d.track(west+" curved", east+" curved", true)
		at = east + " points"
	}
	d.track(at, "end", true)
}

// mixed draws a layout of about so many turnouts: a double track with crossovers, passing sidings,
// yards fed track by track and yards that route power.
func mixed(turnouts int) *drawing {
	d := &drawing{together: true, wirings: []string{"dead-frog"}}
	d.grid(2, turnouts/8, true)
	d.wirings = []string{"dead-frog", "switched-frog"}
	d.sidings(turnouts / 8)
	d.yard(turnouts/8, true)
	for range turnouts / 40 {
		d.wirings = []string{"selective"}
		d.yard(5, false)
		d.wirings = []string{"power-routing"}
		d.yard(5, false)
		d.wirings = []string{"selective", "power-routing"}
		d.ladders(3, false)
	}
	return d
}
