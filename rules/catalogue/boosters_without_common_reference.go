package catalogue

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/layout"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var boostersWithoutCommonReference = rule.Rule{
	ID:       "boosters-without-common-reference",
	Severity: finding.Caution,
	Title:    "boosters that should share a common do not, or share one that should not",
	Doc: rule.Doc{
		What:    "A booster says `common: required`, its track meets another booster's, and no wire under `commons` joins the two, directly or through others, nor does a declared common rail. Or a booster says `common: forbidden`, and such a wire or rail joins it to another. What says nothing is not asked about.",
		Why:     "Without its common wire a booster has no way back for the current of a vehicle that bridges two districts but through the signal wires, which are not made for it. A booster whose maker forbids the wire may be shorted inside by it.",
		Fix:     "Do what the makers' papers say: join the commons of the boosters with wire, or take that wire off.",
		Example: "boosters:\n  one: {supply: brick, volts: 15 V, common: required}\n  two: {supply: slate, volts: 15 V}   # no `commons` entry, and their track meets at a gap",
	},
	Sources: []string{"what the layout quotes from the boosters' makers (`common`)"},
}

func init() { boostersWithoutCommonReference.Check = checkBoostersWithoutCommonReference }

func checkBoostersWithoutCommonReference(c *rule.Case) {
	joined := commons(c)
	wish := func(b int32) layout.CommonWish { return c.L.Boosters[b].Common }
	var lacking []boosterPair
	left := map[int32]bool{}
	for _, p := range boosterPairs(c) {
		x, y := p.boosters[0], p.boosters[1]
		if p.common && (wish(x) == layout.CommonForbidden || wish(y) == layout.CommonForbidden) {
			c.Report(commonRailForbidden(c, &p))
		}
		if p.common || joined[x] == joined[y] {
			continue
		}
		if wish(x) == layout.CommonRequired || wish(y) == layout.CommonRequired {
			lacking = append(lacking, p)
			continue
		}
		for _, b := range p.boosters {
			if wish(b) == layout.CommonUnknown && !left[b] {
				left[b] = true
				c.LeaveOpen("whether "+boosterNames(c, []int32{b})+" needs a common wire to the boosters whose track it meets", "the layout says `common: unknown`", c.L.Boosters[b].Pos)
			}
		}
	}
	for _, o := range oddBoosters(lacking) {
		c.Report(commonLacking(c, &o))
	}
	for i := range c.L.Commons {
		forbidden := slices.DeleteFunc(slices.Clone(c.L.Commons[i].Joins), func(b int32) bool { return wish(b) != layout.CommonForbidden })
		if len(forbidden) > 0 {
			c.Report(commonForbidden(c, &c.L.Commons[i], forbidden))
		}
	}
}

// commons gives each booster the least booster that its common is joined to, by wire.
func commons(c *rule.Case) []int32 {
	joined := make([]int32, len(c.L.Boosters))
	for b := range joined {
		joined[b] = int32(b)
	}
	for again := true; again; {
		again = false
		for i := range c.L.Commons {
			least := int32(len(joined))
			for _, b := range c.L.Commons[i].Joins {
				least = min(least, joined[b])
			}
			for _, b := range c.L.Commons[i].Joins {
				again = again || joined[b] != least
				joined[b] = least
			}
		}
	}
	return joined
}

func commonLacking(c *rule.Case, o *oddBooster) finding.Finding {
	own := &c.L.Boosters[o.booster]
	var others, asking []int32
	refused := own.Common == layout.CommonForbidden
	if own.Common == layout.CommonRequired {
		asking = append(asking, o.booster)
	}
	f := finding.Finding{
		Severity: finding.Caution,
		Pos:      own.Pos,
		Place:    finding.Place{Text: "booster " + own.Name},
		Why:      "the current of a vehicle that bridges the gap between them may have to come back through their signal wires",
		Settings: c.Settings(o.pairs[0].settings),
	}
	for i := range o.pairs {
		b := o.other(&o.pairs[i])
		others = append(others, b)
		if c.L.Boosters[b].Common == layout.CommonRequired {
			asking = append(asking, b)
		}
		refused = refused || c.L.Boosters[b].Common == layout.CommonForbidden
		meetAt(c, &f, o.pairs[i].ways, 0)
	}
	f.Message = fmt.Sprintf("no common wire joins booster %s to %s, whose track it meets; %s", own.Name, boosterNames(c, others), requires(c, asking))
	f.Fix = "join their commons with a wire as the makers say, and write it under `commons`"
	f.Mends = commonMends(c, append([]int32{o.booster}, others...))
	if refused {
		f.Mends = nil
		f.Fix = "one of these boosters requires a common wire and another forbids it: ask the makers whether the two go together at all"
	}
	return f
}

// requires says which boosters ask for a common wire.
func requires(c *rule.Case, boosters []int32) string {
	if len(boosters) == 1 {
		return boosterNames(c, boosters) + " requires one"
	}
	return boosterNames(c, boosters) + " require one"
}

func commonForbidden(c *rule.Case, common *layout.Common, forbidden []int32) finding.Finding {
	names := make([]string, len(common.Joins))
	for i, b := range common.Joins {
		names[i] = c.L.Boosters[b].Name
	}
	place := "the common wire of " + strings.Join(names, ", ")
	if common.Name != "" {
		place = "common " + common.Name
	}
	return finding.Finding{
		Severity: finding.Caution,
		Pos:      common.Pos,
		Place:    finding.Place{Text: place},
		Message:  fmt.Sprintf("%s joins %s to others, and `common: forbidden` says that it must not", place, boosterNames(c, forbidden)),
		Why:      "the wire may short the output stage of a booster that is not made for it",
		Fix:      "take this wire off",
		Mends:    commonOffMends(c, common),
	}
}

func commonRailForbidden(c *rule.Case, p *boosterPair) finding.Finding {
	way := p.ways[slices.IndexFunc(p.ways, c.T.DeclaredCommon)]
	place := c.WayPlace(way)
	forbidden := slices.DeleteFunc(slices.Clone(p.boosters[:]), func(b int32) bool { return c.L.Boosters[b].Common != layout.CommonForbidden })
	f := finding.Finding{
		Severity: finding.Caution,
		Pos:      c.WayPos(way),
		Place:    place,
		Message:  fmt.Sprintf("the common rail that goes on at %s joins booster %s to booster %s, and the maker of %s forbids a common", place.Text, c.L.Boosters[p.boosters[0]].Name, c.L.Boosters[p.boosters[1]].Name, boosterNames(c, forbidden)),
		Why:      "the rail may short the output stage of a booster that is not made for it",
		Witness:  c.BothSides(way),
		Fix:      "cut both rails there, and take this rail out of `common-rail`",
	}
	for _, w := range p.ways {
		if w != way && c.T.DeclaredCommon(w) {
			f.Also = append(f.Also, c.WayPlace(w).Text)
		}
	}
	f.Mends = commonRailMends(c, slices.DeleteFunc(slices.Clone(p.ways), func(w int32) bool { return !c.T.DeclaredCommon(w) }))
	return f
}
