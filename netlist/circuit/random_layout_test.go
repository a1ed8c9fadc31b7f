package circuit_test

import (
	"fmt"
	"slices"
	"strings"

	"pgregory.net/rapid"
)

// plan is a small layout with tracks and turnouts joined at random. Bodies stand at whole
// feet and are 6 in long; all else stands 9 in behind a whole foot, so that nothing meets.
type plan struct {
	tracks   []planTrack
	turnouts []planTurnout
	pairs    [][2]planEnd // joined ends; what is in no pair is a track's open end
	flipped  []bool       // by track: typed the other way round
	noGaps   bool
}

// planEnd is an end of a track or turnout: 0, 1 a track's start and end, 0 to 2 a turnout's.
type planEnd struct {
	turnout bool
	index   int
	end     int
}

type planTrack struct {
	feet  int
	items []planItem
}

// planItem stands at feet + 9 in of a track.
type planItem struct {
	feet        int
	kind        string // gap, joint, feeder
	rails, word string // word: a joint's kind, a feeder's A
}

type planTurnout struct {
	hand, wiring, jumpers string
	track, feet           int // where it stands, track -1 for nowhere
	first, second         int // of its ends, along the track
}

// drawPlan draws a plan.
func drawPlan(r *rapid.T) *plan {
	p := &plan{}
	for range rapid.IntRange(1, 4).Draw(r, "tracks") {
		p.tracks = append(p.tracks, drawTrack(r))
	}
	taken := map[[2]int]bool{}
	for range rapid.IntRange(0, 3).Draw(r, "turnouts") {
		t := planTurnout{
			hand:    rapid.SampledFrom([]string{"left", "right", "wye", "curved-left", "curved-right"}).Draw(r, "hand"),
			wiring:  rapid.SampledFrom([]string{"dead-frog", "unfed-frog", "switched-frog", "flipped-frog", "selective", "tied-blades", "power-routing", "power-routing-gapped"}).Draw(r, "wiring"),
			jumpers: rapid.SampledFrom([]string{"yes", "no", "unknown"}).Draw(r, "jumpers"),
			track:   -1,
		}
		if strings.HasPrefix(t.wiring, "power-routing") {
			t.jumpers = "no"
		}
		on := rapid.IntRange(-1, len(p.tracks)-1).Draw(r, "on")
		if on >= 0 {
			if feet := rapid.IntRange(0, p.tracks[on].feet-1).Draw(r, "feet"); !taken[[2]int{on, feet}] {
				taken[[2]int{on, feet}] = true
				t.track, t.feet, t.second = on, feet, rapid.IntRange(1, 2).Draw(r, "leg")
				if rapid.Bool().Draw(r, "against") {
					t.first, t.second = t.second, t.first
				}
			}
		}
		p.turnouts = append(p.turnouts, t)
	}
	p.joinEnds(r)
	p.flipped = make([]bool, len(p.tracks))
	return p
}

func drawTrack(r *rapid.T) planTrack {
	t := planTrack{feet: rapid.IntRange(1, 6).Draw(r, "length")}
	rails := rapid.SampledFrom([]string{"left", "right", "both"})
	for feet := range t.feet {
		item := planItem{feet: feet, kind: rapid.SampledFrom([]string{"", "gap", "joint", "feeder"}).Draw(r, "item"), rails: rails.Draw(r, "rails")}
		switch item.kind {
		case "joint":
			item.word = rapid.SampledFrom([]string{"soldered", "plain", "unknown"}).Draw(r, "kind")
		case "feeder":
			item.word = rapid.SampledFrom([]string{"left", "right"}).Draw(r, "A")
		}
		if item.kind != "" {
			t.items = append(t.items, item)
		}
	}
	return t
}

// joinEnds pairs ends at random; a turnout's end that is left over gets a short track.
func (p *plan) joinEnds(r *rapid.T) {
	var ends []planEnd
	for i := range p.tracks {
		ends = append(ends, planEnd{index: i}, planEnd{index: i, end: 1})
	}
	for i, t := range p.turnouts {
		for e := range 3 {
			if t.track < 0 || (e != t.first && e != t.second) {
				ends = append(ends, planEnd{turnout: true, index: i, end: e})
			}
		}
	}
	ends = rapid.Permutation(ends).Draw(r, "ends")
	joined := 2 * rapid.IntRange(0, len(ends)/2).Draw(r, "pairs")
	for i, e := range ends {
		switch {
		case i < joined && i%2 == 0:
			p.pairs = append(p.pairs, [2]planEnd{e, ends[i+1]})
		case i >= joined && e.turnout:
			p.tracks = append(p.tracks, planTrack{feet: 1})
			p.pairs = append(p.pairs, [2]planEnd{e, {index: len(p.tracks) - 1}})
		}
	}
}

var legsOfHand = map[string][]string{
	"left": {"points", "straight", "curved"}, "right": {"points", "straight", "curved"}, "wye": {"points", "left", "right"},
	"curved-left": {"points", "inner", "outer"}, "curved-right": {"points", "inner", "outer"},
}

// name is how the layout's text calls an end.
func (p *plan) name(e planEnd) string {
	if e.turnout {
		return fmt.Sprintf("T%d %s", e.index, legsOfHand[p.turnouts[e.index].hand][e.end])
	}
	end := e.end
	if p.flipped[e.index] {
		end = 1 - end
	}
	return fmt.Sprintf("M%d %s", e.index, []string{"start", "end"}[end])
}

// meets is what an end of a track says that it meets.
func (p *plan) meets(e planEnd) string {
	for _, pair := range p.pairs {
		for side := range pair {
			if pair[side] == e {
				return p.name(pair[1-side])
			}
		}
	}
	return "end"
}

var otherRail = map[string]string{"left": "right", "right": "left", "both": "both"}

// text is the plan as a layout file.
func (p *plan) text() string {
	text := head + power + "defaults: {joint: {kind: soldered}, gap: {kind: insulated}}\n"
	if len(p.turnouts) > 0 {
		text += "turnouts:\n"
	}
	for i, t := range p.turnouts {
		text += fmt.Sprintf("  T%d: {hand: %s, length: 6 in, wiring: %s", i, t.hand, t.wiring)
		if t.jumpers != "" {
			text += ", jumpers: " + t.jumpers
		}
		if t.track >= 0 {
			legs, at, first, second := legsOfHand[t.hand], inchesText(12*t.feet), t.first, t.second
			if p.flipped[t.track] {
				at, first, second = inchesText(12*p.tracks[t.track].feet-12*t.feet-6), second, first
			}
			text += fmt.Sprintf(", at: M%d @ %s, via: %s to %s", t.track, at, legs[first], legs[second])
		}
		text += "}\n"
	}
	text += "tracks:\n"
	for i, t := range p.tracks {
		start, end := planEnd{index: i}, planEnd{index: i, end: 1}
		from, to := p.meets(start), p.meets(end)
		if p.flipped[i] {
			from, to = to, from
		}
		if p.meets(start) == p.name(end) {
			text += fmt.Sprintf("  M%d: {closed: yes, length: %d ft}\n", i, t.feet)
			continue
		}
		text += fmt.Sprintf("  M%d: {from: %s, to: %s, length: %d ft}\n", i, from, to, t.feet)
	}
	for _, kind := range []string{"gap", "joint", "feeder"} {
		text += p.items(kind)
	}
	var joins []string
	for _, pair := range p.pairs {
		if pair[0].turnout && pair[1].turnout {
			joins = append(joins, "["+p.name(pair[0])+", "+p.name(pair[1])+"]")
		}
	}
	if len(joins) > 0 {
		text += "joins: [" + strings.Join(joins, ", ") + "]\n"
	}
	return text
}

func inchesText(n int) string { return fmt.Sprintf("%d in", n) }

// items is the section of what stands on the tracks.
func (p *plan) items(kind string) string {
	text := ""
	if kind == "gap" && p.noGaps {
		return text
	}
	for i, t := range p.tracks {
		var entries []string
		for _, item := range t.items {
			if item.kind != kind {
				continue
			}
			at, rails, word := inchesText(12*item.feet+9), item.rails, item.word
			if p.flipped[i] {
				at, rails = inchesText(12*t.feet-12*item.feet-9), otherRail[rails]
			}
			switch kind {
			case "gap":
				entries = append(entries, fmt.Sprintf("{at: %s, rails: %s}", at, rails))
			case "joint":
				entries = append(entries, fmt.Sprintf("{at: %s, rails: %s, kind: %s}", at, rails, word))
			case "feeder":
				if p.flipped[i] {
					word = otherRail[word]
				}
				entries = append(entries, fmt.Sprintf("%s: {from: ring @ %d ft, A: %s, rails: %s}", at, item.feet, word, rails))
			}
		}
		switch {
		case len(entries) > 0 && kind == "feeder":
			text += fmt.Sprintf("  M%d: {%s}\n", i, strings.Join(entries, ", "))
		case len(entries) > 0:
			text += fmt.Sprintf("  M%d: [%s]\n", i, strings.Join(entries, ", "))
		}
	}
	if text != "" {
		text = kind + "s:\n" + text
	}
	return text
}

// spots is how many spots the plan has, counted from the plan alone.
func (p *plan) spots() int {
	n := 3 * len(p.turnouts)
	for i, t := range p.tracks {
		edges := []int{0, 12 * t.feet} // in inches: where stretches of rail begin and end
		for _, u := range p.turnouts {
			if u.track == i {
				edges = append(edges, 12*u.feet, 12*u.feet+6)
			}
		}
		slices.Sort(edges)
		for k := 0; k < len(edges); k += 2 {
			n++
			if edges[k] < edges[k+1] {
				n++
			}
		}
		for _, item := range t.items {
			n++
			if item.kind != "feeder" {
				n++
			}
		}
	}
	return n
}
