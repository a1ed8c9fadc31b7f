package settings

import "slices"

// lever is a group of devices that are thrown together. A position of it is a position of each
// member: at[p][i] is that of members[i].
type lever struct {
	members []int32
	at      [][]int16
	never   []int32 // sets of Problem.Never that name one of its members, rising
}

// member gives the place of a device among a lever's members.
func (l *lever) member(device int32) int {
	at, _ := slices.BinarySearch(l.members, device)
	return at
}

// levers groups devices by what is thrown together. The positions of a group are all that come
// about by putting one member in one of its positions.
func levers(p *Problem) (list []lever, of []int32) {
	n := len(p.Positions)
	of = make([]int32, n)
	for d := range of {
		of[d] = -1
	}
	beside := make([][]int32, n)
	for d, cs := range p.Coupled {
		for _, k := range cs {
			beside[d] = append(beside[d], k.Device)
			beside[k.Device] = append(beside[k.Device], int32(d))
		}
	}
	for d := range n {
		if of[d] >= 0 {
			continue
		}
		id := int32(len(list))
		of[d] = id
		group := []int32{int32(d)}
		for at := 0; at < len(group); at++ {
			for _, e := range beside[group[at]] {
				if of[e] < 0 {
					of[e] = id
					group = append(group, e)
				}
			}
		}
		slices.Sort(group)
		list = append(list, lever{members: group, at: tuples(p, group)})
	}
	return list, of
}

// tuples lists the positions of a group, each once.
func tuples(p *Problem, group []int32) [][]int16 {
	if len(group) == 1 {
		out := make([][]int16, p.Positions[group[0]])
		for at := range out {
			out[at] = []int16{int16(at)}
		}
		return out
	}
	var out [][]int16
	seen := map[string]bool{}
	for _, d := range group {
		for at := range p.Positions[d] {
			t := thrown(p, group, Setting{d, int16(at)})
			key := make([]byte, 0, 2*len(t))
			for _, x := range t {
				key = append(key, byte(x), byte(x>>8))
			}
			if !seen[string(key)] {
				seen[string(key)] = true
				out = append(out, t)
			}
		}
	}
	return out
}

// thrown gives the position of every member of a group when one of them is set, by what is coupled
// to it directly first, then by what is coupled to that.
func thrown(p *Problem, group []int32, s Setting) []int16 {
	out := make([]int16, len(group))
	for i := range out {
		out[i] = -1
	}
	place := func(d int32) int { at, _ := slices.BinarySearch(group, d); return at }
	out[place(s.Device)] = s.Position
	queue := []int32{s.Device}
	for len(queue) > 0 {
		d := queue[0]
		queue = queue[1:]
		if int(d) >= len(p.Coupled) {
			continue
		}
		for _, k := range p.Coupled[d] {
			if at := place(k.Device); out[at] < 0 && int(out[place(d)]) < len(k.To) {
				out[at] = k.To[out[place(d)]]
				queue = append(queue, k.Device)
			}
		}
	}
	return out
}

// literal asks for a lever in one of some positions.
type literal struct {
	lever int32
	in    []bool // by position of the lever
}

// literals turns a set of settings into what it asks of levers, rising; ok is false when no
// setting of all devices can hold them all.
func (s *Solver) literals(set []Setting) (list []literal, ok bool) {
	for _, x := range set {
		if int(x.Device) >= len(s.leverOf) || x.Device < 0 {
			return nil, false
		}
		id := s.leverOf[x.Device]
		at := slices.IndexFunc(list, func(l literal) bool { return l.lever == id })
		if at < 0 {
			at = len(list)
			in := make([]bool, len(s.levers[id].at))
			for p := range in {
				in[p] = true
			}
			list = append(list, literal{id, in})
		}
		m := s.levers[id].member(x.Device)
		for p, t := range s.levers[id].at {
			list[at].in[p] = list[at].in[p] && t[m] == x.Position
		}
	}
	slices.SortFunc(list, func(x, y literal) int { return int(x.lever - y.lever) })
	return list, !slices.ContainsFunc(list, func(l literal) bool { return !slices.Contains(l.in, true) })
}
