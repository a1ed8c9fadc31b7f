package districts

import (
	"context"
	"slices"

	"gapwise/districts/settings"
)

// mostSeveral bounds how many shorts of several settings are named in one run, and mostMeetings how
// many of one pair of nets across one island.
const (
	mostSeveral  = 50
	mostMeetings = 24
)

// meeting is two legs across an island, and the fewest levers that bring them together without a
// short that is told.
type meeting struct {
	from, to Label
	query    settings.Query
	answer   settings.Answer
	named    int
}

// conflicts lists the shorts, and the frogs with the wrong leg, that take several devices.
func (g *together) conflicts(ctx context.Context, found []Conflict) ([]Conflict, error) {
	g.chart()
	var out []Conflict
	var told [][]settings.Setting
	for _, x := range found {
		if x.Demand < 0 {
			told = append(told, asked(x.Settings))
		}
	}
	var meetings []*meeting
	for at := range g.islands {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		is := &g.islands[at]
		if len(is.nets) == 0 {
			continue // one conductor: a device by itself
		}
		for i, x := range is.shores {
			for _, y := range is.shores[i+1:] {
				if from, to, clashes := g.between(x.net, y.net); clashes {
					m := &meeting{from: from, to: to, query: settings.Query{Connect: []settings.Connection{{From: []int32{x.number}, To: []int32{y.number}}}}}
					if g.answered(m, told) {
						meetings = append(meetings, m)
					}
				}
			}
		}
	}
	for len(meetings) > 0 {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		n := 0
		for i, m := range meetings {
			if m.answer.Levers < meetings[n].answer.Levers {
				n = i
			}
		}
		m := meetings[n]
		if !holds(told, m.answer.Settings) {
			if len(out) == mostSeveral {
				g.cut = true
				break
			}
			if m.named == mostMeetings {
				g.cut = true
				meetings = slices.Delete(meetings, n, n+1)
				continue
			}
			m.named++
			x := g.f.describe(m.from, m.to, answered(m.answer.Settings))
			x.Several = m.answer.Levers > 1
			out = append(out, x)
			told = append(told, m.answer.Settings)
		}
		if !g.answered(m, told) {
			meetings = slices.Delete(meetings, n, n+1)
		}
	}
	return g.demands(ctx, found, out, told)
}

// answered asks for a meeting that holds nothing told; it reports false when there is none.
func (g *together) answered(m *meeting, told [][]settings.Setting) bool {
	m.query.Told = told
	m.answer = g.ask(&m.query)
	return m.answer.Verdict == settings.Found
}

// holds reports whether settings hold all of some set.
func holds(sets [][]settings.Setting, list []settings.Setting) bool {
	return slices.ContainsFunc(sets, func(set []settings.Setting) bool {
		return !slices.ContainsFunc(set, func(s settings.Setting) bool { return !slices.Contains(list, s) })
	})
}

// demands adds to shorts the frogs with the wrong leg.
func (g *together) demands(ctx context.Context, found, out []Conflict, told [][]settings.Setting) ([]Conflict, error) {
	for i := range g.f.c.Demands {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		d := &g.f.c.Demands[i]
		if d.Device < 0 || slices.ContainsFunc(found, func(x Conflict) bool { return x.Demand == int32(i) }) {
			continue
		}
		list := thrown(g.f.c, Setting{d.Device, d.Position})
		if holds(told, asked(list)) || !g.possible(list) {
			continue
		}
		if len(out) >= 2*mostSeveral {
			g.cut = true
			break
		}
		if x, ok := g.demand(int32(i), list, told); ok {
			out = append(out, x)
		}
	}
	return out, nil
}

// between finds two legs of one phase that meet when two nets are joined.
func (g *together) between(x, y int32) (from, to Label, found bool) {
	for _, a := range g.nets.labels[x] {
		for _, b := range g.nets.labels[y] {
			if from, to, found = clash(g.f.c, []Label{a, b}); found {
				return from, to, true
			}
		}
	}
	return Label{}, Label{}, false
}

// ends are the nets with a leg that may be joined with a net, by its numbers; a net with a leg is its
// own.
func (g *together) ends(net int32) []shore {
	if len(g.nets.labels[net]) > 0 {
		return []shore{{net, -1}}
	}
	return g.shoresOf(net)
}

// both asks that two nets reach one end each in one valid setting that holds what is given.
func (g *together) both(one, other int32, x, y shore, given []Setting) *settings.Query {
	q := &settings.Query{Given: asked(given)}
	if x.number >= 0 {
		q.Connect = append(q.Connect, settings.Connection{From: g.numbers(one), To: []int32{x.number}})
	}
	if y.number >= 0 {
		q.Connect = append(q.Connect, settings.Connection{From: g.numbers(other), To: []int32{y.number}})
	}
	return q
}

// demand looks for settings of other devices that give a frog another leg than the rail
// whose wheels roll over it: both legs reach in one valid setting, which holds no short
// that is told.
func (g *together) demand(i int32, list []Setting, told [][]settings.Setting) (Conflict, bool) {
	d := &g.f.c.Demands[i]
	var best settings.Answer
	var legs [2]Label
	frogNet, asNet := g.nets.Of[d.Frog], g.nets.Of[d.As]
	for _, frog := range g.ends(frogNet) {
		for _, as := range g.ends(asNet) {
			from, to, found := g.between(frog.net, as.net)
			if !found {
				continue
			}
			q := g.both(frogNet, asNet, frog, as, list)
			q.Told = told
			a := g.ask(q)
			if a.Verdict == settings.Found && (best.Verdict != settings.Found || a.Levers < best.Levers) {
				best, legs = a, [2]Label{from, to}
			}
		}
	}
	if best.Verdict != settings.Found {
		return Conflict{}, false
	}
	x := g.f.describe(legs[0], legs[1], answered(best.Settings))
	x.Path = g.f.walk(g.f.c.Sources[legs[0].Source].Out[legs[0].Leg], d.Frog, x.Settings)
	x.Cause, x.Demand, x.Several = nil, i, best.Levers > 0
	return x, true
}

// within reports whether every setting of x is one of y's.
func within(x, y []Setting) bool {
	return !slices.ContainsFunc(x, func(s Setting) bool { return !slices.Contains(y, s) })
}

// unproven are the devices at which a search stopped, rising.
func (g *together) unproven() []int32 {
	out := slices.Clone(g.open)
	slices.Sort(out)
	return slices.Compact(out)
}
