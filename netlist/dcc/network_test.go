package dcc_test

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"

	"gapwise/netlist/dcc"
)

// network is a small network of conductors, driven between nodes 0 and 1.
type network struct {
	nodes int
	ends  [][2]int
	r, l  []float64
}

// randomNetwork is a ladder of two rails, the short at its far end, with more conductors across
// and along it.
func randomNetwork(rnd *rand.Rand) network {
	rungs := 2 + rnd.IntN(5)
	n := network{nodes: 2 + 2*rungs}
	add := func(a, b int, ohms, seconds float64) {
		r := ohms * (0.3 + rnd.Float64())
		n.ends = append(n.ends, [2]int{a, b})
		n.r = append(n.r, r)
		n.l = append(n.l, r*seconds*(0.2+rnd.Float64()))
	}
	for k := range rungs {
		a := 2 * k
		add(a, a+2, 0.2, 100e-6)
		add(a+1, a+3, 0.2, 100e-6)
		if rnd.IntN(2) == 0 { // a second way along
			add(a, a+2, 0.6, 30e-6)
		}
		if rnd.IntN(3) == 0 { // a load
			add(a+2, a+3, 10, 0)
		}
	}
	add(n.nodes-2, n.nodes-1, 0.1, 0) // the short itself
	for range rnd.IntN(3) {
		a, b := rnd.IntN(n.nodes), rnd.IntN(n.nodes)
		if a != b {
			add(a, b, 2, 60e-6)
		}
	}
	return n
}

// driven solves the network for direct current with the port closed: volts in series with each
// conductor, and across the port.
func (n network) driven(emf []float64, across float64) (flow []float64) {
	size := n.nodes - 2 // nodes 0 and 1 are held
	a, b := mat.NewDense(size, size, nil), mat.NewVecDense(size, nil)
	held := []float64{across, 0}
	for e, ends := range n.ends {
		g := 1 / n.r[e]
		for k := range 2 {
			i, j, sign := ends[k]-2, ends[1-k]-2, float64(1-2*k)
			if i < 0 {
				continue
			}
			a.Set(i, i, a.At(i, i)+g)
			b.SetVec(i, b.AtVec(i)-sign*g*emf[e])
			if j < 0 {
				b.SetVec(i, b.AtVec(i)+g*held[j+2])
			} else {
				a.Set(i, j, a.At(i, j)-g)
			}
		}
	}
	var v mat.VecDense
	if err := v.SolveVec(a, b); err != nil {
		panic(err)
	}
	volts := append(append([]float64{}, held...), v.RawVector().Data...)
	flow = make([]float64, len(n.ends))
	for e, ends := range n.ends {
		flow[e] = (emf[e] + volts[ends[0]] - volts[ends[1]]) / n.r[e]
	}
	return flow
}

func (n network) port() *dcc.Port {
	none := make([]float64, len(n.r))
	unit := n.driven(none, 1)
	amps := 0.0
	for e, ends := range n.ends {
		switch {
		case ends[0] == 0:
			amps += unit[e]
		case ends[1] == 0:
			amps -= unit[e]
		}
	}
	for e := range unit {
		unit[e] /= amps
	}
	return &dcc.Port{R: n.r, L: n.l, Unit: unit, Project: func(emf, flow []float64) error {
		copy(flow, n.driven(emf, 0))
		return nil
	}}
}

// meshes are the network's resistances and inductances by mesh, the source in the last: L di/dt +
// R i = v in it. They come from a spanning tree, on which each other conductor closes a mesh, and
// share nothing with driven.
func (n network) meshes() (r, l *mat.SymDense) {
	ends := append(append([][2]int{}, n.ends...), [2]int{1, 0}) // through the source, from 1 to 0
	size := n.nodes
	way := make([][]float64, size) // by node: the tree's conductors from node 0, with their signs
	way[0] = make([]float64, len(ends))
	inTree := make([]bool, len(ends))
	for grown := true; grown; {
		grown = false
		for e := range n.ends {
			for k := range 2 {
				a, b := ends[e][k], ends[e][1-k]
				if way[a] != nil && way[b] == nil {
					way[b] = append([]float64{}, way[a]...)
					way[b][e] += float64(1 - 2*k)
					inTree[e], grown = true, true
				}
			}
		}
	}
	var loops [][]float64
	for e, ab := range ends {
		if inTree[e] {
			continue
		}
		loop := make([]float64, len(ends))
		loop[e] = 1
		for k := range loop {
			loop[k] += way[ab[0]][k] - way[ab[1]][k]
		}
		loops = append(loops, loop)
	}
	m := len(loops)
	r, l = mat.NewSymDense(m, nil), mat.NewSymDense(m, nil)
	for i := range m {
		for j := i; j < m; j++ {
			for e := range n.r {
				r.SetSym(i, j, r.At(i, j)+loops[i][e]*loops[j][e]*n.r[e])
				l.SetSym(i, j, l.At(i, j)+loops[i][e]*loops[j][e]*n.l[e])
			}
		}
	}
	return r, l
}

// spectrum solves L v = τ R v, and gives the branches of the port one a mesh.
func (n network) spectrum() []dcc.Branch {
	r, l := n.meshes()
	m := r.SymmetricDim()
	var chol mat.Cholesky
	if !chol.Factorize(r) {
		panic("meshes without resistance")
	}
	var lower, half, full mat.Dense
	var u mat.TriDense
	chol.UTo(&u) // R = UᵀU
	if err := lower.Inverse(&u); err != nil {
		panic(err)
	}
	half.Mul(l, &lower)
	full.Mul(lower.T(), &half) // U⁻ᵀ L U⁻¹
	sym := mat.NewSymDense(m, nil)
	for i := range m {
		for j := i; j < m; j++ {
			sym.SetSym(i, j, (full.At(i, j)+full.At(j, i))/2)
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(sym, true) {
		panic("no time constants")
	}
	var vectors, modes mat.Dense
	eigen.VectorsTo(&vectors)
	modes.Mul(&lower, &vectors)
	var bs []dcc.Branch
	for k, tau := range eigen.Values(nil) {
		c := modes.At(m-1, k)
		if c*c > 1e-20 {
			bs = append(bs, dcc.Branch{R: 1 / (c * c), L: math.Max(0, tau) / (c * c)})
		}
	}
	return bs
}

// admittance of branches at a real frequency.
func admittance(bs []dcc.Branch, s float64) float64 {
	y := 0.0
	for _, b := range bs {
		y += 1 / (b.R + s*b.L)
	}
	return y
}
