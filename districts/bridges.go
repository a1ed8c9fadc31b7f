package districts

import "gapwise/netlist/circuit"

// bridges marks the ways that lie on no ring of track, gaps and routes included: cutting
// one parts the layout in two. Method: Tarjan 1974, by depth-first order and the earliest
// spot reached back to; without recursion, since a main line may be long.
func bridges(c *circuit.Circuit, ways *adjacency) []bool {
	n := len(c.Spots)
	order, low := make([]int32, n), make([]int32, n)
	next := make([]int32, n) // how many ways of a spot have been looked at
	via := make([]int32, n)  // the way a spot was reached by
	out := make([]bool, len(c.Ways))
	count := int32(0)
	for start := range c.Spots {
		if order[start] != 0 {
			continue
		}
		via[start] = -1
		count++
		order[start], low[start] = count, count
		stack := []int32{int32(start)}
		for len(stack) > 0 {
			v := stack[len(stack)-1]
			if around := ways.of(v); int(next[v]) < len(around) {
				k := around[next[v]]
				next[v]++
				w := c.Ways[k].A + c.Ways[k].B - v
				switch {
				case k == via[v]:
				case order[w] != 0:
					low[v] = min(low[v], order[w])
				default:
					count++
					order[w], low[w], via[w] = count, count, k
					stack = append(stack, w)
				}
				continue
			}
			stack = stack[:len(stack)-1]
			if via[v] < 0 {
				continue
			}
			u := c.Ways[via[v]].A + c.Ways[via[v]].B - v
			low[u] = min(low[u], low[v])
			out[via[v]] = low[v] > order[u]
		}
	}
	return out
}
