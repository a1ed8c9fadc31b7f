package districts

import (
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// headWork bounds how many sources are looked at on the ways up from one, beyond as many
// as there are: a chain of changeovers whose positions all lead to the next has twice as
// many ways with each.
const headWork = 1000

// Head is a booster, cab or supply that a source hangs from, and the positions of
// changeovers in which it does (none for always). Source is -1 where the layout does not
// say. Crossed says that leg A comes as leg B; Loose that a reverser or a loose plug on the
// way makes that uncertain.
type Head struct {
	Source         int32
	Settings       []Setting
	Crossed, Loose bool
}

// headFinder walks up from one source.
type headFinder struct {
	c     *circuit.Circuit
	left  int
	heads []Head
}

// Heads lists all that a source may hang from, by the positions of changeovers; a position
// that connects nothing adds none. whole is false when there were too many ways up.
func (t *Trace) Heads(source int32) (heads []Head, whole bool) {
	f := &headFinder{c: t.C, left: headWork + len(t.C.Sources)}
	f.up(source, Head{})
	return f.heads, f.left >= 0
}

// HeadsOf is Heads for what something hangs from in a layout: a tap or a device.
func (t *Trace) HeadsOf(s layout.Source) (heads []Head, whole bool) {
	above, crossed := t.C.SourceAbove(s)
	f := &headFinder{c: t.C, left: headWork + len(t.C.Sources)}
	f.up(above, Head{Crossed: crossed})
	return f.heads, f.left >= 0
}

func (f *headFinder) up(source int32, h Head) {
	if f.left--; f.left < 0 {
		return
	}
	if source < 0 {
		h.Source = -1
		f.heads = append(f.heads, h)
		return
	}
	src := &f.c.Sources[source]
	switch src.Kind {
	case circuit.BoosterSource, circuit.CabSource, circuit.SupplySource:
		h.Source = source
		f.heads = append(f.heads, h)
	case circuit.ChangeoverSource:
		device := f.changeover(src.Ref)
		for p, position := range f.c.Layout.Changeovers[src.Ref].Positions {
			if position.From.Kind == layout.FromNothing {
				continue
			}
			above, crossed := f.c.SourceAbove(position.From)
			g := h
			g.Crossed = h.Crossed != (crossed != position.Crossed)
			g.Settings = append(slices.Clip(h.Settings), Setting{device, int16(p)})
			f.up(above, g)
		}
	default:
		h.Crossed = h.Crossed != src.Crossed
		h.Loose = h.Loose || src.Free
		f.up(src.Parent, h)
	}
}

// changeover is the device of a changeover.
func (f *headFinder) changeover(ref int32) int32 {
	return int32(slices.IndexFunc(f.c.Devices, func(d circuit.Device) bool {
		return d.Kind == circuit.ChangeoverDevice && d.Ref == ref
	}))
}

// Encounter is one pair of sources whose track meets, with a pair of heads that they hang
// from at once. Heads stand in the order of Sources, and may be one and the same. Settings
// are the positions of changeovers in which it is so, none for always; of several such
// sets, the smallest. Common says that a rail goes on at one of the ways, declared common.
type Encounter struct {
	Sources, Heads [2]int32
	Ways           []int32 // rising
	Settings       []Setting
	Common         bool
}

// Encounters lists, for every two sources whose track meets, the heads that they can hang
// from at the same time: changeovers that are thrown together, or never together, rule
// pairs out. In the order of the first way at which two sources meet. whole is false when
// some changeovers lead to too much to follow.
func (t *Trace) Encounters() (list []Encounter, whole bool) {
	type pair struct {
		sources [2]int32
		ways    []int32
		common  bool
	}
	var pairs []pair
	at := map[[2]int32]int{}
	for _, m := range t.Meetings() {
		key := m.Sources
		slices.Sort(key[:])
		n, found := at[key]
		if !found {
			n = len(pairs)
			at[key] = n
			pairs = append(pairs, pair{sources: key})
		}
		pairs[n].ways = append(pairs[n].ways, m.Way)
		pairs[n].common = pairs[n].common || m.Common
	}
	never := exclusions(t.C)
	whole = true
	for _, p := range pairs {
		xs, wholeX := t.Heads(p.sources[0])
		ys, wholeY := t.Heads(p.sources[1])
		whole = whole && wholeX && wholeY
		found := map[[2]int32]int{}
		for _, x := range xs {
			for _, y := range ys {
				settings, ok := atOnce(t.C, never, x.Settings, y.Settings)
				if !ok || x.Source < 0 || y.Source < 0 {
					continue
				}
				e := Encounter{Sources: p.sources, Heads: [2]int32{x.Source, y.Source}, Ways: p.ways, Settings: settings, Common: p.common}
				n, again := found[e.Heads]
				if !again {
					found[e.Heads] = len(list)
					list = append(list, e)
				} else if len(settings) < len(list[n].Settings) {
					list[n].Settings = settings
				}
			}
		}
	}
	return list, whole
}

// atOnce joins the settings of two; ok is false when they cannot hold together.
func atOnce(c *circuit.Circuit, never [][]Setting, x, y []Setting) (all []Setting, ok bool) {
	all = slices.Clone(x)
	for _, s := range y {
		if !slices.Contains(all, s) {
			all = append(all, s)
		}
	}
	var held []Setting
	for _, s := range all {
		if held, ok = with(c, never, held, s); !ok {
			return nil, false
		}
	}
	return all, true
}
