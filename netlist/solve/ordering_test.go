package solve

import "context"

// Ordering is the ordering by itself, to be timed.
func Ordering(ctx context.Context, n int, edges []Edge) ([]int32, error) {
	return order(ctx, newGraph(n, edges))
}
