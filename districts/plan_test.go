package districts_test

import (
	"fmt"
	"strings"

	"pgregory.net/rapid"
)

// drawPlan draws a small track plan: up to four turnouts, some standing on a long track, all
// their ends closed up at random by tracks, by joints or by bare rail; then gaps and feeders.
func drawPlan(t *rapid.T) *plan {
	d := &planDrawer{t: t, p: &plan{}}
	d.longTrack()
	for range rapid.SampledFrom([]int{0, 1, 1, 2, 2, 3}).Draw(t, "turnouts") {
		n := d.turnout()
		d.open = append(d.open, planEnd{true, n, 0}, planEnd{true, n, 1}, planEnd{true, n, 2})
	}
	d.closeUp()
	d.gaps()
	d.feeders()
	return d.p
}

type planDrawer struct {
	t    *rapid.T
	p    *plan
	open []planEnd // ends that still lead nowhere
}

func (d *planDrawer) turnout() int {
	d.p.turnouts = append(d.p.turnouts, planTurnout{rapid.Bool().Draw(d.t, "left hand")})
	return len(d.p.turnouts) - 1
}

// longTrack is a ring or an open track on which up to two turnouts stand.
func (d *planDrawer) longTrack() {
	track := planTrack{feet: 12, closed: rapid.Bool().Draw(d.t, "closed")}
	for _, foot := range []int{3, 7} {
		if !rapid.Bool().Draw(d.t, "standing") {
			continue
		}
		n := d.turnout()
		leg := rapid.SampledFrom([]int{1, 2}).Draw(d.t, "leg")
		body := planBody{turnout: n, foot: foot, enter: 0, leave: leg}
		if rapid.Bool().Draw(d.t, "met at the leg") {
			body.enter, body.leave = leg, 0
		}
		track.bodies = append(track.bodies, body)
		d.open = append(d.open, planEnd{true, n, 3 - leg})
	}
	if !track.closed && rapid.Bool().Draw(d.t, "leads on") {
		d.open = append(d.open, planEnd{false, 0, 0}, planEnd{false, 0, 1})
	}
	d.p.tracks = append(d.p.tracks, track)
}

// closeUp takes the open ends in a random order: each goes to a bare end by a track of its own,
// or to another end, by a track, by two or by none.
func (d *planDrawer) closeUp() {
	if len(d.open) == 0 {
		return
	}
	ends := rapid.Permutation(d.open).Draw(d.t, "order")
	for len(ends) > 0 {
		e := ends[0]
		ends = ends[1:]
		between := rapid.SampledFrom([]int{0, 1, 1, 1, 2}).Draw(d.t, "tracks between")
		if len(ends) == 0 || rapid.IntRange(0, 4).Draw(d.t, "bare") == 4 {
			d.p.joins = append(d.p.joins, [2]planEnd{e, d.track()})
			continue
		}
		o := ends[0]
		ends = ends[1:]
		if e.turnout == o.turnout && e.piece == o.piece {
			between = max(between, 1)
		}
		for range between {
			near := d.track()
			d.p.joins = append(d.p.joins, [2]planEnd{e, near})
			e = planEnd{false, near.piece, 1 - near.end}
		}
		d.p.joins = append(d.p.joins, [2]planEnd{e, o})
	}
}

// track adds a short track and gives one of its ends.
func (d *planDrawer) track() planEnd {
	d.p.tracks = append(d.p.tracks, planTrack{feet: 5})
	return planEnd{false, len(d.p.tracks) - 1, rapid.IntRange(0, 1).Draw(d.t, "end")}
}

// gaps cuts rails on tracks and at joints, at most once in a place.
func (d *planDrawer) gaps() {
	for range rapid.SampledFrom([]int{0, 1, 2, 3, 4, 6}).Draw(d.t, "gaps") {
		g := planGap{foot: -1}
		where := rapid.SampledFrom([]string{"track", "track", "track", "joint", "turnout"}).Draw(d.t, "where")
		switch {
		case where == "turnout" && len(d.p.turnouts) > 0:
			g.at = planEnd{true, rapid.IntRange(0, len(d.p.turnouts)-1).Draw(d.t, "turnout"), rapid.IntRange(0, 2).Draw(d.t, "end")}
		case where == "joint" && len(d.p.joins) > 0:
			joint := rapid.SampledFrom(d.p.joins).Draw(d.t, "joint")
			g.at = rapid.SampledFrom(joint[:]).Draw(d.t, "side")
		default:
			g.track = rapid.IntRange(0, len(d.p.tracks)-1).Draw(d.t, "track")
			g.foot = rapid.SampledFrom([]float64{1, 2, 4, 5, 6, 8, 10, 0}).Draw(d.t, "foot")
		}
		switch rapid.SampledFrom([]string{"both", "both", "both", "left", "right"}).Draw(d.t, "rails") {
		case "left":
			g.left = true
		case "right":
			g.right = true
		default:
			g.left, g.right = true, true
		}
		if d.fits(g) {
			d.p.gaps = append(d.p.gaps, g)
		}
	}
}

// fits reports whether a gap lies on its track, and in a place of its own.
func (d *planDrawer) fits(g planGap) bool {
	if g.foot >= 0 {
		track := &d.p.tracks[g.track]
		if g.foot >= float64(track.feet) || (g.foot == 0 && !track.closed) {
			return false
		}
	}
	for _, o := range d.p.gaps {
		if g.foot >= 0 && o.foot == g.foot && o.track == g.track {
			return false
		}
		if g.foot < 0 && o.foot < 0 && d.p.sameJoint(g.at, o.at) {
			return false
		}
		if g.oneRail() && o.oneRail() && (d.closeBy(g, o) || d.closeBy(o, g)) {
			return false
		}
	}
	return true
}

func (g planGap) oneRail() bool { return g.left != g.right }

// closeBy reports whether a gap stands on the track less than a foot beyond the turnout at
// whose end another does: two cuts of one rail each would there be one gap, which the oracle
// takes as two. staggered_test.go looks at those.
func (d *planDrawer) closeBy(onTrack, atEnd planGap) bool {
	const body = 8.0 / 12 // feet
	if onTrack.foot < 0 || atEnd.foot >= 0 || !atEnd.at.turnout {
		return false
	}
	for _, b := range d.p.tracks[onTrack.track].bodies {
		beyond := onTrack.foot - (float64(b.foot) + body)
		if atEnd.at == (planEnd{true, b.turnout, b.leave}) && beyond > 0 && beyond < 1 {
			return true
		}
	}
	return false
}

// sameJoint reports whether two ends are one, or meet.
func (p *plan) sameJoint(a, b planEnd) bool {
	if a == b {
		return true
	}
	for _, j := range p.joins {
		if (a == j[0] || a == j[1]) && (b == j[0] || b == j[1]) {
			return true
		}
	}
	return false
}

// feeders hangs up to three boosters' feeders from the track, mostly the right way round
// by chance only.
func (d *planDrawer) feeders() {
	d.p.boosters = rapid.SampledFrom([]int{1, 1, 1, 2, 3}).Draw(d.t, "boosters")
	for range d.p.boosters {
		d.p.signal = append(d.p.signal, rapid.SampledFrom([]string{"", "straight", "straight", "crossed"}).Draw(d.t, "signal"))
	}
	used := map[[2]int]bool{}
	for range rapid.SampledFrom([]int{0, 1, 2, 3, 4, 5}).Draw(d.t, "feeders") {
		f := planFeeder{
			foot:    -1,
			booster: rapid.IntRange(0, d.p.boosters-1).Draw(d.t, "booster"),
			aRight:  rapid.Bool().Draw(d.t, "A on the right"),
		}
		key := [2]int{}
		if len(d.p.turnouts) > 0 && rapid.IntRange(0, 4).Draw(d.t, "on a turnout") == 4 {
			f.at = planEnd{true, rapid.IntRange(0, len(d.p.turnouts)-1).Draw(d.t, "turnout"), rapid.IntRange(0, 2).Draw(d.t, "end")}
			key = [2]int{-1 - f.at.piece, f.at.end}
		} else {
			f.track = rapid.IntRange(0, len(d.p.tracks)-1).Draw(d.t, "track")
			f.foot = rapid.SampledFrom([]float64{0.5, 1.5, 2.5, 4.5, 5.5, 6.5, 8.5, 9.5, 11.5}).Draw(d.t, "foot")
			if f.foot >= float64(d.p.tracks[f.track].feet) {
				continue
			}
			key = [2]int{f.track, int(f.foot)}
		}
		if !used[key] {
			used[key] = true
			d.p.feeders = append(d.p.feeders, f)
		}
	}
}

func (e planEnd) String() string {
	if e.turnout {
		return fmt.Sprintf("T%d %s", e.piece, [...]string{"points", "straight", "curved"}[e.end])
	}
	return fmt.Sprintf("M%d %s", e.piece, [...]string{"start", "end"}[e.end])
}

// yaml writes a plan in the layout language.
func (p *plan) yaml() string {
	var b strings.Builder
	b.WriteString(`gapwise: 1
layout: Plan
defaults:
  turnout: {length: 8 in, wiring: dead-frog, jumpers: yes}
  gap: {kind: insulated}
  joint: {kind: plain}
supplies:
  wall: {volts: 18 V}
boosters:
`)
	for i := range p.boosters {
		fmt.Fprintf(&b, "  b%d: {supply: wall, volts: 15 V", i)
		if p.signal[i] != "" {
			fmt.Fprintf(&b, ", signal: command, signal-wired: %s", p.signal[i])
		}
		b.WriteString("}\n")
	}
	b.WriteString("buses:\n")
	for i := range p.boosters {
		fmt.Fprintf(&b, "  bus%d: {from: booster b%d, wire: 14 AWG, length: 9 ft}\n", i, i)
	}
	b.WriteString("tracks:\n")
	for i := range p.tracks {
		p.yamlTrack(&b, i)
	}
	p.yamlTurnouts(&b)
	var joins []string
	for _, j := range p.joins {
		if j[0].turnout && j[1].turnout {
			joins = append(joins, fmt.Sprintf("[%s, %s]", j[0], j[1]))
		}
	}
	if len(joins) > 0 {
		fmt.Fprintf(&b, "joins: [%s]\n", strings.Join(joins, ", "))
	}
	p.yamlGaps(&b)
	p.yamlFeeders(&b)
	return b.String()
}

func (p *plan) yamlTrack(b *strings.Builder, i int) {
	if p.tracks[i].closed {
		fmt.Fprintf(b, "  M%d: {closed: yes, length: %d ft}\n", i, p.tracks[i].feet)
		return
	}
	meets := func(e planEnd) string {
		for _, j := range p.joins {
			if j[0] == e {
				return j[1].String()
			}
			if j[1] == e {
				return j[0].String()
			}
		}
		return "end"
	}
	fmt.Fprintf(b, "  M%d: {from: %s, to: %s, length: %d ft}\n", i, meets(planEnd{false, i, 0}), meets(planEnd{false, i, 1}), p.tracks[i].feet)
}

func (p *plan) yamlTurnouts(b *strings.Builder) {
	if len(p.turnouts) == 0 {
		return
	}
	words := [...]string{"points", "straight", "curved"}
	b.WriteString("turnouts:\n")
	for i, u := range p.turnouts {
		hand := "right"
		if u.leftHand {
			hand = "left"
		}
		fmt.Fprintf(b, "  T%d: {hand: %s", i, hand)
		for t := range p.tracks {
			for _, body := range p.tracks[t].bodies {
				if body.turnout == i {
					fmt.Fprintf(b, ", at: M%d @ %d ft, via: %s to %s", t, body.foot, words[body.enter], words[body.leave])
				}
			}
		}
		b.WriteString("}\n")
	}
}

// grouped collects entries under the pieces they belong to, pieces in the order they come.
type grouped struct {
	pieces  []string
	entries map[string][]string
}

func (g *grouped) add(piece, entry string) {
	if g.entries == nil {
		g.entries = map[string][]string{}
	}
	if len(g.entries[piece]) == 0 {
		g.pieces = append(g.pieces, piece)
	}
	g.entries[piece] = append(g.entries[piece], entry)
}

// write prints a section whose groups stand between two brackets.
func (g *grouped) write(b *strings.Builder, section, brackets string) {
	if len(g.pieces) > 0 {
		b.WriteString(section + ":\n")
	}
	for _, piece := range g.pieces {
		fmt.Fprintf(b, "  %s: %c%s%c\n", piece, brackets[0], strings.Join(g.entries[piece], ", "), brackets[1])
	}
}

func (p *plan) yamlGaps(b *strings.Builder) {
	var out grouped
	for _, g := range p.gaps {
		rails := "both"
		if !g.left {
			rails = "right"
		} else if !g.right {
			rails = "left"
		}
		piece, at, _ := strings.Cut(g.at.String(), " ")
		if g.foot >= 0 {
			piece, at = fmt.Sprintf("M%d", g.track), fmt.Sprintf("%g ft", g.foot)
		}
		out.add(piece, fmt.Sprintf("{at: %s, rails: %s}", at, rails))
	}
	out.write(b, "gaps", "[]")
}

func (p *plan) yamlFeeders(b *strings.Builder) {
	var out grouped
	for i, f := range p.feeders {
		side := "left"
		if f.aRight {
			side = "right"
		}
		piece, at, _ := strings.Cut(f.at.String(), " ")
		if f.foot >= 0 {
			piece, at = fmt.Sprintf("M%d", f.track), fmt.Sprintf("%g ft", f.foot)
		}
		out.add(piece, fmt.Sprintf("%s: {from: bus%d @ %d ft, A: %s, name: f%d}", at, f.booster, 1+i, side, i))
	}
	out.write(b, "feeders", "{}")
}
