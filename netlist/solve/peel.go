package solve

import (
	"cmp"
	"math"
	"slices"
)

// degrees counts the neighbours of every node.
func degrees(g *graph) []int32 {
	degree := make([]int32, g.n)
	for i := range degree {
		degree[i] = g.start[i+1] - g.start[i]
	}
	return degree
}

// peel orders, and marks as gone, nodes with one neighbour at most, again and again: they add
// nothing to the factor but themselves. A tree is peeled to its last node. Degrees become those of
// what is left.
func peel(g *graph, degree []int32, gone []bool, order []int32) []int32 {
	from := len(order)
	for i, d := range degree {
		if d <= 1 {
			gone[i] = true
			order = append(order, int32(i))
		}
	}
	for ; from < len(order); from++ {
		i := order[from]
		for _, j := range g.list[g.start[i]:g.start[i+1]] {
			degree[j]--
			if degree[j] <= 1 && !gone[j] {
				gone[j] = true
				order = append(order, j)
			}
		}
	}
	return order
}

// crowded lists, and marks as gone, nodes with so many neighbours that the method would spend its
// time on their lists; they are best eliminated last, the fewest neighbours first (the dense rows
// of Amestoy, Davis and Duff).
func crowded(degree []int32, gone []bool) []int32 {
	most := int32(max(16, 10*math.Sqrt(float64(len(degree)))))
	var out []int32
	for i, d := range degree {
		if d > most && !gone[i] {
			gone[i] = true
			out = append(out, int32(i))
		}
	}
	slices.SortStableFunc(out, func(i, j int32) int { return cmp.Compare(degree[i], degree[j]) })
	return out
}
