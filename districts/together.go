package districts

import (
	"cmp"
	"context"
	"slices"

	"gapwise/netlist/circuit"
)

// A short that takes several devices runs through rail that no leg of its own reaches:
// rail that one reaches parts the path into two, of which one clashes by itself. So
// the search starts at each net that carries a leg and spreads through nets that carry none.

// workPerConductor bounds the search: how many settings are compared, for each conductor that
// the circuit has, and workAtLeast of them anyhow.
const (
	workPerConductor = 64
	workAtLeast      = 1 << 28
)

// workPerGap bounds the search for what one gap's closing would do.
const workPerGap = 1 << 20

// mostSeveral bounds how many shorts of several settings are named in one run.
const mostSeveral = 50

// together searches over settings of several devices.
type together struct {
	f     *conflictFinder
	nets  *Nets
	touch map[int32][]int32 // conditional conductors by net, rising
	left  int               // settings that may still be compared
	// open are the devices at which the bound stopped the search.
	open []int32
	cut  bool // more shorts were found than are named
}

// reachedNet is a net that a spread came to, with the settings it took.
type reachedNet struct {
	net      int32
	settings []Setting
}

// newTogether searches through the conditional conductors that take allows.
func (f *conflictFinder) newTogether(nets *Nets, take func(i int32, k *circuit.Conductor) bool) *together {
	g := &together{f: f, nets: nets, touch: map[int32][]int32{}, left: max(workAtLeast, workPerConductor*len(f.c.Conductors))}
	for i := range f.c.Conductors {
		k := &f.c.Conductors[i]
		if k.Device < 0 || k.Parts() || !take(int32(i), k) {
			continue
		}
		a, b := nets.Of[k.A], nets.Of[k.B]
		g.touch[a] = append(g.touch[a], int32(i))
		if a != b {
			g.touch[b] = append(g.touch[b], int32(i))
		}
	}
	return g
}

// shorts takes what conducts and is not explained yet; a frog's own device follows the wheels
// and joins nothing that must stay apart.
func (f *conflictFinder) shorts(i int32, k *circuit.Conductor) bool {
	return !f.masked[i] && f.c.Devices[k.Device].Kind != circuit.FrogDevice
}

// reached finds settings in which a leg reaches a net; ok is false when there are none.
func (g *together) reached(net int32) (settings []Setting, ok bool) {
	found := g.search(net, nil, false, true)
	if len(found) == 0 {
		return nil, false
	}
	return found[0].settings, true
}

// couldReach reports whether a leg reaches a net with every position of every device at once.
func (g *together) couldReach(net int32) bool {
	seen := map[int32]bool{net: true}
	queue := []int32{net}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		if len(g.nets.labels[n]) > 0 {
			return true
		}
		for _, i := range g.touch[n] {
			for _, node := range [2]int32{g.f.c.Conductors[i].A, g.f.c.Conductors[i].B} {
				if m := g.nets.Of[node]; !seen[m] {
					seen[m] = true
					queue = append(queue, m)
				}
			}
		}
	}
	return false
}

// spread lists every net with a leg that can be reached from one by settings added to
// those given, fewest first, through nets without a leg; the start itself comes first
// when it carries one and through is false.
func (g *together) spread(start int32, settings []Setting, through bool) []reachedNet {
	return g.search(start, settings, through, false)
}

// search is spread; with first set it stops at the first net.
func (g *together) search(start int32, settings []Setting, through, first bool) []reachedNet {
	if len(g.nets.labels[start]) > 0 && !through {
		return []reachedNet{{start, settings}}
	}
	var out []reachedNet
	seen := map[int32][][]Setting{}
	queue := []reachedNet{{start, settings}}
	for at := 0; at < len(queue); at++ {
		x := queue[at]
		for _, i := range g.touch[x.net] {
			k := &g.f.c.Conductors[i]
			if g.left -= 1 + len(x.settings); g.left < 0 {
				g.open = append(g.open, k.Device)
				return out
			}
			all, ok := with(g.f.c, g.f.never, x.settings, Setting{k.Device, k.Position})
			net := g.nets.Of[k.A]
			if net == x.net {
				net = g.nets.Of[k.B]
			}
			if !ok || net == start || slices.ContainsFunc(seen[net], func(o []Setting) bool {
				g.left -= len(o)
				return within(o, all)
			}) {
				continue
			}
			seen[net] = append(seen[net], all)
			y := reachedNet{net, all}
			if len(g.nets.labels[net]) > 0 {
				out = append(out, y)
				if first {
					return out
				}
			} else {
				queue = append(queue, y)
			}
		}
	}
	return out
}

// within reports whether every setting of x is one of y's.
func within(x, y []Setting) bool {
	return !slices.ContainsFunc(x, func(s Setting) bool { return !slices.Contains(y, s) })
}

// conflicts lists the shorts, and the frogs with the wrong leg, that take several devices.
func (g *together) conflicts(ctx context.Context, found []Conflict) ([]Conflict, error) {
	var out []Conflict
	known := func(settings []Setting) bool {
		covers := func(x Conflict) bool { return x.Demand < 0 && within(x.Settings, settings) }
		return slices.ContainsFunc(found, covers) || slices.ContainsFunc(out, covers)
	}
	type meeting struct {
		from, to Label
		settings []Setting
	}
	var meetings []meeting
	for _, net := range g.nets.Labelled() {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		for _, y := range g.spread(net, nil, true) {
			if y.net < net || known(y.settings) {
				continue
			}
			if from, to, clashes := g.between(net, y.net); clashes {
				meetings = append(meetings, meeting{from, to, y.settings})
			}
		}
	}
	slices.SortStableFunc(meetings, func(x, y meeting) int { return cmp.Compare(len(x.settings), len(y.settings)) })
	for _, m := range meetings {
		if len(out) == mostSeveral {
			g.cut = true
			break
		}
		if !known(m.settings) {
			x := g.f.describe(m.from, m.to, m.settings)
			x.Several = true
			out = append(out, x)
		}
	}
	for i := range g.f.c.Demands {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		d := &g.f.c.Demands[i]
		if d.Device < 0 {
			continue
		}
		settings := thrown(g.f.c, Setting{d.Device, d.Position})
		if excluded(g.f.never, settings) || known(settings) || slices.ContainsFunc(found, func(x Conflict) bool { return x.Demand == int32(i) }) {
			continue
		}
		if len(out) >= 2*mostSeveral {
			g.cut = true
			break
		}
		if x, ok := g.demand(int32(i), settings); ok && !known(x.Settings) {
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

// demand looks for settings of other devices that give a frog another leg than the rail
// whose wheels roll over it.
func (g *together) demand(i int32, settings []Setting) (Conflict, bool) {
	d := &g.f.c.Demands[i]
	for _, frog := range g.spread(g.nets.Of[d.Frog], settings, false) {
		for _, as := range g.spread(g.nets.Of[d.As], frog.settings, false) {
			from, to, found := g.between(frog.net, as.net)
			if !found {
				continue
			}
			x := g.f.describe(from, to, as.settings)
			x.Path = g.f.walk(g.f.c.Sources[from.Source].Out[from.Leg], d.Frog, as.settings)
			x.Cause, x.Demand, x.Several = nil, i, len(as.settings) > len(settings)
			return x, true
		}
	}
	return Conflict{}, false
}
