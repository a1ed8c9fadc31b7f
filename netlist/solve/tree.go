package solve

// eliminationTree is, for every column, the row of the first entry below the diagonal of its factor
// column; none for a root. Method: J. W. H. Liu, The role of elimination trees in sparse
// factorization, SIAM J. Matrix Anal. Appl. 11 (1990), with path compression.
func eliminationTree(g *graph) []int32 {
	parent, ancestor := make([]int32, g.n), make([]int32, g.n)
	for k := range int32(g.n) {
		parent[k], ancestor[k] = none, none
		for _, j := range g.list[g.start[k]:g.start[k+1]] {
			for j != none && j < k {
				up := ancestor[j]
				ancestor[j] = k
				if up == none {
					parent[j] = k
				}
				j = up
			}
		}
	}
	return parent
}

// postorder lists the nodes of a forest so that each comes right after all of its subtree: after
// relabelling, what is computed together lies together.
func postorder(parent []int32) []int32 {
	n := len(parent)
	first, sibling := make([]int32, n), make([]int32, n)
	for i := range first {
		first[i] = none
	}
	for i := n - 1; i >= 0; i-- {
		sibling[i] = none
		if p := parent[i]; p != none {
			sibling[i] = first[p]
			first[p] = int32(i)
		}
	}
	out := make([]int32, 0, n)
	var stack []int32
	for root := range n {
		if parent[root] != none {
			continue
		}
		stack = append(stack, int32(root))
		for len(stack) > 0 {
			i := stack[len(stack)-1]
			if c := first[i]; c != none {
				first[i] = sibling[c]
				stack = append(stack, c)
				continue
			}
			out = append(out, i)
			stack = stack[:len(stack)-1]
		}
	}
	return out
}
