package catalogue

import (
	"slices"
	"strings"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// encounters are the layout's, with what could not be followed left open.
func encounters(c *rule.Case) []districts.Encounter {
	list, whole := c.T.Encounters()
	if !whole {
		c.GiveUp("every source that the changeovers lead to", "there are too many ways through them", c.C.Sources[0].Pos)
	}
	return list
}

// boosterPair is two boosters whose track meets, the lesser index first, neither of them
// for programming.
type boosterPair struct {
	boosters [2]int32
	ways     []int32
	settings []districts.Setting // the fewest in which they meet
	common   bool                // a declared common rail goes on between them
}

// boosterPairs lists the boosters whose track meets, in the order of the ways.
func boosterPairs(c *rule.Case) []boosterPair {
	var out []boosterPair
	for _, e := range encounters(c) {
		x, y := &c.C.Sources[e.Heads[0]], &c.C.Sources[e.Heads[1]]
		if x.Kind != circuit.BoosterSource || y.Kind != circuit.BoosterSource || x.Ref == y.Ref || programs(c, x.Ref) || programs(c, y.Ref) {
			continue
		}
		pair := [2]int32{min(x.Ref, y.Ref), max(x.Ref, y.Ref)}
		n := slices.IndexFunc(out, func(p boosterPair) bool { return p.boosters == pair })
		if n < 0 {
			n = len(out)
			out = append(out, boosterPair{boosters: pair, settings: e.Settings})
		}
		p := &out[n]
		p.ways = append(p.ways, e.Ways...)
		p.common = p.common || e.Common
		if len(e.Settings) < len(p.settings) {
			p.settings = e.Settings
		}
	}
	for i := range out {
		slices.Sort(out[i].ways)
		out[i].ways = slices.Compact(out[i].ways)
	}
	return out
}

// programs reports whether a booster is for programming.
func programs(c *rule.Case, booster int32) bool {
	return c.L.Boosters[booster].Use == layout.UseProgramming
}

// oddBooster is a booster that does not go with others.
type oddBooster struct {
	booster int32
	pairs   []boosterPair
}

// other is the other booster of one of its pairs.
func (o *oddBooster) other(p *boosterPair) int32 {
	return p.boosters[0] + p.boosters[1] - o.booster
}

// oddBoosters shares pairs that do not go together out among the fewest boosters it can
// find: the one in most pairs is told with all of them, of two alike the later in the file.
func oddBoosters(pairs []boosterPair) []oddBooster {
	var out []oddBooster
	for len(pairs) > 0 {
		count := map[int32]int{}
		odd := int32(-1)
		for _, p := range pairs {
			for _, b := range p.boosters {
				count[b]++
			}
		}
		for _, p := range pairs {
			for _, b := range p.boosters {
				if odd < 0 || count[b] > count[odd] || (count[b] == count[odd] && b > odd) {
					odd = b
				}
			}
		}
		o := oddBooster{booster: odd}
		var rest []boosterPair
		for _, p := range pairs {
			if slices.Contains(p.boosters[:], odd) {
				o.pairs = append(o.pairs, p)
			} else {
				rest = append(rest, p)
			}
		}
		out, pairs = append(out, o), rest
	}
	return out
}

// meetAt adds to a finding where track meets: the path to the first way, and all ways from
// the given one on as other places.
func meetAt(c *rule.Case, f *finding.Finding, ways []int32, from int) {
	if f.Witness == nil {
		f.Witness = c.BothSides(ways[0])
	}
	for _, w := range ways[from:] {
		if place := c.WayPlace(w).Text; !slices.Contains(f.Also, place) {
			f.Also = append(f.Also, place)
		}
	}
}

// boosterNames lists boosters: "booster one and booster two".
func boosterNames(c *rule.Case, boosters []int32) string {
	names := make([]string, len(boosters))
	for i, b := range boosters {
		names[i] = "booster " + c.L.Boosters[b].Name
	}
	return strings.Join(names, " and ")
}
