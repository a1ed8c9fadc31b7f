package solve

// columnCounts is how many entries each column of the factor has below its diagonal, without
// finding them: J. R. Gilbert, E. G. Ng and B. W. Peyton, An efficient algorithm to compute row and
// column counts for sparse Cholesky factorization, SIAM J. Matrix Anal. Appl. 15 (1994). g is in
// postorder of its elimination tree.
//
// The columns of row i of the factor are a subtree with root i. Every leaf of it adds one to all
// columns on its way up; where two ways meet, one is taken away again.
func columnCounts(g *graph, parent []int32) []int32 {
	n := g.n
	count, ancestor, earliest := make([]int32, n), make([]int32, n), make([]int32, n)
	lastLeaf, reached := make([]int32, n), make([]int32, n)
	for j := range n {
		ancestor[j], earliest[j], lastLeaf[j], reached[j] = int32(j), int32(j), none, none
		count[j] = 1
	}
	for j, p := range parent {
		if p != none {
			earliest[p] = min(earliest[p], earliest[j])
			count[p] = 0 // only leaves of the tree start with one
		}
	}
	for j := range n {
		p := parent[j]
		if p != none {
			count[p]--
		}
		for _, i := range g.list[g.start[j]:g.start[j+1]] {
			if int(i) <= j || earliest[j] <= reached[i] {
				continue // j is above a leaf of row i that was met before
			}
			reached[i] = earliest[j]
			count[j]++
			if last := lastLeaf[i]; last != none {
				count[meeting(ancestor, last)]--
			}
			lastLeaf[i] = int32(j)
		}
		if p != none {
			ancestor[j] = p
		}
	}
	for j, p := range parent {
		if p != none {
			count[p] += count[j]
		}
		count[j]--
	}
	return count
}

// meeting is the end of the way up from j as far as it is known, and shortens that way.
func meeting(ancestor []int32, j int32) int32 {
	top := j
	for ancestor[top] != top {
		top = ancestor[top]
	}
	for j != top {
		j, ancestor[j] = ancestor[j], top
	}
	return top
}
