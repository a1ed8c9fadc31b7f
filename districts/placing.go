package districts

// placingWork bounds how many choices of trains are looked at; beyond it, how long trains are
// counts for nothing.
const placingWork = 20000

// placing chooses the trains that take most and fit: those wholly inside by their lengths,
// each no longer than the longest walk, and one more at each entrance, whose engine is inside.
type placing struct {
	room     Room
	kinds    []kindOfTrain // heaviest first
	work     int
	now, top []int
	best     float64
}

// most is how many of each kind, given how many there may be in all.
func (p *placing) most(all int) []int {
	p.now, p.top, p.best = make([]int, len(p.kinds)), make([]int, len(p.kinds)), 0
	p.search(0, all, p.room.Entrances, p.room.Metres, 0)
	if p.work >= 0 {
		return p.top
	}
	for i, k := range p.kinds {
		p.top[i] = min(k.count, all)
		all -= p.top[i]
	}
	return p.top
}

// search tries every number of the kinds from i on.
func (p *placing) search(i, left, entrances int, metres, amps float64) {
	if p.work--; p.work < 0 {
		return
	}
	if amps > p.best {
		p.best = amps
		copy(p.top, p.now)
	}
	if i == len(p.kinds) || p.atMost(i, left, amps) <= p.best {
		return
	}
	k := &p.kinds[i]
	fit := min(k.count, left)
	switch {
	case k.metres > p.room.Longest:
		fit = 0
	case k.metres > 0:
		fit = int(min(float64(fit), (metres+1e-9)/k.metres))
	}
	for inside := fit; inside >= 0; inside-- {
		for over := min(min(k.count, left)-inside, entrances); over >= 0; over-- {
			n := inside + over
			p.now[i] = n
			p.search(i+1, left-n, entrances-over, metres-float64(inside)*k.metres, amps+float64(n)*k.amps)
		}
	}
	p.now[i] = 0
}

// atMost is what the kinds from i on could add if they all fitted.
func (p *placing) atMost(i, left int, amps float64) float64 {
	for _, k := range p.kinds[i:] {
		n := min(k.count, left)
		amps += float64(n) * k.amps
		if left -= n; left == 0 {
			break
		}
	}
	return amps
}
