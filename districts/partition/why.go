package partition

import "slices"

// why looks for a plain reason why there is no division; nil when counting alone finds none.
func (s *solver) why() *Impossibility {
	most := int64(0)
	for _, c := range s.problem.Parts {
		most = max(most, c.MilliAmps)
	}
	for v, id := range s.holdings.node {
		limit := most
		if pin := s.problem.Nodes[v].Pin; pin >= 0 {
			limit = s.problem.Parts[pin].MilliAmps
		}
		if x := s.holdings.list[id]; x.amps > limit {
			return &Impossibility{Node: int32(v), Over: x.amps - limit}
		}
	}
	if len(s.problem.Nodes) < s.problem.Least {
		return &Impossibility{Node: -1, Few: true}
	}
	sum, standing := int64(0), int64(0)
	for _, c := range s.problem.Parts {
		sum += max(c.MilliAmps, 0)
	}
	for v := range s.problem.Nodes {
		standing += s.problem.Nodes[v].Load
	}
	if standing > sum {
		return &Impossibility{Node: -1, Over: standing - sum, Together: true, More: more(standing-sum, most)}
	}
	for _, m := range s.berths(len(s.problem.Trains)) {
		if _, over := m.fewest(s.classes); over > 0 {
			return &Impossibility{Node: -1, Berths: int(over), More: more(over, slices.Max(m.most))}
		}
	}
	return nil
}

// more is how many times each goes into over, rounded up.
func more(over, each int64) int {
	if each <= 0 {
		return 0
	}
	return int((over + each - 1) / each)
}
