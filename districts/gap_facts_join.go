package districts

import (
	"cmp"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// netGroups puts nets that pairs of nodes would join into groups; pairs that are one net
// already make none.
func netGroups(nets *Nets, pairs [][2]int32) [][]int32 {
	var out [][]int32
	for _, p := range pairs {
		x, y := nets.Of[p[0]], nets.Of[p[1]]
		if x == y {
			continue
		}
		group := []int32{x, y}
		out = slices.DeleteFunc(out, func(o []int32) bool {
			if !slices.Contains(o, x) && !slices.Contains(o, y) {
				return false
			}
			group = append(group, o...)
			return true
		})
		slices.Sort(group)
		out = append(out, slices.Compact(group))
	}
	return out
}

// eachMeeting calls found for each two labels that the nets of a group bring together, with
// the settings in which they do. What one net carries already is not new.
func eachMeeting(g *together, group []int32, found func(x, y Label, settings []Setting)) {
	reached := make([][]reachedNet, len(group))
	whole := true
	for i, net := range group {
		if len(g.nets.labels[net]) > 0 {
			reached[i] = []reachedNet{{net: net}}
			continue
		}
		list, all := g.listed(net, nil)
		reached[i], whole = list, whole && all
	}
	for i := range group {
		for j := i + 1; j < len(group); j++ {
			if whole {
				listedMeetings(g, reached[i], reached[j], found)
			} else {
				askedMeetings(g, group[i], group[j], found)
			}
		}
	}
}

// listedMeetings tries everything that reaches one net with everything that reaches another.
func listedMeetings(g *together, xs, ys []reachedNet, found func(x, y Label, settings []Setting)) {
	for _, x := range xs {
		for _, y := range ys {
			if x.net == y.net {
				continue
			}
			if settings, ok := atOnce(g.f.c, g.f.never, x.settings, y.settings); ok && g.possible(settings) {
				eachNew(g.nets, x.net, y.net, func(a, b Label) { found(a, b, settings) })
			}
		}
	}
}

// askedMeetings asks the solver for both at once, one net with a leg after the other.
func askedMeetings(g *together, one, other int32, found func(x, y Label, settings []Setting)) {
	for _, x := range g.ends(one) {
		for _, y := range g.ends(other) {
			if x.net == y.net {
				continue
			}
			for _, list := range g.each(g.both(one, other, x, y, nil)) {
				eachNew(g.nets, x.net, y.net, func(a, b Label) { found(a, b, list) })
			}
		}
	}
}

// eachNew calls found for the labels of two nets that no one of them has both of.
func eachNew(nets *Nets, x, y int32, found func(a, b Label)) {
	for _, a := range nets.labels[x] {
		for _, b := range nets.labels[y] {
			if !slices.Contains(nets.labels[x], b) && !slices.Contains(nets.labels[y], a) {
				found(a, b)
			}
		}
	}
}

// joins says which sources and legs come together across a gap.
func (f *gapFinder) joins(way int32, g *together, pairs [][2]int32) []GapJoin {
	var out []GapJoin
	for _, group := range netGroups(g.nets, pairs) {
		dead, live := false, int32(-1)
		for _, net := range group {
			reached := g.spread(net, nil, false)
			dead = dead || len(reached) == 0
			if len(reached) > 0 && live < 0 {
				live = g.nets.labels[reached[0].net][0].Source
			}
		}
		if dead && live >= 0 {
			out = append(out, GapJoin{Meets: MeetsDead, Classes: [2]int32{live, -1}})
		}
		eachMeeting(g, group, func(x, y Label, settings []Setting) {
			out = append(out, f.meetings(x, y, settings)...)
		})
		out = append(out, f.underWheels(g, group)...)
	}
	for i := range out {
		out[i].Standing = f.standing(way, out[i].Settings)
	}
	return out
}

// meetings says what two legs make of each other, by the positions of changeovers above them.
func (f *gapFinder) meetings(x, y Label, settings []Setting) []GapJoin {
	c := f.t.C
	join := GapJoin{Classes: [2]int32{x.Source, y.Source}, Settings: settings}
	one := func(m GapMeeting) []GapJoin { join.Meets = m; return []GapJoin{join} }
	rx, cx := phaseRoot(c, x.Source)
	ry, cy := phaseRoot(c, y.Source)
	opposite := (x.Leg != y.Leg) != (cx != cy)
	switch {
	case x == y:
		return nil
	case x.Source == y.Source || (rx == ry && c.Sources[rx].Free):
		if opposite {
			return one(MeetsShort)
		}
		return one(MeetsDistrict)
	case reverses(&c.Sources[rx]) || reverses(&c.Sources[ry]):
		if byHand(c, rx) || byHand(c, ry) {
			return one(MeetsByHand)
		}
		return one(MeetsReverser)
	}
	var out []GapJoin
	never := f.power.f.never
	xs, wholeX := f.t.Heads(x.Source)
	ys, wholeY := f.t.Heads(y.Source)
	for _, a := range xs {
		for _, b := range ys {
			all, ok := atOnce(c, never, settings, a.Settings)
			if ok {
				all, ok = atOnce(c, never, all, b.Settings)
			}
			if ok && f.power.possible(all) {
				join.Settings = all
				join.Meets = headsMeet(c, a, b, (x.Leg != y.Leg) != (a.Crossed != b.Crossed))
				out = append(out, join)
			}
		}
	}
	if !wholeX || !wholeY {
		join.Settings = settings
		out = append(out, one(MeetsUnknown)...)
	}
	return out
}

// headsMeet says what two legs make of each other by what they hang from; opposite where
// they are not the same leg of it.
func headsMeet(c *circuit.Circuit, x, y Head, opposite bool) GapMeeting {
	switch {
	case x.Source < 0 || y.Source < 0 || x.Loose || y.Loose:
		return MeetsUnknown
	case x.Source != y.Source && !inPhase(c, x.Source, y.Source):
		return MeetsUnknown
	case opposite != crossedSignals(c, x.Source, y.Source):
		return MeetsShort
	case x.Source == y.Source:
		return MeetsDistrict
	default:
		return MeetsBooster
	}
}

// byHand reports whether what turns its phase is thrown by hand: a changeover that does, or
// a reverser without a circuit of its own.
func byHand(c *circuit.Circuit, source int32) bool {
	s := &c.Sources[source]
	if !s.Free {
		return false
	}
	return s.Kind == circuit.ChangeoverSource || (s.Kind == circuit.ReverserSource && c.Layout.Reversers[s.Ref].Switching == layout.ByHand)
}

// detectorJoins says where a train's current would come past a detector.
func (f *gapFinder) detectorJoins(way int32, pairs [][2]int32) []GapJoin {
	var out []GapJoin
	for _, group := range netGroups(f.seen.nets, pairs) {
		eachMeeting(f.seen, group, func(x, y Label, settings []Setting) {
			if x.Source != y.Source {
				classes := [2]int32{x.Source, y.Source}
				out = append(out, GapJoin{Meets: MeetsUnseen, Classes: classes, Settings: settings, Standing: f.standing(way, settings)})
			}
		})
	}
	return out
}

// underWheels finds frogs that get a leg across the gap which is not that of the wheels on
// them.
func (f *gapFinder) underWheels(g *together, group []int32) []GapJoin {
	var out []GapJoin
	for _, net := range group {
		if len(g.nets.labels[net]) > 0 {
			continue
		}
		for _, i := range f.demands[net] {
			d := &f.t.C.Demands[i]
			other := g.nets.Of[d.Frog]
			if other == net {
				other = g.nets.Of[d.As]
			}
			var settings []Setting
			if d.Device >= 0 {
				settings = thrown(f.t.C, Setting{d.Device, d.Position})
			}
			for _, y := range g.spread(other, settings, false) {
				for _, x := range group {
					if x == net {
						continue
					}
					for _, z := range g.spread(x, y.settings, false) {
						eachNew(g.nets, z.net, y.net, func(a, b Label) {
							for _, j := range f.meetings(a, b, z.settings) {
								if j.Meets == MeetsShort {
									j.Frog = true
									out = append(out, j)
								}
							}
						})
					}
				}
			}
		}
	}
	return out
}

// standing reports whether settings keep trains from running over a gap: a piece beside it
// is set for another way.
func (f *gapFinder) standing(way int32, settings []Setting) bool {
	if len(settings) == 0 {
		return false
	}
	w := &f.t.C.Ways[way]
	for _, s := range [2]int32{w.A, w.B} {
		device, positions := f.serves(s, way)
		for _, x := range settings {
			if x.Device == device && !slices.Contains(positions, x.Position) {
				return true
			}
		}
	}
	return false
}

// serves walks away from a gap to the first piece with positions, and gives its device and
// the positions in which a train comes through; -1 where there is none before the next gap.
func (f *gapFinder) serves(spot, from int32) (device int32, positions []int16) {
	for range f.t.C.Ways {
		next := int32(-1)
		for _, k := range f.t.Ways.Of(spot) {
			switch w := &f.t.C.Ways[k]; {
			case w.Kind == circuit.WayThrough && w.Device >= 0:
				device = w.Device
				positions = append(positions, w.Position)
			case k != from && (w.Kind == circuit.WayTrack || w.Kind == circuit.WayJoint):
				next = k
			}
		}
		if len(positions) > 0 {
			return device, positions
		}
		if next < 0 {
			return -1, nil
		}
		spot, from = f.t.C.Ways[next].A+f.t.C.Ways[next].B-spot, next
	}
	return -1, nil
}

// tidyJoins sorts joins, the gravest first, and keeps of each kind the one of fewest
// settings; a short that takes wheels on a frog only where there is no other.
func tidyJoins(joins []GapJoin) []GapJoin {
	flag := func(b bool) int {
		if b {
			return 1
		}
		return 0
	}
	slices.SortStableFunc(joins, func(x, y GapJoin) int {
		return cmp.Or(
			-cmp.Compare(x.Meets, y.Meets), flag(x.Standing)-flag(y.Standing), flag(x.Frog)-flag(y.Frog),
			cmp.Compare(len(x.Settings), len(y.Settings)),
		)
	})
	joins = slices.CompactFunc(joins, func(x, y GapJoin) bool {
		return x.Meets == y.Meets && x.Standing == y.Standing && x.Frog == y.Frog
	})
	if slices.ContainsFunc(joins, func(j GapJoin) bool { return j.Meets == MeetsShort && !j.Frog }) {
		joins = slices.DeleteFunc(joins, func(j GapJoin) bool { return j.Frog })
	}
	return joins
}
