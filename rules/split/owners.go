package split

import (
	"slices"

	"gapwise/netlist/layout"
)

// taps lists what hangs from buses for a piece of track: feeders, frogs, bridges; with the district it belongs to.
func (p *plan) taps(each func(tap layout.Tap, district int32)) {
	for f := range p.l.Feeders {
		d := p.districtOfPoint(p.g.c.FeederSpot[f])
		for _, tap := range p.l.Feeders[f].From {
			each(tap, d)
		}
	}
	for i := range p.extra {
		each(p.extra[i].tap, p.extra[i].district)
	}
	for i := range p.l.Turnouts {
		t := &p.l.Turnouts[i]
		each(t.FrogTap, p.districtOfPoint(p.g.c.EndSpot[t.Piece][0]))
	}
}

// districtOfPoint is the district that a point of track is in; raw for track that is not divided.
func (p *plan) districtOfPoint(point int32) int32 {
	if point < 0 || p.x.atoms.of[point] < 0 {
		return raw
	}
	return p.district[p.x.atoms.of[point]]
}

// findOwners settles which district keeps each bus and device: the one that most of what hangs from it is for.
func (p *plan) findOwners() {
	direct := map[int32]map[int32]int{} // by bus and district
	put := func(bus, d int32) {
		if direct[bus] == nil {
			direct[bus] = map[int32]int{}
		}
		direct[bus][d]++
	}
	p.taps(func(tap layout.Tap, d int32) {
		if tap.Bus >= 0 {
			put(tap.Bus, d)
		}
	})
	for _, b := range p.bridges() {
		if b.from.Kind == layout.FromTap && b.from.Tap.Bus >= 0 {
			put(b.from.Tap.Bus, b.district)
		}
	}
	for i := range p.l.Changeovers {
		d := p.districtBehind(layout.FromChangeover, int32(i))
		for _, pos := range p.l.Changeovers[i].Positions {
			if d != noOne && pos.From.Kind == layout.FromTap && pos.From.Tap.Bus >= 0 {
				put(pos.From.Tap.Bus, d)
			}
		}
	}
	needs := make([]map[int32]int, len(p.things))
	var need func(i, depth int) map[int32]int
	need = func(i, depth int) map[int32]int {
		if needs[i] != nil || depth > len(p.things) {
			return needs[i]
		}
		t := &p.things[i]
		n := map[int32]int{}
		needs[i] = n
		if t.kind == layout.FromTap {
			for d, count := range direct[t.index] {
				n[d] += count
			}
		}
		for k := range p.things {
			if p.hangsOn(&p.things[k], t) {
				for d, count := range need(k, depth+1) {
					n[d] += count
				}
			}
		}
		switch {
		case p.headOf(t) != noOne: // it stands before a district, and behind none
			needs[i] = map[int32]int{raw: 1}
		case p.stepsAside(t.kind):
			needs[i] = map[int32]int{}
		}
		return needs[i]
	}
	p.owner = make([][]int32, len(p.things))
	for i := range p.things {
		p.owner[i] = keepers(need(i, 0), func(d int32) bool { return d >= 0 && p.topIs(&p.things[i], d) })
	}
}

// keepers are the districts that need a thing, the one that keeps it first.
func keepers(need map[int32]int, top func(d int32) bool) []int32 {
	var out []int32
	for d := range need {
		out = append(out, d)
	}
	slices.SortFunc(out, func(a, b int32) int {
		switch {
		case a == raw || b == raw:
			return int(a - b)
		case need[a] != need[b]:
			return need[b] - need[a]
		case top(a) != top(b):
			if top(a) {
				return -1
			}
			return 1
		}
		return int(a - b)
	})
	return out
}

// hangsOn reports whether one thing hangs directly from another.
func (p *plan) hangsOn(k, t *thing) bool {
	if t.kind == layout.FromTap {
		return k.from.Kind == layout.FromTap && k.from.Tap.Bus == t.index
	}
	return k.from.Kind == t.kind && k.from.Index == t.index
}

// headOf is the district that a thing is the device of, noOne for most.
func (p *plan) headOf(t *thing) int32 {
	if t.kind != layout.FromBreaker || p.out.With != Breakers {
		return noOne
	}
	for d := range p.out.Districts {
		if v := &p.out.Districts[d].Device; !v.New() && v.Index == t.index {
			return int32(d)
		}
	}
	return noOne
}

// stepsAside reports whether a device makes way for those of the districts: a breaker that heads none, where breakers do.
func (p *plan) stepsAside(kind layout.SourceKind) bool {
	return kind == layout.FromBreaker && p.out.With == Breakers
}

// topIs reports whether a thing hangs from the device of a district already.
func (p *plan) topIs(t *thing, d int32) bool {
	from := t.from
	v := &p.out.Districts[d].Device
	for range p.things {
		switch from.Kind {
		case layout.FromTap:
			if from.Tap.Bus < 0 {
				return false
			}
			from = p.l.Buses[from.Tap.Bus].From
			continue
		case layout.FromBooster:
			return v.Kind == Boosters && v.Index == from.Index
		case layout.FromBreaker:
			if v.Kind == Breakers && v.Index == from.Index {
				return true
			}
		}
		up, ok := hangsFrom(p.l, from)
		if !ok {
			return false
		}
		from = up
	}
	return false
}

// districtBehind is the district of the track behind a device, noOne where there is none.
func (p *plan) districtBehind(kind layout.SourceKind, index int32) int32 {
	for f := range p.l.Feeders {
		for _, tap := range p.l.Feeders[f].From {
			if tap.Bus < 0 {
				continue
			}
			from := layout.Source{Kind: layout.FromTap, Tap: tap}
			for range p.things {
				if from.Kind == kind && from.Index == index {
					return p.districtOfPoint(p.g.c.FeederSpot[f])
				}
				if from.Kind == layout.FromTap && from.Tap.Bus >= 0 {
					from = p.l.Buses[from.Tap.Bus].From
					continue
				}
				up, ok := hangsFrom(p.l, from)
				if !ok {
					break
				}
				from = up
			}
		}
	}
	return noOne
}
