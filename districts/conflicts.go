package districts

import (
	"context"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// Conflict is metal that joins what must stay apart, after what ties and polarity explain
// has been set aside. Path is a walk of conductors from one leg to the other; Cause is the
// part of it where the legs meet: between the last rail that should carry the one
// and the first that should carry the other.
type Conflict struct {
	From, To Label
	Path     []Step
	Cause    []int32 // conductors, in path order
	// Settings that make it, with what is thrown along; none when it is there in every
	// setting. The first is of the device where the legs meet.
	Settings []Setting
	// Several says that it takes devices that are not thrown together.
	Several bool
	// Demand is >= 0 when it takes wheels on a frog (Circuit.Demands).
	Demand int32
}

// Step is one conductor of a walk, and the node it arrives at.
type Step struct {
	Conductor int32
	Node      int32
}

// conflictFinder looks for shorts in the nets that remain.
type conflictFinder struct {
	c        *circuit.Circuit
	masked   []bool // by conductor: explained already
	expected []int8 // by node: 0 unknown, 1 leg A, 2 leg B
	never    [][]Setting
	adj      *adjacency
}

// maxCauses bounds how many separate causes are named in one run.
const maxCauses = 200

// findConflicts lists what still shorts: in every setting first, then in each position
// of each device taken by itself, then where wheels bridge a frog, then what takes the
// settings of several devices. open are the devices at which the bound on that last search
// stopped it; limited is true when the bound on causes was reached.
func findConflicts(ctx context.Context, c *circuit.Circuit, p *Polarity, masked []bool) (conflicts []Conflict, open []int32, limited bool, err error) {
	f := &conflictFinder{c: c, masked: masked, expected: expectedLegs(c, p), never: exclusions(c)}
	for range maxCauses {
		if err := ctx.Err(); err != nil {
			return nil, nil, false, err
		}
		nets := joinNets(c, f.take)
		x, found := f.inNets(nets)
		if !found {
			g := f.newTogether(nets, f.shorts)
			single, err := f.inSettings(ctx, nets, g.possible)
			if err != nil {
				return nil, nil, false, err
			}
			conflicts = append(conflicts, single...)
			several, err := g.conflicts(ctx, single)
			return append(conflicts, several...), g.unproven(), g.cut, err
		}
		conflicts = append(conflicts, x)
		for _, k := range x.Cause {
			masked[k] = true
		}
	}
	return conflicts, nil, true, nil
}

func (f *conflictFinder) take(i int32, k *circuit.Conductor) bool {
	return k.Device < 0 && !k.Parts() && !f.masked[i]
}

// clash finds two labels of one net that must not meet: two legs of one phase.
func clash(c *circuit.Circuit, labels []Label) (x, y Label, found bool) {
	for i, a := range labels {
		for _, b := range labels[i+1:] {
			ra, ca := phaseRoot(c, a.Source)
			rb, cb := phaseRoot(c, b.Source)
			if ra != rb && !inPhase(c, ra, rb) {
				continue
			}
			if (a.Leg == layout.A) != ca != ((b.Leg == layout.A) != cb) != crossedSignals(c, ra, rb) {
				return a, b, true
			}
		}
	}
	return Label{}, Label{}, false
}

// apart reports whether two labels hang on different phases of which one is free: what is
// right in one state of a reverser is a short in the other.
func apart(c *circuit.Circuit, x, y Label) bool {
	rx, _ := phaseRoot(c, x.Source)
	ry, _ := phaseRoot(c, y.Source)
	return rx != ry && (c.Sources[rx].Free || c.Sources[ry].Free)
}

// inPhase reports whether two boosters follow one signal in a known way.
func inPhase(c *circuit.Circuit, x, y int32) bool {
	sx, sy := &c.Sources[x], &c.Sources[y]
	if sx.Kind != circuit.BoosterSource || sy.Kind != circuit.BoosterSource || sx.Free || sy.Free {
		return false
	}
	bx, by := &c.Layout.Boosters[sx.Ref], &c.Layout.Boosters[sy.Ref]
	return bx.Signal != "" && bx.Signal == by.Signal && knownSignal(bx.SignalWired) && knownSignal(by.SignalWired)
}

func knownSignal(s layout.SignalWiring) bool {
	return s == layout.SignalStraight || s == layout.SignalCrossed
}

func crossedSignals(c *circuit.Circuit, x, y int32) bool {
	if x == y {
		return false
	}
	return c.Layout.Boosters[c.Sources[x].Ref].SignalWired != c.Layout.Boosters[c.Sources[y].Ref].SignalWired
}

func (f *conflictFinder) inNets(nets *Nets) (Conflict, bool) {
	for _, net := range nets.Labelled() {
		x, y, found := clash(f.c, nets.labels[net])
		if !found {
			continue
		}
		return f.describe(x, y, nil), true
	}
	return Conflict{}, false
}

// describe walks from one label's terminal to the other's and finds the cause.
func (f *conflictFinder) describe(x, y Label, extra []Setting) Conflict {
	from, to := f.c.Sources[x.Source].Out[x.Leg], f.c.Sources[y.Source].Out[y.Leg]
	path := f.walk(from, to, extra)
	return Conflict{From: x, To: y, Path: path, Cause: f.cause(path), Settings: extra, Demand: -1}
}

// walk is the shortest walk from one node to another through what conducts in every
// setting, and through what the given positions add.
func (f *conflictFinder) walk(from, to int32, extra []Setting) []Step {
	if f.adj == nil {
		f.adj = nodeConductors(f.c)
	}
	return shortestWalk(f.c, f.adj, []int32{from}, func(n int32) bool { return n == to }, func(k int32) bool {
		c := &f.c.Conductors[k]
		if c.Parts() || f.masked[k] {
			return false
		}
		return c.Device < 0 || slices.Contains(extra, Setting{c.Device, c.Position})
	})
}

// cause is the part of a path between the last node that should carry the first leg and the
// first node after it that should carry the other.
func (f *conflictFinder) cause(path []Step) []int32 {
	last, leg := 0, int8(0)
	for i, s := range path {
		e := f.expected[s.Node]
		if e == 0 {
			continue
		}
		if leg != 0 && e != leg {
			out := make([]int32, 0, i-last)
			for _, t := range path[last : i+1] {
				out = append(out, t.Conductor)
			}
			return out
		}
		leg, last = e, i+1
	}
	out := make([]int32, len(path))
	for i := range path {
		out[i] = path[i].Conductor
	}
	return out
}

// expectedLegs says for every rail and bus node which leg it should carry: rails by the
// polarity of their section, wires by their own name.
func expectedLegs(c *circuit.Circuit, p *Polarity) []int8 {
	out := make([]int8, c.Nodes)
	set := func(node int32, leg layout.Leg) { out[node] = int8(leg) + 1 }
	for s := range c.Spots {
		a, ok := p.ARail(int32(s))
		if !ok {
			continue
		}
		set(c.Spots[s].Node[a], layout.A)
		set(c.Spots[s].Node[a.Other()], layout.B)
	}
	for i := range c.BusNodes {
		for leg := range layout.Leg(2) {
			for _, n := range c.BusNodes[i].Node[leg] {
				if n >= 0 {
					set(n, leg)
				}
			}
		}
	}
	return out
}

// inSettings looks at each device by itself in each of its positions, together with what
// is thrown with it, where that is possible in a valid setting of all devices.
func (f *conflictFinder) inSettings(ctx context.Context, nets *Nets, possible func([]Setting) bool) ([]Conflict, error) {
	byPosition := f.conditional()
	demands := make([][]int32, len(f.c.Devices))
	for i := range f.c.Demands {
		d := f.c.Demands[i].Device
		demands[d] = append(demands[d], int32(i))
	}
	var out []Conflict
	for d := range f.c.Devices {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		switch f.c.Devices[d].Kind {
		case circuit.ReverserDevice, circuit.PlugDevice:
			continue // their legs part districts
		case circuit.FrogDevice:
			continue // it follows the wheels, so it is never in a position that shorts
		}
		for at := range f.c.Devices[d].Positions {
			settings := thrown(f.c, Setting{int32(d), int16(at)})
			if !possible(settings) {
				continue
			}
			shorts := f.inSetting(nets, byPosition, settings)
			for _, x := range shorts {
				told := slices.ContainsFunc(out, func(y Conflict) bool { return slices.Equal(x.Path, y.Path) && within(x.Settings, y.Settings) })
				if f.uses(&x, int32(d)) && !told {
					out = append(out, x)
				} // else what is thrown along shorts, and is told of
			}
			if len(shorts) > 0 {
				continue
			}
			out = append(out, f.demands(nets, byPosition, settings, demands[d])...)
		}
	}
	return out, nil
}

// uses reports whether a short runs through a device.
func (f *conflictFinder) uses(x *Conflict, device int32) bool {
	return slices.ContainsFunc(x.Path, func(s Step) bool { return f.c.Conductors[s.Conductor].Device == device })
}

// conditional lists the conductors of each device's positions.
func (f *conflictFinder) conditional() map[Setting][]int32 {
	out := map[Setting][]int32{}
	for i := range f.c.Conductors {
		if k := &f.c.Conductors[i]; k.Device >= 0 && !k.Parts() && !f.masked[i] {
			key := Setting{k.Device, k.Position}
			out[key] = append(out[key], int32(i))
		}
	}
	return out
}

// overlay joins nets further by the conductors of a setting.
type overlay struct {
	nets *Nets
	to   map[int32]int32
}

func (o *overlay) find(net int32) int32 {
	for {
		next, found := o.to[net]
		if !found {
			return net
		}
		net = next
	}
}

func (f *conflictFinder) overlay(nets *Nets, byPosition map[Setting][]int32, settings []Setting) (*overlay, []int32) {
	o := &overlay{nets: nets, to: map[int32]int32{}}
	var touched []int32
	for _, s := range settings {
		for _, k := range byPosition[s] {
			x, y := o.find(nets.Of[f.c.Conductors[k].A]), o.find(nets.Of[f.c.Conductors[k].B])
			touched = append(touched, nets.Of[f.c.Conductors[k].A], nets.Of[f.c.Conductors[k].B])
			if x != y {
				o.to[max(x, y)] = min(x, y)
			}
		}
	}
	slices.Sort(touched)
	return o, slices.Compact(touched)
}

// inSetting lists the shorts of one setting, one for each piece of metal that carries two legs.
func (f *conflictFinder) inSetting(nets *Nets, byPosition map[Setting][]int32, settings []Setting) []Conflict {
	o, touched := f.overlay(nets, byPosition, settings)
	labels := map[int32][]Label{}
	var roots []int32
	for _, net := range touched {
		root := o.find(net)
		if _, seen := labels[root]; !seen {
			roots = append(roots, root)
		}
		labels[root] = append(labels[root], nets.labels[net]...)
	}
	var out []Conflict
	for _, root := range roots {
		if x, y, found := clash(f.c, labels[root]); found {
			out = append(out, f.describe(x, y, settings))
		}
	}
	return out
}

// demands finds frogs that carry the wrong leg for the wheels that this setting leads
// over them.
func (f *conflictFinder) demands(nets *Nets, byPosition map[Setting][]int32, settings []Setting, demands []int32) []Conflict {
	var out []Conflict
	o, touched := f.overlay(nets, byPosition, settings)
	labelsOf := func(node int32) []Label {
		root := o.find(nets.Of[node])
		ls := slices.Clone(nets.Labels(node))
		for _, net := range touched {
			if net != nets.Of[node] && o.find(net) == root {
				ls = append(ls, nets.labels[net]...)
			}
		}
		return ls
	}
	for _, i := range demands {
		d := &f.c.Demands[i]
		if d.Position != settings[0].Position {
			continue
		}
		frog, as := labelsOf(d.Frog), labelsOf(d.As)
		if len(frog) == 0 || len(as) == 0 {
			continue
		}
		if _, _, found := clash(f.c, []Label{frog[0], as[0]}); !found && !apart(f.c, frog[0], as[0]) {
			continue
		}
		x := f.describe(frog[0], as[0], settings)
		x.Path = f.walk(f.c.Sources[frog[0].Source].Out[frog[0].Leg], d.Frog, settings)
		x.Cause, x.Demand = nil, i
		out = append(out, x)
	}
	return out
}
