package solve

// eliminationTree is, for every column of the reordered matrix, the row of the first entry below the
// diagonal of its factor column; none for a root. rows lists, for each row, the columns
// left of the diagonal in which the matrix has an entry. Method: J. W. H. Liu, The role of elimination trees
// in sparse factorization, SIAM J. Matrix Anal. Appl. 11 (1990), with path compression.
func eliminationTree(n int, rows *graph) []int32 {
	parent, ancestor := make([]int32, n), make([]int32, n)
	for k := range n {
		parent[k], ancestor[k] = none, none
		for _, j := range rows.list[rows.start[k]:rows.start[k+1]] {
			for j != none && int(j) < k {
				up := ancestor[j]
				ancestor[j] = int32(k)
				if up == none {
					parent[j] = int32(k)
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

// lower is the part of a graph left of the diagonal after relabelling: for row k the columns
// below k that lie beside it. at gives every node's new number, order the node of every number.
func lower(g *graph, order, at []int32) *graph {
	rows := &graph{n: g.n, start: make([]int32, g.n+1), list: make([]int32, 0, len(g.list)/2)}
	for k, i := range order {
		for _, j := range g.list[g.start[i]:g.start[i+1]] {
			if int(at[j]) < k {
				rows.list = append(rows.list, at[j])
			}
		}
		rows.start[k+1] = int32(len(rows.list))
	}
	return rows
}
