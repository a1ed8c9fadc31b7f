package audit

import (
	"fmt"
	"math"

	"gapwise/netlist/circuit"
	"gapwise/netlist/conductor"
	"gapwise/netlist/network"

	"gapwise/districts/difference"
	"gapwise/districts/power"
	"gapwise/rules/rule"
)

// District is what hangs from one source or guard, before and after; one of them is nil for what is new or gone.
type District struct {
	Name          string // as it is called after, else before
	Was           string // what it was called, where that differs
	Before, After *DistrictState
}

// DistrictState is what a district is like. Volts and amperes are given where Computed.
type DistrictState struct {
	TrackM   float64
	Feeders  int
	Computed bool
	TripsAtA float64 // infinite where nothing says
	LoadA    float64 // of the trains that may move at once, as far as the guards let it pass; not a number where that is not known
	Drop     conductor.Range
	DropAt   string
	Short    conductor.Range
	ShortAt  string
}

// Changed reports whether anything about a district is different by more than joints in plain track make.
func (d *District) Changed() bool {
	if d.Before == nil || d.After == nil {
		return true
	}
	x, y := d.Before, d.After
	return x.Feeders != y.Feeders || x.Computed != y.Computed || differs(x.TrackM, y.TrackM) || differs(x.LoadA, y.LoadA) ||
		differs(x.TripsAtA, y.TripsAtA) || differs(x.Drop.Hi, y.Drop.Hi) || differs(x.Short.Lo, y.Short.Lo)
}

func differs(x, y float64) bool {
	return math.IsNaN(x) != math.IsNaN(y) || x != y && math.Abs(x-y) > muchTheSame*max(math.Abs(x), math.Abs(y))
}

// sourceKinds are the kinds of entry that sources of the circuit are.
var sourceKinds = map[circuit.SourceKind]difference.Kind{
	circuit.BoosterSource: difference.KindBooster, circuit.BreakerSource: difference.KindBreaker, circuit.ReverserSource: difference.KindReverser,
	circuit.CabSource: difference.KindCab, circuit.SupplySource: difference.KindSupply, circuit.ChangeoverSource: difference.KindChangeover,
	circuit.PlugSource: difference.KindPlug,
}

// row is a district of one layout.
type row struct {
	name, token string
	state       *DistrictState
}

// districts pairs the districts of the two layouts, those after first.
func (a *Audit) districts() []District {
	old := a.rows(difference.Before, a.old)
	left := map[string]*row{}
	for i := range old {
		left[old[i].token] = &old[i]
	}
	var out []District
	for _, now := range a.rows(difference.After, a.new) {
		d := District{Name: now.name, After: now.state}
		if was := left[now.token]; was != nil {
			d.Before = was.state
			if was.name != now.name {
				d.Was = was.name
			}
			delete(left, now.token)
		}
		out = append(out, d)
	}
	for i := range old {
		if left[old[i].token] != nil {
			out = append(out, District{Name: old[i].name, Before: old[i].state})
		}
	}
	return out
}

// rows lists the sources and guards of one layout that have track of their own.
func (a *Audit) rows(s difference.Side, k *rule.Case) []row {
	var out []row
	at := map[string]int{}
	add := func(name, token string) *DistrictState {
		i, known := at[token]
		if !known {
			i = len(out)
			at[token] = i
			out = append(out, row{name, token, &DistrictState{TripsAtA: math.Inf(1), LoadA: math.NaN()}})
		}
		return out[i].state
	}
	for _, d := range k.T.Summaries() {
		if len(d.Feeders) == 0 {
			continue
		}
		src := &k.C.Sources[d.Source]
		state := add(src.Name, a.Difference.Token(s, sourceKinds[src.Kind], src.Ref))
		state.TrackM, state.Feeders = d.Length, len(d.Feeders)
	}
	for _, h := range k.Power.Heads {
		if !h.Known() {
			continue
		}
		for g, p := range h.Weakest {
			if p == nil {
				continue
			}
			guard := &h.Weak.Guards[g]
			add(guard.Name, a.guardToken(s, k, guard)).compute(k, h, g, p)
		}
	}
	return out
}

func (a *Audit) guardToken(s difference.Side, k *rule.Case, g *network.Guard) string {
	switch g.Kind {
	case network.BreakerGuard:
		return a.Difference.Token(s, difference.KindBreaker, g.Ref)
	case network.ReverserGuard:
		return a.Difference.Token(s, difference.KindReverser, g.Ref)
	case network.InLineGuard:
		return a.Difference.Token(s, difference.KindInLine, g.Ref)
	default:
		src := &k.C.Sources[g.Ref]
		return a.Difference.Token(s, sourceKinds[src.Kind], src.Ref)
	}
}

// compute fills in volts and amperes.
func (d *DistrictState) compute(k *rule.Case, h *power.Head, guard int, p *power.Point) {
	d.Computed = true
	d.TripsAtA = h.Passes(int32(guard))
	d.Short, d.ShortAt = p.Short, k.PointPlace(p).Text
	if drop := h.Drops[guard]; drop != nil && drop.Amps > 0 {
		d.LoadA, d.Drop, d.DropAt = drop.Amps, drop.Wiring, k.PointPlace(&drop.Point).Text
	}
}

// Section is a reversing section, before and after.
type Section struct {
	Name          string // what turns it
	Was           string
	Before, After *SectionState
}

// SectionState is what a reversing section is like.
type SectionState struct {
	LengthM  float64
	ThroughM float64 // the shortest way between two of its ends, 0 with fewer than two
	Exits    int
}

// Changed reports whether a section is different.
func (s *Section) Changed() bool {
	if s.Before == nil || s.After == nil {
		return true
	}
	return s.Before.Exits != s.After.Exits || differs(s.Before.LengthM, s.After.LengthM) || differs(s.Before.ThroughM, s.After.ThroughM)
}

// sections pairs the reversing sections: by what turns them, and of several in their order.
func (a *Audit) sections() []Section {
	type one struct {
		name  string
		token string
		state SectionState
	}
	list := func(s difference.Side, k *rule.Case) []one {
		var out []one
		times := map[string]int{}
		for i := range k.T.Reversing {
			r := &k.T.Reversing[i]
			src := &k.C.Sources[r.Source]
			token := a.Difference.Token(s, sourceKinds[src.Kind], src.Ref)
			times[token]++
			out = append(out, one{src.Name, fmt.Sprint(token, times[token]), SectionState{r.Length, r.Through, len(r.Exits)}})
		}
		return out
	}
	old := list(difference.Before, a.old)
	left := map[string]*one{}
	for i := range old {
		left[old[i].token] = &old[i]
	}
	var out []Section
	for _, now := range list(difference.After, a.new) {
		x := Section{Name: now.name, After: &now.state}
		if was := left[now.token]; was != nil {
			x.Before = &was.state
			if was.name != now.name {
				x.Was = was.name
			}
			delete(left, now.token)
		}
		out = append(out, x)
	}
	for i := range old {
		if left[old[i].token] != nil {
			out = append(out, Section{Name: old[i].name, Before: &old[i].state})
		}
	}
	return out
}

// Block is a block as meant with the track that is wired for it, before and after, in metres; not a number where
// that layout has no such block or no track is wired for it.
type Block struct {
	Name           string
	Was            string
	BeforeM        float64
	AfterM         float64
	IsNew, WasGone bool
}

// Changed reports whether a block is different.
func (b *Block) Changed() bool {
	return b.IsNew || b.WasGone || differs(b.BeforeM, b.AfterM)
}

// blocks pairs the blocks as meant.
func (a *Audit) blocks() []Block {
	length := func(k *rule.Case, b int32) float64 {
		if z := k.T.ZoneOf(b); z >= 0 {
			return k.T.Zones.List[z].Length
		}
		return math.NaN()
	}
	var out []Block
	found := make([]bool, len(a.old.L.Blocks))
	for i := range a.new.L.Blocks {
		b := Block{Name: a.new.L.Blocks[i].Name, AfterM: length(a.new, int32(i)), BeforeM: math.NaN(), IsNew: true}
		if j := a.Difference.Counterpart(difference.KindBlock, int32(i)); j >= 0 {
			found[j] = true
			b.BeforeM, b.IsNew = length(a.old, j), false
			if was := a.old.L.Blocks[j].Name; was != b.Name {
				b.Was = was
			}
		}
		out = append(out, b)
	}
	for j := range found {
		if !found[j] {
			out = append(out, Block{Name: a.old.L.Blocks[j].Name, BeforeM: length(a.old, int32(j)), AfterM: math.NaN(), WasGone: true})
		}
	}
	return out
}
