package split

import (
	"fmt"
	"slices"

	"gapwise/netlist/circuit"
)

// districts makes the parts that are used into districts, those of devices that are there first, then by how far they are.
func (x *instance) districts(out *Answer, part []int32, amps []float64, devices []Device) {
	members := map[int32][]int32{}
	var used []int32
	for n, k := range part {
		if len(members[k]) == 0 {
			used = append(used, k)
		}
		members[k] = append(members[k], int32(n))
	}
	slices.Sort(used)
	p := x.problem(nil, &out.Ask)
	loads := make([]int64, len(used))
	trains := make([]int, len(used))
	rated := make([]float64, len(used))
	feeders := make([][]int, len(used))
	for i, k := range used {
		loads[i], trains[i] = p.LoadOf(members[k])
		rated[i] = nth(amps, int(k))
		feeders[i] = x.shared(part, k, devices)
	}
	heads := x.assign(out.With, devices, used, rated, loads, feeders, out.Ask.Margin)
	for i, k := range used {
		d := District{Device: heads[i], Load: loads[i], Trains: trains[i], atoms: members[k]}
		d.May = capacity(d.Device.Amps, out.Ask.Margin)
		if d.Device.New() {
			d.Device.Like = x.likeOf(part, k, out.With)
		}
		d.Name = x.districtName(&d.Device)
		for _, n := range d.atoms {
			d.Metres += x.atoms.list[n].metres
		}
		out.Districts = append(out.Districts, d)
	}
	slices.SortStableFunc(out.Districts, func(a, b District) int { return x.rank(&a) - x.rank(&b) })
	x.nameTrack(out)
}

// noteIdle says which devices the division leaves without track of their own.
func (x *instance) noteIdle(out *Answer, devices []Device) {
	for i := range devices {
		used := slices.ContainsFunc(out.Districts, func(d District) bool { return d.Device.source == devices[i].source })
		if !used {
			out.Notes = append(out.Notes, devices[i].Name+" has no district then; a smaller --rating makes more of them")
		}
	}
}

// noteBoosters says which booster may come to carry too much together, where breakers stand behind several.
func (x *instance) noteBoosters(out *Answer) {
	if out.With != Breakers {
		return
	}
	g := x.atoms.g
	p := x.problem(nil, &out.Ask)
	for _, b := range g.existing(Boosters) {
		var behind []int32
		for i := range out.Districts {
			d := &out.Districts[i].Device
			if !d.New() && g.boosterOf(d.source) == b.Index || d.New() && d.Like == b.Index {
				behind = append(behind, out.Districts[i].atoms...)
			}
		}
		if load, _ := p.LoadOf(behind); b.Amps > 0 && load > capacity(b.Amps, out.Ask.Margin) {
			out.Overloaded = true
			out.Notes = append(out.Notes, fmt.Sprintf("the districts behind %s may draw %s together, more than the %s that it may carry", b.Name, amperes(load), amperes(capacity(b.Amps, out.Ask.Margin))))
		}
	}
}

// rank puts devices in the order of the layout, new ones behind.
func (x *instance) rank(d *District) int {
	if d.Device.New() {
		return 1 << 20
	}
	return int(d.Device.Index)
}

// districtName is the name that the district of a device has, or gets.
func (x *instance) districtName(d *Device) string {
	g := x.atoms.g
	for i := range g.l.Districts {
		if s, _ := g.c.SourceAbove(g.l.Districts[i].From); s >= 0 && s == d.source && g.c.Sources[s].Ref == d.Index {
			return g.l.Districts[i].Name
		}
	}
	return d.Short
}

// shared counts the feeders of a part that hang from each device now.
func (x *instance) shared(part []int32, k int32, devices []Device) []int {
	g := x.atoms.g
	out := make([]int, len(devices))
	for f := range g.t.Feeds {
		s := g.t.Feeds[f].Source()
		if !x.feeds(int32(f), part, k) || s < 0 {
			continue
		}
		for d := range devices {
			if g.behind(s, devices[d].source) {
				out[d]++
			}
		}
	}
	return out
}

// feeds reports whether a feeder is on track of a part.
func (x *instance) feeds(f int32, part []int32, k int32) bool {
	spot := x.atoms.g.t.Feeds[f].Spot
	return spot >= 0 && x.atoms.of[spot] >= 0 && part[x.atoms.of[spot]] == k
}

// likeOf is the booster that feeds most of a part now, else the first there is; -1 for none.
func (x *instance) likeOf(part []int32, k int32, with With) int32 {
	g := x.atoms.g
	count := make([]int, len(g.l.Boosters))
	for f := range g.t.Feeds {
		if b := g.boosterOf(g.t.Feeds[f].Source()); b >= 0 && x.feeds(int32(f), part, k) {
			count[b]++
		}
	}
	best := int32(-1)
	for s := range g.c.Sources {
		if src := &g.c.Sources[s]; src.Kind == circuit.BoosterSource && g.drives(int32(s)) && (best < 0 || count[src.Ref] > count[best]) {
			best = src.Ref
		}
	}
	return best
}

// cuts lists the places where districts part that have no gap yet.
func (x *instance) cuts(out *Answer, part []int32) {
	g := x.atoms.g
	for i, e := range x.edges {
		if s := &g.seams[x.seams[i]]; s.place >= 0 && part[e.A] != part[e.B] {
			out.Cuts = append(out.Cuts, g.places[s.place])
		}
	}
	slices.SortStableFunc(out.Cuts, func(a, b Place) int {
		if a.Track != b.Track {
			return int(a.Track - b.Track)
		}
		if a.At < b.At {
			return -1
		}
		return 1
	})
}
