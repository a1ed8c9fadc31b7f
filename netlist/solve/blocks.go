package solve

// blocks is where the factor has entries. Neighbouring columns whose entries below lie in the same
// rows are a block and share one list of rows (A. H. Sherman's compressed indices, 1975).
type blocks struct {
	first  []int32 // block b is columns first[b]:first[b+1]
	of     []int32 // the block of a column
	start  []int64 // rows of the first column of block b, rising: row[start[b]:start[b+1]]
	row    []int32
	column []int64 // the values of column k are column[k]:column[k+1] of all values
}

// newBlocks finds the entries from the counts of every column and the matrix, whose graph is in
// postorder of its elimination tree. The columns of row k are on the ways, in the tree, from each
// entry of the matrix in that row up to k (Davis, ch. 4.1); here a step is a whole block.
func newBlocks(g *graph, parent, count []int32) *blocks {
	n := g.n
	s := &blocks{of: make([]int32, n), column: make([]int64, n+1)}
	total := int32(0)
	for k := range n {
		s.column[k+1] = s.column[k] + int64(count[k])
		if k == 0 || parent[k-1] != int32(k) || count[k-1] != count[k]+1 {
			total++
		}
		s.of[k] = total - 1
	}
	s.first, s.start = make([]int32, total+1), make([]int64, total+1)
	s.first[total] = int32(n)
	for k := n - 1; k >= 0; k-- {
		s.first[s.of[k]] = int32(k)
	}
	for b := range total {
		s.start[b+1] = s.start[b] + int64(count[s.first[b]])
	}
	s.row = make([]int32, s.start[len(s.start)-1])
	s.list(g, parent)
	return s
}

// list fills the lists of rows.
func (s *blocks) list(g *graph, parent []int32) {
	total := len(s.first) - 1
	next, seen := make([]int64, total), make([]int32, total)
	for b := range total {
		next[b] = s.start[b]
		seen[b] = none
		for k := s.first[b] + 1; k < s.first[b+1]; k++ {
			s.row[next[b]] = k
			next[b]++
		}
	}
	for k := range int32(g.n) {
		seen[s.of[k]] = k
		for _, j := range g.list[g.start[k]:g.start[k+1]] {
			if j >= k {
				continue
			}
			for b := s.of[j]; seen[b] != k; b = s.of[j] {
				seen[b] = k
				s.row[next[b]] = k
				next[b]++
				j = parent[s.first[b+1]-1]
			}
		}
	}
}

// rows are the rows of column k below its diagonal, rising.
func (s *blocks) rows(k int32) []int32 {
	b := s.of[k]
	return s.row[s.start[b]+int64(k-s.first[b]) : s.start[b+1]]
}
