package solve

import (
	"context"
	"fmt"
	"math"
)

// Factor is A = L D Lᵀ of a network, kept without any subtraction. Eliminating a node turns the
// star of its conductances into a mesh between its neighbours, ground among them (star-mesh
// transformation); D is the sum of the star, and -L each neighbour's share in it. What is added is
// positive, so every number of the factor is right to nearly all its digits however far the
// conductances lie apart: W. K. Grassmann, M. I. Taksar and D. P. Heyman (Oper. Res. 33, 1985), for
// M-matrices C. A. O'Cinneide (Numer. Math. 65, 1993). A Factor serves several goroutines at once.
type Factor struct {
	*Analysis
	edges []Edge
	share []float64 // -L below the diagonal: shares of a node's star, 0 to 1
	star  []float64 // D: siemens of a node's star when it is eliminated
	space space
}

// Factor factors the conductances of edges, which are those analysed with any values.
func (a *Analysis) Factor(ctx context.Context, edges []Edge) (*Factor, error) {
	if len(edges) != len(a.ends) {
		return nil, fmt.Errorf("solve: %d edges, %d were analysed", len(edges), len(a.ends))
	}
	for k, e := range a.ends {
		if edges[k].I != e[0] || edges[k].J != e[1] {
			return nil, &EdgeError{k, fmt.Sprintf("it was analysed between %d and %d", e[0], e[1])}
		}
	}
	if err := check(a.n, edges); err != nil {
		return nil, err
	}
	return a.factor(ctx, append([]Edge(nil), edges...))
}

// factor is Factor without the checks: a conductance may be 0 if no node is left floating.
func (a *Analysis) factor(ctx context.Context, edges []Edge) (*Factor, error) {
	f := &Factor{Analysis: a, edges: edges, share: make([]float64, a.Entries()), star: make([]float64, a.n), space: newSpace(a.n)}
	toGround := make([]float64, a.n)
	for k := range edges {
		switch e := &edges[k]; {
		case a.entry[k] != none:
			f.share[a.entry[k]] += e.G
		case e.I == e.J:
		case e.I == Ground:
			toGround[a.at[e.J]] += e.G
		default:
			toGround[a.at[e.I]] += e.G
		}
	}
	e := elimination{
		Factor: f, toGround: toGround, mesh: make([]float64, a.n),
		head: make([]int32, a.n), next: make([]int32, len(a.first)), place: make([]int64, len(a.first)),
	}
	for k := range e.head {
		e.head[k] = none
	}
	for b := range len(a.first) - 1 {
		if b%4096 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err := e.block(ctx, int32(b)); err != nil {
			return nil, err
		}
	}
	return f, nil
}

// elimination is the state of a left-looking factorisation: a column is completed from the columns
// before it, just before it is needed. Every finished block waits in the list of its next row.
type elimination struct {
	*Factor
	toGround []float64 // siemens to ground; of an eliminated node, its share
	mesh     []float64 // by row: the siemens of the column in work
	head     []int32   // by row: first of the blocks that wait for it
	next     []int32   // by block: the one behind it
	place    []int64   // by block: the row it waits for, in the list of rows
}

// block completes the columns of block b.
func (e *elimination) block(ctx context.Context, b int32) error {
	from, to := e.first[b], e.first[b+1]
	for k := from; k < to; k++ {
		if (k-from)%256 == 255 && ctx.Err() != nil {
			return ctx.Err()
		}
		rows := e.rows(k)
		own := e.share[e.column[k]:e.column[k+1]]
		for p, i := range rows {
			e.mesh[i] = own[p]
		}
		for c := e.head[k]; c != none; {
			behind := e.next[c]
			e.add(k, c, e.first[c+1])
			e.place[c]++
			e.wait(c)
			c = behind
		}
		e.place[b] = e.start[b] + int64(k-from) - 1
		if k > from {
			e.add(k, b, k)
		}
		sum := e.toGround[k]
		for p, i := range rows {
			own[p] = e.mesh[i]
			sum += own[p]
		}
		if !(sum > 0) || math.IsInf(sum, 1) {
			return &BadlyScaledError{Edge: e.worstAt(e.order[k]), What: "the conductances at its end add up to", By: sum}
		}
		for p := range own {
			own[p] /= sum
		}
		e.toGround[k] /= sum
		e.star[k] = sum
	}
	e.place[b]++
	e.wait(b)
	return nil
}

// wait puts a block into the list of its next row, if it has one.
func (e *elimination) wait(b int32) {
	if p := e.place[b]; p < e.start[b+1] {
		k := e.row[p]
		e.next[b], e.head[k] = e.head[k], b
	}
}

// add adds to column k the meshes of the columns of block c up to column to: all have row k at the
// block's place, and the rows behind it.
func (e *elimination) add(k, c, to int32) {
	rows := e.row[e.place[c]+1 : e.start[c+1]]
	at := e.place[c] - e.start[c] // of row k in the block's first column
	column := func(j int32) (siemens float64, shares []float64) {
		p := e.column[j] + at - int64(j-e.first[c])
		siemens = e.share[p] * e.star[j]
		e.toGround[k] += siemens * e.toGround[j]
		return siemens, e.share[p+1 : e.column[j+1]][:len(rows)]
	}
	mesh := e.mesh
	j := e.first[c]
	for ; j+3 < to; j += 4 {
		g0, s0 := column(j)
		g1, s1 := column(j + 1)
		g2, s2 := column(j + 2)
		g3, s3 := column(j + 3)
		for p, i := range rows {
			mesh[i] += g0*s0[p] + g1*s1[p] + (g2*s2[p] + g3*s3[p])
		}
	}
	for ; j < to; j++ {
		g, s := column(j)
		for p, i := range rows {
			mesh[i] += g * s[p]
		}
	}
}

// worstAt is the edge with the largest conductance at a node.
func (f *Factor) worstAt(node int32) int {
	worst, most := 0, -1.0
	for k := range f.edges {
		if e := &f.edges[k]; (e.I == node || e.J == node) && e.I != e.J && e.G > most {
			worst, most = k, e.G
		}
	}
	return worst
}
