package catalogue

import (
	"fmt"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var changeoverTiesSources = rule.Rule{
	ID:       "changeover-ties-sources",
	Severity: finding.Fault,
	Title:    "a changeover ties two sources, always or in passing",
	Doc: rule.Doc{
		What:    "The positions of a changeover hang from different boosters, or from a booster and a cab, and it opens one leg only: the other leg stays on the first position (a caution, silent where the rails of that leg are a declared common). Or it is `throw: make-first` and two neighbouring positions, with no `nothing` between them, hang from different sources or from one source crossed: a fault, in passing.",
		Why:     "A leg that stays behind ties the one source to the other, and the track has no whole circuit. A changeover that makes before it breaks joins both sources at every throw.",
		Fix:     "Use a changeover that opens both legs and breaks first, with an off position between the two.",
		Example: "changeovers:\n  north: {positions: {dcc: main @ 11 ft, analog: cab north}, opens: A, throw: make-first}",
	},
	Sources: []string{"NEM 609:2010, 6.1: outputs are never joined in series or parallel"},
}

func init() { changeoverTiesSources.Check = checkChangeoverTiesSources }

// throwOver is two positions of a changeover that hang from sources which must not meet.
type throwOver struct {
	positions [2]int
	heads     [2]int32
	crossed   bool // one and the same source, the other way round
	next      bool // neighbours, with no `nothing` between
}

func checkChangeoverTiesSources(c *rule.Case) {
	for i := range c.L.Changeovers {
		x := &c.L.Changeovers[i]
		pairs, whole := throws(c, x)
		if !whole {
			c.GiveUp("every source that changeover "+x.Name+" leads to", "there are too many ways through it", x.Pos)
		}
		laterPositions(c, x, pairs)
		unlike := slices.IndexFunc(pairs, func(t throwOver) bool { return !t.crossed })
		next := slices.IndexFunc(pairs, func(t throwOver) bool { return t.next })
		switch {
		case unlike < 0:
		case single(x.Opens) && !legIsCommon(c, int32(i), otherLeg(x.Opens)):
			c.Report(legStays(c, x, &pairs[unlike]))
		case !said(x.Opens):
			c.LeaveOpen("whether changeover "+x.Name+" ties the sources of its positions", "the layout does not say which legs it opens", x.Pos)
		}
		switch {
		case next < 0:
		case x.Throw == layout.MakeFirst:
			c.Report(madeFirst(c, x, &pairs[next]))
		case x.Throw == layout.ThrowUnsaid:
			c.LeaveOpen("whether changeover "+x.Name+" joins the sources of two positions in passing", "the layout does not say whether it breaks first (`throw`)", x.Pos)
		}
	}
}

// laterPositions lists what is open about the positions of a changeover after its first, by which
// the polarity of its track is judged.
func laterPositions(c *rule.Case, x *layout.Changeover, pairs []throwOver) {
	for i := range pairs {
		t := &pairs[i]
		boosters := c.C.Sources[t.heads[0]].Kind == circuit.BoosterSource && c.C.Sources[t.heads[1]].Kind == circuit.BoosterSource
		switch {
		case t.positions[0] != 0:
		case !t.crossed && boosters:
			c.LeaveOpen(fmt.Sprintf("whether the track behind changeover %s has its legs the right way round in position %s", x.Name, x.Positions[t.positions[1]].Name), "that position hangs from another booster, and polarity is judged in the first; test there with a meter before a train runs", x.Pos)
		case t.crossed && x.ThrowsWith >= 0:
			c.LeaveOpen(fmt.Sprintf("whether %s throws changeover %s the right way round", c.L.Pieces[x.ThrowsWith].Name, x.Name), "which position each leg needs is not worked out; test both with a meter before a train runs", x.Pos)
		}
	}
}

// throws lists the pairs of positions whose sources must not meet, in the order of the
// positions.
func throws(c *rule.Case, x *layout.Changeover) (pairs []throwOver, whole bool) {
	heads := make([][]districts.Head, len(x.Positions))
	whole = true
	for p := range x.Positions {
		if x.Positions[p].From.Kind == layout.FromNothing {
			continue
		}
		all, ok := c.T.HeadsOf(x.Positions[p].From)
		for k := range all {
			all[k].Crossed = all[k].Crossed != x.Positions[p].Crossed
		}
		heads[p], whole = all, whole && ok
	}
	for p := range heads {
		for q := p + 1; q < len(heads); q++ {
			if t, found := apartFrom(heads[p], heads[q]); found {
				t.positions, t.next = [2]int{p, q}, q == p+1
				pairs = append(pairs, t)
			}
		}
	}
	return pairs, whole
}

// apartFrom finds, for two positions, sources that must not be joined: different ones
// first, else one and the same the other way round.
func apartFrom(xs, ys []districts.Head) (throwOver, bool) {
	var out throwOver
	found := false
	for _, x := range xs {
		for _, y := range ys {
			if x.Source < 0 || y.Source < 0 {
				continue
			}
			if x.Source != y.Source {
				return throwOver{heads: [2]int32{x.Source, y.Source}}, true
			}
			if !found && (x.Crossed != y.Crossed || x.Loose || y.Loose) {
				out, found = throwOver{heads: [2]int32{x.Source, y.Source}, crossed: true}, true
			}
		}
	}
	return out, found
}

// otherLeg is the leg that a device leaves closed which opens a single one.
func otherLeg(o layout.Opens) layout.Leg {
	if o == layout.OpensA {
		return layout.B
	}
	return layout.A
}

// legIsCommon reports whether every rail that a changeover's feeders put a leg on is a
// declared common.
func legIsCommon(c *rule.Case, changeover int32, leg layout.Leg) bool {
	fed := false
	for i := range c.T.Feeds {
		f := &c.T.Feeds[i]
		s := f.Source()
		if f.Spot < 0 || s < 0 || c.C.Sources[s].Kind != circuit.ChangeoverSource || c.C.Sources[s].Ref != changeover {
			continue
		}
		if !c.T.CommonAt(f.Spot, c.LegRail(f.Feeder, leg)) {
			return false
		}
		fed = true
	}
	return fed
}

func legStays(c *rule.Case, x *layout.Changeover, t *throwOver) finding.Finding {
	leg := c.LegWord(otherLeg(x.Opens))
	return finding.Finding{
		Severity: finding.Caution,
		Pos:      x.Pos,
		Place:    finding.Place{Text: "changeover " + x.Name},
		Message:  fmt.Sprintf("changeover %s opens %s only, so %s stays on position %s while %s and %s feed its positions", x.Name, legOpened(c, x.Opens), leg, x.Positions[0].Name, c.SourceName(t.heads[0]), c.SourceName(t.heads[1])),
		Why:      "the leg that stays behind ties the two sources together, and the track has no whole circuit",
		Settings: positionNames(x, t.positions[1]),
		Fix:      fmt.Sprintf("use a changeover that opens both legs, or declare the rail of %s under `common-rail` if it is meant to be one", leg),
		Mends:    changeoverMends(x, "opens both legs", finding.Key{Name: "opens", Value: "both"}),
	}
}

func madeFirst(c *rule.Case, x *layout.Changeover, t *throwOver) finding.Finding {
	p, q := x.Positions[t.positions[0]].Name, x.Positions[t.positions[1]].Name
	f := finding.Finding{
		Severity: finding.Fault,
		Pos:      x.Pos,
		Place:    finding.Place{Text: "changeover " + x.Name},
		Message:  fmt.Sprintf("changeover %s makes the new contact before it breaks the old one, and so joins %s to %s between %s and %s", x.Name, c.SourceName(t.heads[0]), c.SourceName(t.heads[1]), p, q),
		Why:      "for a moment each drives its full voltage into the other, at every throw",
		Settings: append(positionNames(x, t.positions[0]), positionNames(x, t.positions[1])...),
		Fix:      "use a changeover that breaks first, with an off position between the two",
		Mends:    changeoverMends(x, "breaks before it makes", finding.Key{Name: "throw", Value: "break-first"}),
	}
	if t.crossed {
		f.Message = fmt.Sprintf("changeover %s makes the new contact before it breaks the old one, and %s and %s come from %s with their legs the other way round", x.Name, p, q, c.SourceName(t.heads[0]))
		f.Why = "for a moment leg A is joined to leg B, at every throw"
	}
	return f
}

func positionNames(x *layout.Changeover, position int) []string {
	return []string{"changeover " + x.Name + " " + x.Positions[position].Name}
}
