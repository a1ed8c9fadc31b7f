package partition

import "slices"

// trace follows a border of the last layer back to the first, and then divides the nodes as its ways say.
func (p *pass) trace(last int32) []int32 {
	taken := make([]way, len(p.ways))
	for i := len(p.ways) - 1; i >= 0; i-- {
		taken[i] = p.ways[i][last]
		last = taken[i].from
	}
	set := newSets(len(p.problem.Nodes))
	class := make([]uint8, len(p.problem.Nodes))
	var nodes []int32 // at the border
	for i, v := range p.sweep.order {
		class[v] = taken[i].class
		// districts are numbered as they are first met along the border
		var met []int
		for _, o := range nodes {
			root := set.of(int(o))
			if !slices.Contains(met, root) {
				met = append(met, root)
			}
		}
		for l, root := range met {
			if taken[i].joined>>l&1 == 1 {
				set.join(int(v), root)
			}
		}
		nodes = append(nodes, v)
		var stay []int32
		for _, at := range p.sweep.stays[i] {
			stay = append(stay, nodes[at])
		}
		nodes = stay
	}
	return p.name(set, class)
}

// name gives the districts of a division that a pass has traced their parts: those of a class in the order of their
// first nodes.
func (s *solver) name(set *sets, class []uint8) []int32 {
	out := make([]int32, len(class))
	next := make([]int, len(s.classes))
	part := map[int]int32{}
	for v := range class {
		root := set.of(v)
		k, named := part[root]
		if !named {
			c := class[v]
			k = s.classes[c].parts[next[c]]
			next[c]++
			part[root] = k
		}
		out[v] = k
	}
	return out
}
