package solve

import "context"

// order is an elimination order that keeps the factor thin: order[k] is the node eliminated k-th.
// What is a tree or a chain goes first, again and again while that leaves much less; the rest goes
// by least degree.
func order(ctx context.Context, g *graph) ([]int32, error) {
	out, name := make([]int32, 0, g.n), make([]int32, g.n)
	for i := range name {
		name[i] = int32(i)
	}
	for before := -1; before < 0 || g.n < before-before/4; {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		before = g.n
		g, name, out = thin(g, name, out)
	}
	rest, err := leastDegree(ctx, g)
	for _, i := range rest {
		out = append(out, name[i])
	}
	return out, err
}
