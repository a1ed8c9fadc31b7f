package partition

// sets are disjoint sets of nodes.
type sets struct{ up []int }

func newSets(n int) *sets {
	s := &sets{up: make([]int, n)}
	for i := range s.up {
		s.up[i] = i
	}
	return s
}

func (s *sets) of(v int) int {
	for s.up[v] != v {
		s.up[v] = s.up[s.up[v]]
		v = s.up[v]
	}
	return v
}

// join makes two sets one, and reports whether they were two.
func (s *sets) join(a, b int) bool {
	x, y := s.of(a), s.of(b)
	s.up[x] = y
	return x != y
}
