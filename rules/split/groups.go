package split

// groups joins numbers into groups, each named by its least member.
type groups struct{ up []int32 }

func newGroups(n int) *groups {
	g := &groups{make([]int32, n)}
	for i := range g.up {
		g.up[i] = int32(i)
	}
	return g
}

func (g *groups) of(x int32) int32 {
	for g.up[x] != x {
		g.up[x] = g.up[g.up[x]]
		x = g.up[x]
	}
	return x
}

func (g *groups) join(x, y int32) {
	x, y = g.of(x), g.of(y)
	g.up[max(x, y)] = min(x, y)
}
