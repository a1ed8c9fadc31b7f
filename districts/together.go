package districts

import (
	"slices"

	"gapwise/districts/settings"
	"gapwise/netlist/circuit"
)

// A short that takes several devices runs through rail that no leg of its own reaches:
// rail that one reaches parts the path into two, of which one clashes by itself. So nets without
// a leg that conditional conductors join are an island, closed in by nets that carry one, and
// each island is a problem of its own for package settings.

// workPerConductor bounds the search: how many states and settings are looked at, for each
// conductor that the circuit has, and workAtLeast of them anyhow. workPerQuery bounds one question.
const (
	workPerConductor = 64
	workAtLeast      = 1 << 24
	workPerQuery     = 1 << 21
)

// workPerGap bounds the search for what one gap's closing would do.
const workPerGap = 1 << 20

// together searches over settings of several devices.
type together struct {
	f     *conflictFinder
	nets  *Nets
	touch map[int32][]int32 // conditional conductors by net, rising
	left  int               // looks that may still be taken
	// open are the devices at which the bound stopped the search.
	open []int32
	cut  bool // more shorts were found than are named

	uneven  bool // some positions are thrown together with fewer of another device
	islands []island
	of      map[int32]int32   // island of a net without a leg
	number  map[int32]int32   // net without a leg, by number of the problem
	copies  map[int32][]int32 // net with a leg: a number for each island it closes in
	named   []int32           // net, by number
	beside  []int32           // island, by number
	solver  *settings.Solver
}

// island is a group of nets without a leg that conditional conductors join, or a single conductor
// between nets with one.
type island struct {
	nets   []int32
	shores []shore // rising
}

// shore is a net with a leg beside an island, and its number there in the problem.
type shore struct{ net, number int32 }

// newTogether searches through the conditional conductors that take allows.
func (f *conflictFinder) newTogether(nets *Nets, take func(i int32, k *circuit.Conductor) bool) *together {
	g := &together{f: f, nets: nets, touch: map[int32][]int32{}, left: max(workAtLeast, workPerConductor*len(f.c.Conductors))}
	for i := range f.c.Conductors {
		k := &f.c.Conductors[i]
		if k.Device < 0 || k.Parts() || !take(int32(i), k) {
			continue
		}
		a, b := nets.Of[k.A], nets.Of[k.B]
		if a == b {
			continue
		}
		g.touch[a] = append(g.touch[a], int32(i))
		g.touch[b] = append(g.touch[b], int32(i))
	}
	g.uneven = slices.ContainsFunc(f.c.Devices, func(d circuit.Device) bool {
		return slices.ContainsFunc(d.Coupled, func(k circuit.Coupling) bool {
			to := slices.Clone(k.To)
			slices.Sort(to)
			return len(slices.Compact(to)) != len(f.c.Devices[k.Device].Positions) || len(k.To) != len(to)
		})
	})
	return g
}

// shorts takes what conducts and is not explained yet; a frog's own device follows the wheels
// and joins nothing that must stay apart.
func (f *conflictFinder) shorts(i int32, k *circuit.Conductor) bool {
	return !f.masked[i] && f.c.Devices[k.Device].Kind != circuit.FrogDevice
}

// other is the net across a conditional conductor.
func (g *together) other(i, net int32) int32 {
	k := &g.f.c.Conductors[i]
	if a := g.nets.Of[k.A]; a != net {
		return a
	}
	return g.nets.Of[k.B]
}

// chart numbers the islands and hands them to the solver, once.
func (g *together) chart() {
	if g.solver != nil {
		return
	}
	g.of, g.number, g.copies = map[int32]int32{}, map[int32]int32{}, map[int32][]int32{}
	p := &settings.Problem{}
	list := make([]int32, 0, len(g.touch))
	for net := range g.touch {
		list = append(list, net)
	}
	slices.Sort(list)
	for _, net := range list {
		if _, seen := g.of[net]; !seen && len(g.nets.labels[net]) == 0 {
			g.island(p, net)
		}
	}
	for _, net := range list {
		if len(g.nets.labels[net]) == 0 {
			continue
		}
		for _, i := range g.touch[net] {
			if other := g.other(i, net); other > net && len(g.nets.labels[other]) > 0 {
				is := island{}
				a, b := g.shore(p, &is, net), g.shore(p, &is, other)
				g.edge(p, i, a, b)
				g.islands = append(g.islands, is)
			}
		}
	}
	for d := range g.f.c.Devices {
		x := &g.f.c.Devices[d]
		p.Positions = append(p.Positions, len(x.Positions))
		var coupled []settings.Coupling
		for _, k := range x.Coupled {
			coupled = append(coupled, settings.Coupling{Device: k.Device, To: k.To})
		}
		p.Coupled = append(p.Coupled, coupled)
	}
	for _, set := range g.f.never {
		p.Never = append(p.Never, asked(set))
	}
	g.solver = settings.New(p)
}

// island takes in the island of a net.
func (g *together) island(p *settings.Problem, first int32) {
	at := int32(len(g.islands))
	is := island{nets: []int32{first}}
	take := func(net int32) {
		g.of[net] = at
		g.number[net] = int32(p.Nets)
		p.Nets++
		p.Stop = append(p.Stop, false)
		g.named, g.beside = append(g.named, net), append(g.beside, at)
	}
	take(first)
	shores := map[int32]int32{}
	done := map[int32]bool{}
	for n := 0; n < len(is.nets); n++ {
		net := is.nets[n]
		for _, i := range g.touch[net] {
			if done[i] {
				continue
			}
			done[i] = true
			other := g.other(i, net)
			to, found := shores[other]
			if !found && len(g.nets.labels[other]) > 0 {
				to = g.shore(p, &is, other)
				shores[other], found = to, true
			}
			if !found {
				if _, seen := g.of[other]; !seen {
					take(other)
					is.nets = append(is.nets, other)
				}
				to = g.number[other]
			}
			g.edge(p, i, g.number[net], to)
		}
	}
	slices.SortFunc(is.shores, func(x, y shore) int { return int(x.net - y.net) })
	g.islands = append(g.islands, is)
}

// shore gives a net with a leg a number beside an island.
func (g *together) shore(p *settings.Problem, is *island, net int32) int32 {
	number := int32(p.Nets)
	p.Nets++
	p.Stop = append(p.Stop, true)
	g.named, g.beside = append(g.named, net), append(g.beside, int32(len(g.islands)))
	is.shores = append(is.shores, shore{net, number})
	g.copies[net] = append(g.copies[net], number)
	return number
}

func (g *together) edge(p *settings.Problem, i, a, b int32) {
	k := &g.f.c.Conductors[i]
	p.Edges = append(p.Edges, settings.Edge{A: a, B: b, Device: k.Device, Position: k.Position})
}

// asked gives settings the solver's form, answered the trace's.
func asked(list []Setting) []settings.Setting {
	out := make([]settings.Setting, len(list))
	for i, s := range list {
		out[i] = settings.Setting(s)
	}
	return out
}

func answered(list []settings.Setting) []Setting {
	if len(list) == 0 {
		return nil
	}
	out := make([]Setting, len(list))
	for i, s := range list {
		out[i] = Setting(s)
	}
	return out
}

// ask puts a question to the solver within what work is left; the devices at which a bound stopped
// it are noted.
func (g *together) ask(q *settings.Query) settings.Answer {
	g.chart()
	q.Work = max(1, min(workPerQuery, g.left))
	a := g.solver.Solve(q)
	g.left -= 1 + a.Work
	if a.Verdict == settings.Open {
		g.open = append(g.open, a.At...)
	}
	return a
}

// possible reports whether settings are part of some valid setting of all devices.
func (g *together) possible(list []Setting) bool {
	if len(g.f.never) == 0 {
		return true
	}
	return g.ask(&settings.Query{Given: asked(list)}).Verdict != settings.Absent
}

// numbers are a net's in the problem.
func (g *together) numbers(net int32) []int32 {
	g.chart()
	if n, found := g.number[net]; found {
		return []int32{n}
	}
	return g.copies[net]
}

// shoresOf are the nets with a leg beside the island of a net.
func (g *together) shoresOf(net int32) []shore {
	g.chart()
	if at, found := g.of[net]; found {
		return g.islands[at].shores
	}
	return nil
}

// reached finds settings in which a leg reaches a net; ok is false when there are none. It takes the
// fewest levers.
func (g *together) reached(net int32) (list []Setting, ok bool) {
	a := g.feeds(net)
	return answered(a.Settings), a.Verdict == settings.Found
}

// feeds is reached with the verdict and the way.
func (g *together) feeds(net int32) settings.Answer {
	if len(g.nets.labels[net]) > 0 {
		return settings.Answer{Verdict: settings.Found}
	}
	if len(g.f.never) == 0 { // a single device is the fewest, and always may be set
		for _, i := range g.touch[net] {
			if len(g.nets.labels[g.other(i, net)]) > 0 {
				k := &g.f.c.Conductors[i]
				return settings.Answer{Verdict: settings.Found, Settings: asked(thrown(g.f.c, Setting{k.Device, k.Position}))}
			}
		}
	}
	return g.feedsWith(net, nil)
}

// feedsWith asks for the fewest settings besides some that are given by which a leg reaches a net.
func (g *together) feedsWith(net int32, given []Setting) settings.Answer {
	if len(g.nets.labels[net]) > 0 {
		return settings.Answer{Verdict: settings.Found}
	}
	var to []int32
	for _, s := range g.shoresOf(net) {
		to = append(to, s.number)
	}
	if len(to) == 0 {
		return settings.Answer{Verdict: settings.Absent}
	}
	return g.ask(&settings.Query{Connect: []settings.Connection{{From: g.numbers(net), To: to}}, Given: asked(given)})
}
