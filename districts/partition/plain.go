package partition

import (
	"slices"
	"sort"
)

// fewestDistricts is how many districts there have to be.
func (s *solver) fewestDistricts() int {
	n := max(s.pieces(), s.problem.Least)
	for _, m := range s.room(len(s.problem.Trains)) {
		d, _ := m.fewest(s.classes)
		n = max(n, d)
	}
	return n
}

// pieces counts the parts of the graph that no edge joins.
func (s *solver) pieces() int {
	set := newSets(len(s.problem.Nodes))
	n := len(s.problem.Nodes)
	for _, e := range s.problem.Edges {
		if set.join(int(e.A), int(e.B)) {
			n--
		}
	}
	return n
}

// plain is what a term comes to at the least by counting alone.
func (s *solver) plain(t Term) int64 {
	switch t {
	case Trains:
		least := 0
		for _, id := range s.holdings.node {
			least = max(least, s.holdings.list[id].trains)
		}
		n := sort.Search(len(s.problem.Trains), func(n int) bool {
			return !slices.ContainsFunc(s.room(n), func(m measure) bool { return m.exceeded(s.classes) })
		})
		return int64(max(least, n))
	case Bus:
		var near []int64
		for v := range s.problem.Nodes {
			near = append(near, s.problem.Nodes[v].Near)
		}
		slices.Sort(near)
		sum := int64(0)
		for _, d := range near[:min(s.fewestDistricts(), len(near))] {
			sum += d
		}
		return sum
	default:
		return 0
	}
}
