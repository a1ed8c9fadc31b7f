package districts

import (
	"cmp"
	"slices"

	"gapwise/districts/settings"
)

// workPerSpread bounds the plain listing of all ways to set devices; beyond it the solver lists
// them, mostAlternatives for a net.
const (
	workPerSpread    = 1 << 16
	mostAlternatives = 8
)

// reachedNet is a net that a spread came to, with the settings it took.
type reachedNet struct {
	net      int32
	settings []Setting
}

// spread lists every net with a leg that can be reached from one by settings added to
// those given, fewest first, through nets without a leg; the start itself comes first
// when it carries one and through is false. A net is listed with each set of settings of which no other
// is a part. What it could not list leaves its devices in open.
func (g *together) spread(start int32, list []Setting, through bool) []reachedNet {
	if len(g.nets.labels[start]) > 0 && !through {
		return []reachedNet{{start, list}}
	}
	if out, whole := g.listed(start, list); whole {
		return out
	}
	return g.alternatives(start, list)
}

// listed is spread as far as the plain listing goes; whole is false where it would leave something out.
func (g *together) listed(start int32, list []Setting) (out []reachedNet, whole bool) {
	if g.uneven {
		return nil, false
	}
	return g.search(start, list)
}

// search lists settings breadth first; whole is false when there were too many.
func (g *together) search(start int32, list []Setting) (out []reachedNet, whole bool) {
	left := min(workPerSpread, g.left)
	seen := map[int32][][]Setting{}
	queue := []reachedNet{{start, list}}
	for at := 0; at < len(queue); at++ {
		x := queue[at]
		for _, i := range g.touch[x.net] {
			k := &g.f.c.Conductors[i]
			if left -= 1 + len(x.settings); left < 0 {
				g.left -= workPerSpread
				return nil, false
			}
			net := g.other(i, x.net)
			if net == start {
				continue
			}
			all, ok := with(g.f.c, g.f.never, x.settings, Setting{k.Device, k.Position})
			if !ok || slices.ContainsFunc(seen[net], func(o []Setting) bool {
				left -= len(o)
				return within(o, all)
			}) || !g.possible(all) {
				continue
			}
			seen[net] = append(seen[net], all)
			y := reachedNet{net, all}
			if len(g.nets.labels[net]) > 0 {
				out = append(out, y)
			} else {
				queue = append(queue, y)
			}
		}
	}
	g.left -= workPerSpread - max(0, left)
	return out, true
}

// alternatives lists for each net with a leg, fewest first, settings that reach it.
func (g *together) alternatives(start int32, list []Setting) []reachedNet {
	var out []reachedNet
	for _, net := range g.around(start) {
		if net == start {
			continue
		}
		found := g.each(&settings.Query{
			Connect: []settings.Connection{{From: g.numbers(start), To: g.numbers(net)}},
			Given:   asked(list),
		})
		for _, x := range found {
			out = append(out, reachedNet{net, x})
		}
	}
	slices.SortStableFunc(out, func(x, y reachedNet) int { return cmp.Compare(len(x.settings), len(y.settings)) })
	return out
}

// around are the nets with a leg beside a net's islands, rising.
func (g *together) around(net int32) []int32 {
	g.chart()
	var out []int32
	for _, s := range g.shoresOf(net) {
		out = append(out, s.net)
	}
	for _, n := range g.copies[net] {
		for _, s := range g.islands[g.beside[n]].shores {
			out = append(out, s.net)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// each lists the answers of a query, fewest first, none of which holds all of another. When there are more
// than are listed, the devices of the next stand in open.
func (g *together) each(q *settings.Query) [][]Setting {
	var out [][]Setting
	q.Told = slices.Clone(q.Told)
	for {
		a := g.ask(q)
		if a.Verdict != settings.Found {
			return out
		}
		if len(out) == mostAlternatives {
			for _, s := range a.Settings[len(q.Given):] {
				g.open = append(g.open, s.Device)
			}
			return out
		}
		out = append(out, answered(a.Settings))
		if a.Levers == 0 {
			return out
		}
		q.Told = append(q.Told, a.Settings)
	}
}
