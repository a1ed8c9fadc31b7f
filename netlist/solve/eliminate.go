package solve

// eliminate makes a node into an element and brings its members' lists up to date.
func (q *quotient) eliminate(p int32) {
	members := q.gather(p)
	weight := int32(0)
	for _, i := range members {
		weight += q.weight[i]
	}
	q.done += int(q.weight[p])
	q.measure(members)
	q.bound[p] = weight
	left := weight
	live := members[:0]
	for _, i := range members {
		if !q.update(p, i, weight) {
			left -= q.weight[i] // it goes with p
			q.done += int(q.weight[i])
			q.join(p, i)
			continue
		}
		live = append(live, i)
	}
	live = q.merge(live)
	for _, i := range live {
		q.degree[i] = max(0, min(q.degree[i], int32(q.n-q.done)-q.weight[i]))
		q.file(i)
	}
	q.from[p], q.size[p], q.bound[p] = len(q.arena)-len(members), int32(len(live)), left
	q.arena = q.arena[:q.from[p]+len(live)]
	q.weight[p] = 0
	q.emit(p)
}

// gather lists the members of the element that p becomes: its variables and the members of its
// elements, which are absorbed. They are taken off the lists of degrees.
func (q *quotient) gather(p int32) []int32 {
	q.stamp++
	q.mark[p] = q.stamp
	at := len(q.arena)
	take := func(i int32) {
		if q.weight[i] > 0 && q.mark[i] != q.stamp {
			q.mark[i] = q.stamp
			q.unfile(i)
			q.arena = append(q.arena, i)
		}
	}
	own := q.lists[q.start[p] : q.start[p]+q.total[p]]
	for _, e := range own[:q.elements[p]] {
		for _, i := range q.arena[q.from[e] : q.from[e]+int(q.size[e])] {
			take(i)
		}
		q.size[e], q.bound[e] = 0, none
	}
	for _, i := range own[q.elements[p]:] {
		take(i)
	}
	return q.arena[at:]
}

// measure finds, for every element that a member touches, the weight of its members outside the new
// one.
func (q *quotient) measure(members []int32) {
	q.tag += int64(q.n) + 1
	for _, i := range members {
		for _, e := range q.lists[q.start[i] : q.start[i]+q.elements[i]] {
			if q.bound[e] == none {
				continue
			}
			if q.outside[e] < q.tag {
				q.outside[e] = q.tag + int64(q.bound[e])
			}
			q.outside[e] -= int64(q.weight[i])
		}
	}
}

// update rewrites member i's list for the new element p, and its degree. It is false when i has no
// neighbours but p's members: then it can be eliminated together with p.
func (q *quotient) update(p, i, weight int32) bool {
	own := q.lists[q.start[i] : q.start[i]+q.total[i]]
	degree, hash := int64(0), uint32(p)
	at := int32(0)
	for _, e := range own[:q.elements[i]] {
		switch {
		case q.bound[e] == none: // absorbed
		case q.outside[e] == q.tag:
			q.size[e], q.bound[e] = 0, none // all its members are in p
		default:
			degree += q.outside[e] - q.tag
			hash += uint32(e)
			own[at] = e
			at++
		}
	}
	kept := at
	for _, j := range own[q.elements[i]:] {
		if q.weight[j] > 0 && q.mark[j] != q.stamp {
			degree += int64(q.weight[j])
			hash += uint32(j)
			own[at] = j
			at++
		}
	}
	if degree == 0 {
		return false
	}
	// What led to p is gone, so there is room: p comes first, and each list gives its first place
	// for one at its end.
	own[at] = own[kept]
	own[kept] = own[0]
	own[0] = p
	q.elements[i], q.total[i] = kept+1, at+1
	q.hash[i] = int32(hash % uint32(q.n))
	q.degree[i] = int32(min(int64(q.degree[i]), degree)) + weight - q.weight[i]
	return true
}

// join orders b, and what is ordered after it, after a.
func (q *quotient) join(a, b int32) {
	q.follow[q.tail[a]] = b
	q.tail[a] = q.tail[b]
	q.weight[b] = 0
}

// emit puts a node and all that goes with it into the order.
func (q *quotient) emit(p int32) {
	for i := p; i != none; i = q.follow[i] {
		q.order = append(q.order, i)
	}
}
