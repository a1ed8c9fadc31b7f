package partition

// floor is what a sweep has learnt about the nodes that it took first: what they come to at the least, with at most so many districts
// that lie wholly in them, or with at least so many that lie there or reach into them. A sweep from the other end has those nodes before it.
type floor struct {
	backwards bool
	terms     []Term
	trains    int      // it holds for divisions that keep to at most so many trains
	most      pair     // and that are no worse than this
	few       [][]pair // by nodes taken, then by districts closed at the most
	many      [][]pair // by nodes taken, then by districts closed or open at the least, up to Problem.Least

	thrownFew, thrownMany []pair // what was thrown away, as far as it may have got since
}

func newFloor(p *pass) *floor {
	f := &floor{backwards: p.backwards, terms: p.terms, trains: p.trains, most: p.most}
	for range len(p.sweep.order) + 1 {
		f.few = append(f.few, row(len(p.problem.Parts), worst))
		f.many = append(f.many, row(p.problem.Least, worst))
	}
	f.few[0] = row(len(p.problem.Parts), pair{})
	f.many[0][0] = pair{}
	f.thrownFew = row(len(p.problem.Parts), worst)
	f.thrownMany = row(p.problem.Least, worst)
	return f
}

func row(most int, x pair) []pair {
	out := make([]pair, most+1)
	for k := range out {
		out[k] = x
	}
	return out
}

// lower makes an entry of a row no more than a value, sum by sum; the last entry stands for all behind it.
func lower(row []pair, k int, value pair) {
	k = min(k, len(row)-1)
	row[k] = row[k].lower(value)
}

// allow says that with so many nodes taken there are divisions with so many districts closed and open, and of this value.
func (f *floor) allow(taken, closed, open int, value pair) {
	lower(f.few[taken], closed, value)
	lower(f.many[taken], closed+open, value)
}

// throw says that there may be such divisions from now on.
func (f *floor) throw(closed, open int, value pair) {
	lower(f.thrownFew, closed, value)
	lower(f.thrownMany, closed+open, value)
}

// settle ends a layer.
func (f *floor) settle(taken int) {
	few, many := f.few[taken], f.many[taken]
	for k := range few {
		lower(few, k, f.thrownFew[k])
	}
	for k := range many {
		lower(many, k, f.thrownMany[k])
	}
	for k := 1; k < len(few); k++ {
		lower(few, k, few[k-1])
	}
	for k := len(many) - 1; k > 0; k-- {
		lower(many, k-1, many[k])
		lower(f.thrownMany, k, f.thrownMany[k-1]) // a node may add a district
	}
}

// serves reports in how many sums a floor holds for a pass. Of two sums the second is bounded only among the best by
// the first, and so only for the same demands.
func (f *floor) serves(p *pass) (sums int) {
	switch {
	case f.backwards == p.backwards || len(f.terms) > len(p.terms) || f.trains < p.trains || f.most.less(p.most):
		return 0
	case len(f.terms) == 2 && f.trains == p.trains:
		return 2
	}
	return 1
}

// ahead is what the nodes still to come add at the least.
type ahead struct{ few, many [][]pair } // as of a floor, by nodes taken

// newAhead joins the floors that serve a pass.
func newAhead(p *pass) *ahead {
	n := len(p.sweep.order)
	a := &ahead{}
	for range n + 1 {
		a.few = append(a.few, row(len(p.problem.Parts), pair{}))
		a.many = append(a.many, row(p.problem.Least, pair{}))
	}
	for _, f := range p.floors {
		sums := f.serves(p)
		if sums == 0 {
			continue
		}
		for taken := range n + 1 {
			raise(a.few[taken], f.few[n-taken], sums)
			raise(a.many[taken], f.many[n-taken], sums)
		}
	}
	return a
}

func raise(row, by []pair, sums int) {
	for k, x := range by {
		if sums == 1 && x[0] != never {
			x[1] = 0
		}
		row[k] = row[k].higher(x)
	}
}

// of is what is added at the least with so many nodes taken, when at most few more districts may close that do not touch the border, and at
// least many more have to come.
func (a *ahead) of(taken, few, many int) pair {
	return a.few[taken][few].higher(a.many[taken][max(many, 0)])
}
