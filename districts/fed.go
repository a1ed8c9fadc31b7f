package districts

import (
	"slices"

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
// setting, or only when uncertain conductors conduct.
func fedNodes(c *circuit.Circuit) []FedState {
	sure := joinNets(c, always(Feeding))
	loose := joinNets(c, always(NoShort))
	bySetting := reached(c, sure, func(k *circuit.Conductor) bool { return k.Sure && !k.Parts() })
	byJoints := reached(c, loose, func(k *circuit.Conductor) bool { return !k.Parts() })
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
	return out
}

// Who brings current to a net: nobody, wires and rails that are always joined (or two
// devices, whichever way they are set), else the one device by its number.
const (
	nobody = -2
	anyhow = -1
)

// reached says which nets a leg can reach in some setting, by conductors that take allows.
// Each position of a device is taken by itself: what a device feeds in one position is no
// source for it in another, so that two blades never touch at once. What two devices feed
// in turn counts as fed anyhow, which may call a rail fed whose feeding needs settings that
// exclude each other.
func reached(c *circuit.Circuit, nets *Nets, take func(*circuit.Conductor) bool) []bool {
	by := make([]int32, c.Nodes)
	for n := range by {
		by[n] = nobody
	}
	for net := range nets.labels {
		by[net] = anyhow
	}
	conditional := make([][][]int32, len(c.Devices))
	for d := range conditional {
		conditional[d] = make([][]int32, len(c.Devices[d].Positions))
	}
	for i := range c.Conductors {
		if k := &c.Conductors[i]; k.Device >= 0 && take(k) {
			at := &conditional[k.Device][k.Position]
			*at = append(*at, int32(i))
		}
	}
	for changed := true; changed; {
		changed = false
		for d := range conditional {
			for _, conductors := range conditional[d] {
				changed = feedPosition(c, nets, conductors, int32(d), by) || changed
			}
		}
	}
	out := make([]bool, c.Nodes)
	for n := range out {
		out[n] = by[n] != nobody
	}
	return out
}

// feedPosition spreads what reaches a device through the conductors of one position, and
// reports whether it reached anything new.
func feedPosition(c *circuit.Circuit, nets *Nets, conductors []int32, d int32, by []int32) bool {
	reachedNow := map[int32]bool{}
	live := func(net int32) bool { return reachedNow[net] || (by[net] != nobody && by[net] != d) }
	for grew := true; grew; {
		grew = false
		for _, i := range conductors {
			a, b := nets.Of[c.Conductors[i].A], nets.Of[c.Conductors[i].B]
			if live(a) == live(b) {
				continue
			}
			reachedNow[a], reachedNow[b] = true, true
			grew = true
		}
	}
	changed := false
	for net := range reachedNow {
		switch by[net] {
		case nobody:
			by[net], changed = d, true
		case d, anyhow:
		default:
			by[net], changed = anyhow, true
		}
	}
	return changed
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
