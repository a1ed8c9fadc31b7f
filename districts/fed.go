package districts

import (
	"slices"

	"gapwise/districts/settings"
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// FedState says how sure it is that a rail is fed.
type FedState uint8

const (
	Dead      FedState = iota // no leg reaches it in any setting
	IfJoints                  // only through joints that nobody can vouch for
	InSetting                 // in some setting of track work, not in all
	FedAlways                 // in every setting, through sure metal
)

// fedNodes decides for every node how it is fed: by sure metal always, in some
// setting, or only when uncertain conductors conduct. open are devices at which the search over
// settings stopped: what lies behind them counts as fed.
func fedNodes(c *circuit.Circuit) (states []FedState, open []int32) {
	sure := joinNets(c, always(Feeding))
	loose := joinNets(c, always(NoShort))
	bySetting, open := reachedNets(c, feedingBy(c, sure, true))
	byJoints, more := reachedNets(c, feedingBy(c, loose, false))
	open = append(open, more...)
	slices.Sort(open)
	out := make([]FedState, c.Nodes)
	for n := range out {
		switch {
		case len(sure.labels[sure.Of[n]]) > 0:
			out[n] = FedAlways
		case bySetting[sure.Of[n]]:
			out[n] = InSetting
		case byJoints[loose.Of[n]]:
			out[n] = IfJoints
		}
	}
	return out, slices.Compact(open)
}

// feedingBy searches for settings that bring a leg to a net, by sure conductors or by all.
func feedingBy(c *circuit.Circuit, nets *Nets, sure bool) *together {
	f := &conflictFinder{c: c, never: exclusions(c)}
	return f.newTogether(nets, func(_ int32, k *circuit.Conductor) bool {
		return (k.Sure || !sure) && !c.Devices[k.Device].Momentary(k.Position) // a moment feeds nothing
	})
}

// reachedNets says which nets a leg can reach in some valid setting, by their numbers. Beyond the
// bound on the search a net counts as reached; it is dead only when that is proven.
func reachedNets(c *circuit.Circuit, g *together) (out []bool, open []int32) {
	out = make([]bool, c.Nodes)
	for net := range g.nets.labels {
		out[net] = true
	}
	g.chart()
	for _, is := range g.islands {
		if len(is.shores) == 0 {
			continue
		}
		for _, net := range is.nets {
			if out[net] {
				continue
			}
			a := g.feeds(net)
			out[net] = a.Verdict != settings.Absent
			for _, way := range a.Ways { // what lies on the way is reached too
				for _, n := range way {
					out[g.named[n]] = true
				}
			}
		}
	}
	return out, g.unproven()
}

// DeadRun is a stretch of joined track whose rails are not fed alike everywhere else:
// Ways are its lengths of track, in order of the layout; State is each rail's by the
// sense of the run's first way.
type DeadRun struct {
	Ways   []int32
	State  [2]FedState // of Left and Right at the first way's A spot
	Length float64
	// Bounds are the cut ways that close it in, rising.
	Bounds []int32
}

// deadRuns lists the stretches where a rail is less than always fed, or fed in some
// setting only. Neighbouring lengths in the same state are one run.
func deadRuns(c *circuit.Circuit, state []FedState, ways *adjacency) []DeadRun {
	seen := make([]bool, len(c.Ways))
	var out []DeadRun
	for i := range c.Ways {
		w := &c.Ways[i]
		if seen[i] || w.Kind != circuit.WayTrack {
			continue
		}
		s := wayState(c, state, w, false)
		if s[0] >= InSetting && s[1] >= InSetting {
			continue
		}
		out = append(out, growRun(c, state, ways, int32(i), s, seen))
	}
	return out
}

// wayState is the state of a way's left and right rails by its A spot, or swapped.
func wayState(c *circuit.Circuit, state []FedState, w *circuit.Way, swap bool) [2]FedState {
	n := c.Spots[w.A].Node
	s := [2]FedState{state[n[layout.Left]], state[n[layout.Right]]}
	if swap {
		s[0], s[1] = s[1], s[0]
	}
	return s
}

// growRun collects the ways joined to one through spots, while their rails are in the
// same state.
func growRun(c *circuit.Circuit, state []FedState, ways *adjacency, first int32, s [2]FedState, seen []bool) DeadRun {
	run := DeadRun{State: s}
	type at struct {
		spot int32
		swap bool
	}
	queue := []at{{c.Ways[first].A, false}}
	visited := map[int32]bool{c.Ways[first].A: true}
	for len(queue) > 0 {
		x := queue[0]
		queue = queue[1:]
		for _, k := range ways.of(x.spot) {
			w := &c.Ways[k]
			if w.Kind == circuit.WayCut && (w.Metal[0] == circuit.Open || w.Metal[1] == circuit.Open) {
				run.Bounds = append(run.Bounds, k)
			}
			other := w.A + w.B - x.spot
			swap := x.swap != w.Turned
			n := c.Spots[other].Node
			o := [2]FedState{state[n[0]], state[n[1]]}
			if swap {
				o[0], o[1] = o[1], o[0]
			}
			if o != s || w.Kind == circuit.WayPit {
				continue
			}
			if w.Kind == circuit.WayTrack && !seen[k] {
				seen[k] = true
				run.Ways = append(run.Ways, k)
				run.Length += w.Length
			}
			if !visited[other] {
				visited[other] = true
				queue = append(queue, at{other, swap})
			}
		}
	}
	slices.Sort(run.Ways)
	slices.Sort(run.Bounds)
	run.Bounds = slices.Compact(run.Bounds)
	return run
}
