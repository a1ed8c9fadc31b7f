package districts

import (
	"slices"

	"gapwise/netlist/circuit"
)

// shortestWalk is a walk of fewest conductors from any of the starts to a goal, through
// conductors that take allows; nil when there is none. Ties go to the lesser ids.
func shortestWalk(c *circuit.Circuit, adj *adjacency, starts []int32, goal func(int32) bool, take func(k int32) bool) []Step {
	via := map[int32]int32{}
	queue := slices.Clone(starts)
	for _, s := range starts {
		via[s] = -1
		if goal(s) {
			return nil
		}
	}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		for _, k := range adj.of(n) {
			if !take(k) {
				continue
			}
			m := c.Conductors[k].A + c.Conductors[k].B - n
			if _, seen := via[m]; seen {
				continue
			}
			via[m] = k
			if goal(m) {
				return unwind(c, via, m)
			}
			queue = append(queue, m)
		}
	}
	return nil
}

func unwind(c *circuit.Circuit, via map[int32]int32, at int32) []Step {
	var path []Step
	for via[at] >= 0 {
		k := via[at]
		path = append(path, Step{Conductor: k, Node: at})
		at = c.Conductors[k].A + c.Conductors[k].B - at
	}
	slices.Reverse(path)
	return path
}
