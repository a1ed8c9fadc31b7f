package districts

// unionFind groups 0..n-1. The representative of a group is its least member once
// flatten has run, so that results do not depend on the order of unions.
type unionFind struct{ parent []int32 }

func newUnionFind(n int) *unionFind {
	u := &unionFind{parent: make([]int32, n)}
	for i := range u.parent {
		u.parent[i] = int32(i)
	}
	return u
}

func (u *unionFind) find(x int32) int32 {
	for u.parent[x] != x {
		u.parent[x] = u.parent[u.parent[x]]
		x = u.parent[x]
	}
	return x
}

// union joins two groups under the lesser representative, and reports whether they
// were apart.
func (u *unionFind) union(x, y int32) bool {
	x, y = u.find(x), u.find(y)
	if x == y {
		return false
	}
	if y < x {
		x, y = y, x
	}
	u.parent[y] = x
	return true
}

// flatten makes parent[x] the representative of x.
func (u *unionFind) flatten() []int32 {
	for i := range u.parent {
		u.parent[i] = u.parent[u.parent[i]]
	}
	return u.parent
}

// parityFind groups elements and keeps, for each, whether it is turned against its
// group's representative.
type parityFind struct {
	parent []int32
	turned []bool // against parent
}

func newParityFind(n int) *parityFind {
	p := &parityFind{parent: make([]int32, n), turned: make([]bool, n)}
	for i := range p.parent {
		p.parent[i] = int32(i)
	}
	return p
}

// find gives the representative of x and whether x is turned against it.
func (p *parityFind) find(x int32) (int32, bool) {
	root, turned := x, false
	for p.parent[root] != root {
		turned = turned != p.turned[root]
		root = p.parent[root]
	}
	for at, t := x, turned; p.parent[at] != root && at != root; {
		next, nextTurned := p.parent[at], t != p.turned[at]
		p.parent[at], p.turned[at] = root, t
		at, t = next, nextTurned
	}
	return root, turned
}

// union joins x and y, turned against each other or not. It reports false when they
// were in one group already with the opposite sense.
func (p *parityFind) union(x, y int32, turned bool) bool {
	rx, tx := p.find(x)
	ry, ty := p.find(y)
	if rx == ry {
		return (tx != ty) == turned
	}
	if ry < rx {
		rx, ry = ry, rx
	}
	p.parent[ry], p.turned[ry] = rx, (tx != ty) != turned
	return true
}
