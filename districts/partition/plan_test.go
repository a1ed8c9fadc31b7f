package partition

import "math/rand/v2"

// plan is a track plan made up for tests: a main loop with passing sidings, yards, branches, and a second deck, a loop like it, that
// two helix tracks join to it.
type plan struct {
	r *rand.Rand
	p *Problem
}

// trackPlan draws a plan of so many blocks, and allows so many districts. What a district may draw lets it have its share of the
// berths and so many more, tight being few. In a restricted plan yards and branches take some of the trains only.
func trackPlan(blocks, districts, more int, restricted bool, seed uint64) *Problem {
	d := &plan{r: rand.New(rand.NewPCG(seed, uint64(blocks))), p: &Problem{AtOnce: blocks / 3}}
	for range blocks * 2 / 5 {
		d.p.Trains = append(d.p.Trains, Train{int64(350 + 50*d.r.IntN(9))})
	}
	var yard, branch []int // trains
	for t := range d.p.Trains {
		if t%3 > 0 {
			yard = append(yard, t)
		}
		if t%4 > 1 {
			branch = append(branch, t)
		}
	}
	if !restricted {
		yard, branch = nil, nil
	}
	lower := d.loop(blocks*2/5, 0)
	upper := d.loop(blocks/5, 9000)
	for _, from := range []int{0, len(lower) / 2} { // the helix tracks
		turns := d.chain(lower[from], 2, 1, nil)
		d.join(turns[1], upper[from*len(upper)/len(lower)])
	}
	for len(d.p.Nodes) < blocks {
		loop := lower
		if d.r.IntN(3) == 0 {
			loop = upper
		}
		at := d.r.IntN(len(loop))
		left := blocks - len(d.p.Nodes)
		switch d.r.IntN(3) {
		case 0: // a passing siding
			v := d.chain(loop[at], 1, 1, nil)
			d.join(v[0], loop[(at+2)%len(loop)])
		case 1: // a ladder of turnouts, each with a yard track
			from := loop[at]
			for range min(left/2, 3+d.r.IntN(3)) {
				from = d.chain(from, 1, 0, nil)[0]
				d.chain(from, 1, 1+d.r.IntN(2), yard)
			}
		case 2:
			d.chain(loop[at], min(left, 2+d.r.IntN(3)), 1, branch)
		}
	}
	d.allow(districts, more)
	return d.p
}

// loop closes a ring of blocks that lie ever farther from the power place, and then nearer again.
func (d *plan) loop(n int, far int64) (nodes []int32) {
	for i := range n {
		nodes = append(nodes, d.node(far+int64(900*min(i, n-i)), 1, nil))
		if i > 0 {
			d.join(nodes[i-1], nodes[i])
		}
	}
	d.join(nodes[n-1], nodes[0])
	return nodes
}

// chain hangs blocks on one that is there.
func (d *plan) chain(from int32, n, berths int, only []int) (nodes []int32) {
	for range n {
		v := d.node(d.p.Nodes[from].Near+700, berths, only)
		d.join(from, v)
		nodes = append(nodes, v)
		from = v
	}
	return nodes
}

func (d *plan) node(near int64, berths int, only []int) int32 {
	d.p.Nodes = append(d.p.Nodes, Node{Berths: berths, Near: near, Load: int64(20 * d.r.IntN(4)), Only: only, Pin: -1})
	return int32(len(d.p.Nodes) - 1)
}

// join puts two blocks beside each other: one place in three has its gaps, the others need two or four.
func (d *plan) join(a, b int32) {
	d.p.Edges = append(d.p.Edges, Edge{a, b, []int32{0, 2, 2, 2, 4, 0}[d.r.IntN(6)]})
}

// allow sets the districts.
func (d *plan) allow(districts, more int) {
	h := newHoldings(d.p)
	berths, standing, trains := 0, int64(0), int64(0)
	for _, v := range d.p.Nodes {
		berths += v.Berths
		standing += v.Load
	}
	n := min((berths+districts-1)/districts+more, len(h.byAmps))
	for _, t := range h.byAmps[:n] {
		trains += d.p.Trains[t].MilliAmps
	}
	for range districts {
		d.p.Parts = append(d.p.Parts, Capacity{trains + standing*3/2/int64(districts)})
	}
}
