package solve

import "slices"

// merge makes members with the same neighbours into one, and gives those that are left.
func (q *quotient) merge(members []int32) []int32 {
	for _, i := range members {
		h := q.hash[i]
		q.chain[i] = q.bucket[h]
		q.bucket[h] = i
	}
	for _, i := range members {
		h := q.hash[i]
		for a := q.bucket[h]; a != none && q.chain[a] != none; a = q.chain[a] {
			if q.weight[a] > 0 {
				q.mergeInto(a)
			}
		}
		q.bucket[h] = none
	}
	live := members[:0]
	for _, i := range members {
		if q.weight[i] > 0 {
			live = append(live, i)
		}
	}
	return live
}

// mergeInto merges into a what stands behind it in its chain and has the same neighbours.
func (q *quotient) mergeInto(a int32) {
	marked := false
	for b := q.chain[a]; b != none; b = q.chain[b] {
		if q.weight[b] == 0 || q.total[b] != q.total[a] || q.elements[b] != q.elements[a] || q.hash[b] != q.hash[a] {
			continue
		}
		if !marked {
			marked = true
			q.tag += int64(q.n) + 1
			for _, x := range q.lists[q.start[a] : q.start[a]+q.total[a]] {
				q.same[x] = q.tag
			}
		}
		other := q.lists[q.start[b] : q.start[b]+q.total[b]]
		if !slices.ContainsFunc(other, func(x int32) bool { return q.same[x] != q.tag }) {
			q.degree[a] -= q.weight[b]
			q.weight[a] += q.weight[b]
			q.weight[b] = 0
			q.join(a, b)
		}
	}
}
