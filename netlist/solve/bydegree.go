package solve

// file puts a node into the list of its degree.
func (q *quotient) file(i int32) {
	d := q.degree[i]
	q.next[i], q.prev[i] = q.head[d], none
	if q.head[d] != none {
		q.prev[q.head[d]] = i
	}
	q.head[d] = i
	q.floor = min(q.floor, d)
}

// unfile takes a node out of the list of its degree.
func (q *quotient) unfile(i int32) {
	if q.prev[i] != none {
		q.next[q.prev[i]] = q.next[i]
	} else {
		q.head[q.degree[i]] = q.next[i]
	}
	if q.next[i] != none {
		q.prev[q.next[i]] = q.prev[i]
	}
}

// least takes out a node of the least degree.
func (q *quotient) least() int32 {
	for q.head[q.floor] == none {
		q.floor++
	}
	i := q.head[q.floor]
	q.unfile(i)
	return i
}
