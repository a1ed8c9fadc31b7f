package settings

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// A second opinion by trying every setting of all devices. It uses the problem's own words only:
// positions, what a position makes of coupled devices, and which sets may not hold.

// wholes calls f with every valid setting of all devices: by each coupled group a position of one
// member and what is thrown along, with no forbidden set held in full.
func wholes(p *Problem, f func(all []int16)) {
	n := len(p.Positions)
	all := make([]int16, n)
	for d := range all {
		all[d] = -1
	}
	var next func(d int)
	seen := map[string]bool{}
	next = func(d int) {
		for d < n && all[d] >= 0 {
			d++
		}
		if d == n {
			key := ""
			for _, at := range all {
				key += string(rune(at + 1))
			}
			if seen[key] {
				return
			}
			seen[key] = true
			for _, set := range p.Never {
				if !slices.ContainsFunc(set, func(s Setting) bool { return all[s.Device] != s.Position }) {
					return
				}
			}
			f(all)
			return
		}
		members := []int{d}
		for i := 0; i < len(members); i++ {
			for _, k := range p.Coupled[members[i]] {
				if !slices.Contains(members, int(k.Device)) {
					members = append(members, int(k.Device))
				}
			}
		}
		for _, m := range members {
			for at := range p.Positions[m] {
				all[m] = int16(at)
				queue := []int{m}
				for len(queue) > 0 {
					x := queue[0]
					queue = queue[1:]
					for _, k := range p.Coupled[x] {
						if all[k.Device] < 0 {
							all[k.Device] = k.To[all[x]]
							queue = append(queue, int(k.Device))
						}
					}
				}
				next(d + 1)
				for _, o := range members {
					all[o] = -1
				}
			}
		}
	}
	next(0)
}

// groupOf numbers the coupled groups.
func groupOf(p *Problem) []int {
	out := make([]int, len(p.Positions))
	for d := range out {
		out[d] = d
	}
	for range out {
		for d := range out {
			for _, k := range p.Coupled[d] {
				low := min(out[d], out[k.Device])
				out[d], out[k.Device] = low, low
			}
		}
	}
	return out
}

// joined reports whether the connections are there with the edges of some groups only, bits of used, in
// a whole setting.
func joined(p *Problem, q *Query, all []int16, used uint64, group []int) bool {
	to := make([]int, p.Nets)
	for n := range to {
		to[n] = n
	}
	for range to {
		for _, x := range q.Joined {
			low := min(to[x[0]], to[x[1]])
			to[x[0]], to[x[1]] = low, low
		}
	}
	stop := make([]bool, p.Nets)
	for n, s := range p.Stop {
		stop[to[n]] = stop[to[n]] || s
	}
	for _, c := range q.Connect {
		seen := make([]bool, p.Nets)
		var queue []int
		for _, n := range c.From {
			seen[to[n]] = true
			queue = append(queue, to[n])
		}
		first := len(queue)
		there := false
		for i := 0; i < len(queue) && !there; i++ {
			n := queue[i]
			there = slices.ContainsFunc(c.To, func(m int32) bool { return to[m] == n })
			if i >= first && stop[n] {
				continue
			}
			for _, e := range p.Edges {
				if all[e.Device] != e.Position || used&(1<<group[e.Device]) == 0 {
					continue
				}
				a, b := to[e.A], to[e.B]
				if a != n {
					a, b = b, a
				}
				if a == n && !seen[b] {
					seen[b] = true
					queue = append(queue, b)
				}
			}
		}
		if !there {
			return false
		}
	}
	return true
}

// fewest tries everything: the fewest levers beyond the given, -1 when no valid setting does.
func fewest(p *Problem, q *Query) int {
	group := groupOf(p)
	given, all := uint64(0), uint64(0)
	for _, s := range q.Given {
		given |= 1 << group[s.Device]
	}
	for _, g := range group {
		all |= 1 << g
	}
	best := -1
	wholes(p, func(at []int16) {
		for _, s := range q.Given {
			if at[s.Device] != s.Position {
				return
			}
		}
		for used := uint64(0); used <= all; used++ {
			if used&^all != 0 || used&given != given {
				continue
			}
			n := 0
			for b := used &^ given; b != 0; b &= b - 1 {
				n++
			}
			if best >= 0 && n >= best {
				continue
			}
			if slices.ContainsFunc(q.Told, func(set []Setting) bool {
				return !slices.ContainsFunc(set, func(s Setting) bool { return at[s.Device] != s.Position || used&(1<<group[s.Device]) == 0 })
			}) {
				continue
			}
			if joined(p, q, at, used, group) {
				best = n
			}
		}
	})
	return best
}

// randomProblem is small: up to seven devices of two to four positions.
func randomProblem(r *rand.Rand) (*Problem, *Query) {
	p := &Problem{Nets: 3 + r.IntN(8)}
	devices := 1 + r.IntN(6)
	p.Coupled = make([][]Coupling, devices)
	for range devices {
		p.Positions = append(p.Positions, 2+max(0, r.IntN(5)-2))
	}
	net := func() int32 { return int32(r.IntN(p.Nets)) }
	setting := func() Setting {
		d := r.IntN(devices)
		return Setting{int32(d), int16(r.IntN(p.Positions[d]))}
	}
	for range r.IntN(4 * devices) {
		s := setting()
		p.Edges = append(p.Edges, Edge{net(), net(), s.Device, s.Position})
	}
	if r.IntN(2) == 0 {
		for range 1 + r.IntN(2) {
			if a, b := r.IntN(devices), r.IntN(devices); a != b {
				couple(p, a, b)
			}
		}
	}
	for range r.IntN(4) {
		set := make([]Setting, 1+r.IntN(3))
		for i := range set {
			set[i] = setting()
		}
		p.Never = append(p.Never, set)
	}
	p.Stop = make([]bool, p.Nets)
	for n := range p.Stop {
		p.Stop[n] = r.IntN(4) == 0
	}
	q := &Query{}
	some := func() []int32 {
		out := []int32{net()}
		for r.IntN(3) == 0 {
			out = append(out, net())
		}
		return out
	}
	for range 1 + r.IntN(2) {
		q.Connect = append(q.Connect, Connection{some(), some()})
	}
	for r.IntN(3) == 0 {
		q.Given = append(q.Given, setting())
	}
	for r.IntN(4) == 0 {
		q.Joined = append(q.Joined, [2]int32{net(), net()})
	}
	for r.IntN(2) == 0 {
		q.Told = append(q.Told, []Setting{setting(), setting()}[:1+r.IntN(2)])
	}
	return p, q
}

// couple throws two devices together, positions by number, those beyond to the last.
func couple(p *Problem, a, b int) {
	for _, x := range [2][2]int{{a, b}, {b, a}} {
		k := Coupling{Device: int32(x[1])}
		for at := range p.Positions[x[0]] {
			k.To = append(k.To, int16(min(at, p.Positions[x[1]]-1)))
		}
		p.Coupled[x[0]] = append(p.Coupled[x[0]], k)
	}
}

// checkWitness asserts that an answer's settings are part of a valid whole setting, hold nothing
// told, and make the connections by themselves.
func checkWitness(t *testing.T, p *Problem, q *Query, a *Answer) {
	t.Helper()
	group := groupOf(p)
	used := uint64(0)
	for _, s := range a.Settings {
		used |= 1 << group[s.Device]
	}
	good := false
	wholes(p, func(at []int16) {
		if slices.ContainsFunc(a.Settings, func(s Setting) bool { return at[s.Device] != s.Position }) {
			return
		}
		good = good || joined(p, q, at, used, group)
	})
	if !good {
		t.Fatalf("%+v\n%+v\n%+v is no witness", p, q, a)
	}
	for _, set := range q.Told {
		if !slices.ContainsFunc(set, func(s Setting) bool { return !slices.Contains(a.Settings, s) }) {
			t.Fatalf("%+v\n%+v\n%+v holds what is told", p, q, a)
		}
	}
}

// TestAgainstEverySetting compares found or absent and the number of levers with trying every
// setting, on small random problems.
func TestAgainstEverySetting(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 7))
	count := map[int]int{}
	swept := 0
	for range 12000 {
		p, q := randomProblem(r)
		want := fewest(p, q)
		count[want]++
		s := New(p)
		a := s.Solve(q)
		if a.Verdict == Open || (a.Verdict == Found) != (want >= 0) {
			t.Fatalf("%+v\n%+v\ngot %+v, trying every setting says %d", p, q, a, want)
		}
		if want < 0 {
			continue
		}
		if a.Levers != want {
			t.Fatalf("%+v\n%+v\n%+v takes %d levers, trying every setting says %d", p, q, a, a.Levers, want)
		}
		checkWitness(t, p, q, &a)
		if want > 1 {
			swept++
		}
	}
	t.Logf("levers: %v", count)
	for _, n := range []int{-1, 0, 1, 2, 3} {
		if count[n] < 50 {
			t.Errorf("only %d problems take %d levers", count[n], n)
		}
	}
	if swept < 500 {
		t.Errorf("only %d problems take several levers", swept)
	}
}
