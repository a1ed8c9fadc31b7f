package split

import (
	"cmp"
	"slices"
	"strconv"

	"gapwise/netlist/circuit"
	"gapwise/netlist/quantity"
)

// Device is what a district hangs from.
type Device struct {
	Kind   With   // Boosters or Breakers
	Index  int32  // into Layout.Boosters or Layout.Breakers, -1 for a new one
	Name   string // "booster front"
	Short  string // its name in the file
	Amps   float64
	Like   int32 // the existing booster that a new one is like, or that a new breaker hangs from; -1 none
	source int32 // Circuit.Sources, -1 for a new one
}

// New reports whether the device has to be added.
func (d *Device) New() bool { return d.Index < 0 }

// Text names it, with what is to be known of it.
func (d *Device) Text() string {
	if d.New() {
		return d.Name + " (new)"
	}
	return d.Name
}

// existing lists the devices of a layout that can head a district.
func (g *ground) existing(with With) []Device {
	var out []Device
	for s := range g.c.Sources {
		src := &g.c.Sources[s]
		d := Device{Kind: with, Index: src.Ref, Name: src.Name, Like: -1, source: int32(s)}
		switch {
		case with == Boosters && g.drives(int32(s)):
			b := &g.l.Boosters[src.Ref]
			d.Short, d.Amps = b.Name, ratingOf(b.Rating, b.TripsAt)
		case with == Breakers && src.Kind == circuit.BreakerSource && g.hasTrack(int32(s)):
			b := &g.l.Breakers[src.Ref]
			d.Short, d.Amps = b.Name, ratingOf(b.TripsAt)
		default:
			continue
		}
		out = append(out, d)
	}
	return out
}

// ratingOf is the first current that is known, at its low end; 0 when none is.
func ratingOf(currents ...quantity.Current) float64 {
	for _, v := range currents {
		if v.Known() {
			return v.Lo
		}
	}
	return 0
}

// hasTrack reports whether track that is divided hangs from a source, or from one behind it.
func (g *ground) hasTrack(source int32) bool {
	return slices.ContainsFunc(g.sides.Source, func(s int32) bool { return g.behind(s, source) }) &&
		slices.ContainsFunc(g.inside, func(in bool) bool { return in }) && g.headed(source)
}

// behind reports whether a source is another or hangs from it.
func (g *ground) behind(s, above int32) bool {
	for range g.c.Sources {
		if s < 0 || s == above {
			break
		}
		s = g.c.Sources[s].Parent
	}
	return s >= 0 && s == above
}

// headed reports whether a source hangs from a booster whose track is divided.
func (g *ground) headed(s int32) bool {
	b := g.c.Sources[s].Booster
	return b >= 0 && g.drives(b)
}

// kind settles what each district gets: boosters where there are several, where what may be drawn in all exceeds what the
// present one may carry, or where nothing about districts is asked; else breakers.
func (x *instance) kind(ask *Ask, total int64) With {
	if ask.With != Auto {
		return ask.With
	}
	boosters := x.atoms.g.existing(Boosters)
	few := ask.Districts <= 1 && len(ask.Ratings) == 0
	if few || len(boosters) != 1 || boosters[0].Amps > 0 && total > capacity(boosters[0].Amps, ask.Margin) {
		return Boosters
	}
	return Breakers
}

// capacity is what a district may draw, in milliamperes.
func capacity(amps, margin float64) int64 { return int64(amps*(1-margin)*1000 + 1e-6) }

// ratings are the amperes of each district: what was asked for, else of the devices there are, largest first.
func ratings(ask *Ask, with With, devices []Device) ([]float64, error) {
	if len(ask.Ratings) > 0 {
		return ask.Ratings, nil
	}
	var out []float64
	for i := range devices {
		if d := &devices[i]; d.Amps > 0 {
			out = append(out, d.Amps)
		}
	}
	if len(out) == 0 {
		what := "what a booster is rated for"
		if with == Breakers {
			what = "at what current the new breakers trip"
		}
		return nil, refuse("the layout does not say %s; say it with --rating, such as --rating 3A", what)
	}
	slices.SortStableFunc(out, func(a, b float64) int { return -cmp.Compare(a, b) })
	return out, nil
}

// nth is the rating of a district, the last for all further ones.
func nth(ratings []float64, i int) float64 { return ratings[min(i, len(ratings)-1)] }

// assign gives each part its device: one that is there where it can carry the part and feeds most of it now, else a
// new one. feeders counts, by part and device, the feeders they share.
func (x *instance) assign(with With, devices []Device, used []int32, amps []float64, loads []int64, feeders [][]int, margin float64) []Device {
	type pair struct{ part, device, count int }
	var pairs []pair
	for p := range used {
		for d := range devices {
			if a := devices[d].Amps; a == 0 || loads[p] <= capacity(a, margin) {
				pairs = append(pairs, pair{p, d, feeders[p][d]})
			}
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int {
		return cmp.Or(-cmp.Compare(a.count, b.count), cmp.Compare(a.part, b.part), cmp.Compare(a.device, b.device))
	})
	out := make([]Device, len(used))
	done := make([]bool, len(used))
	taken := make([]bool, len(devices))
	for _, k := range pairs {
		if !done[k.part] && !taken[k.device] {
			done[k.part], taken[k.device] = true, true
			out[k.part] = devices[k.device]
			if out[k.part].Amps == 0 {
				out[k.part].Amps = amps[k.part]
			}
		}
	}
	names := x.atoms.g.names()
	number := 1
	for p := range out {
		if done[p] {
			continue
		}
		out[p] = Device{Kind: with, Index: -1, Amps: amps[p], Like: -1, source: -1}
		for out[p].Short == "" {
			if number++; !slices.Contains(names, "d"+strconv.Itoa(number)) {
				out[p].Short = "d" + strconv.Itoa(number)
			}
		}
		out[p].Name = map[With]string{Boosters: "booster ", Breakers: "breaker "}[with] + out[p].Short
	}
	return out
}

// names are all names that a new thing must not take.
func (g *ground) names() []string {
	l := g.l
	var out []string
	add := func(n int, name func(int) string) {
		for i := range n {
			out = append(out, name(i))
		}
	}
	add(len(l.Boosters), func(i int) string { return l.Boosters[i].Name })
	add(len(l.Breakers), func(i int) string { return l.Breakers[i].Name })
	add(len(l.Supplies), func(i int) string { return l.Supplies[i].Name })
	add(len(l.Buses), func(i int) string { return l.Buses[i].Name })
	add(len(l.Districts), func(i int) string { return l.Districts[i].Name })
	return out
}

// boosterOf is the index of the booster that a source hangs from, -1 for none.
func (g *ground) boosterOf(source int32) int32 {
	if source < 0 || g.c.Sources[source].Booster < 0 {
		return -1
	}
	head := &g.c.Sources[g.c.Sources[source].Booster]
	if head.Kind != circuit.BoosterSource {
		return -1
	}
	return head.Ref
}
