package split

import (
	"slices"

	"gapwise/netlist/amend"
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/rules"
	"gapwise/rules/rule"
)

// hang settles what everything hangs from, as changes to the layout's text and as work to do.
func (p *plan) hang() {
	p.w = amend.New(p.l, rules.ReaderOptions())
	p.moveFeeders()
	p.addFeeders()
	p.moveFrogs()
	p.moveBridges()
	for i := range p.things {
		p.moveThing(i)
	}
	p.moveChangeovers()
	p.layBeside()
	p.holdReturns()
}

// upstream is what a thing that hangs from a source hangs from when it is a district's.
func (p *plan) upstream(from layout.Source, d int32, what string) (text string, changed bool) {
	for range len(p.things) + 1 {
		switch from.Kind {
		case layout.FromTap:
			if from.Tap.Bus < 0 {
				p.refuse("%s hangs from an unknown place", what)
				return "unknown", false
			}
			name := p.on(from.Tap.Bus, d, from.Tap.At.Mid())
			return p.tapText(name, from.Tap.At), name != p.l.Buses[from.Tap.Bus].Name
		case layout.FromBooster:
			p.noteTurned(from.Index, d)
			return p.head(d, "booster "+p.l.Boosters[from.Index].Name)
		case layout.FromBreaker:
			own := "breaker " + p.l.Breakers[from.Index].Name
			i := p.thing(layout.FromBreaker, from.Index)
			if p.stepsAside(from.Kind) {
				if d >= 0 && p.watched(p.l.Breakers[from.Index].From) {
					p.refuse("%s hangs behind a detector or an in-line part, which the districts' breakers would leave out", own)
				}
				return p.head(d, own)
			}
			if k := p.owner[i]; len(k) == 0 || d == raw || k[0] == d {
				return own, false
			}
			from = p.l.Breakers[from.Index].From // past it: it stays with another district
			continue
		case layout.FromReverser, layout.FromDetector, layout.FromInLine, layout.FromPlug:
			t := &p.things[p.thing(from.Kind, from.Index)]
			if k := p.owner[p.thing(from.Kind, from.Index)]; len(k) > 1 && d >= 0 {
				p.refuse("%s feeds track of more than one district", sourceText(t))
			}
			return sourceText(t), false
		default:
			return from.Text, false
		}
	}
	return from.Text, false
}

// head is the device of a district in place of what a thing hangs from now.
func (p *plan) head(d int32, now string) (text string, changed bool) {
	if d < 0 {
		return now, false
	}
	name := p.out.Districts[d].Device.Name
	return name, name != now
}

// watched reports whether a detector or an in-line part stands above.
func (p *plan) watched(from layout.Source) bool {
	list := []layout.Source{from}
	if from.Kind == layout.FromTap {
		list = above(p.l, from.Tap)
	}
	return slices.ContainsFunc(list, func(s layout.Source) bool {
		return s.Kind == layout.FromDetector || s.Kind == layout.FromInLine
	})
}

// noteTurned says that what moves from one booster to another has to be turned round, where their signals are wired in
// opposite ways.
func (p *plan) noteTurned(was, d int32) {
	if d < 0 {
		return
	}
	v := &p.out.Districts[d].Device
	now := v.Like
	switch {
	case !v.New() && v.Kind == Boosters:
		now = v.Index
	case !v.New():
		now = p.g.boosterOf(v.source)
	}
	if now < 0 {
		return
	}
	a, b := &p.l.Boosters[was], &p.l.Boosters[now]
	if a.SignalWired == b.SignalWired || a.SignalWired == layout.SignalUnsaid || b.SignalWired == layout.SignalUnsaid {
		return
	}
	text := "the signals of boosters " + a.Name + " and " + b.Name + " are wired in opposite ways: what moves from the one to the other has to be turned round, leg A for leg B"
	if !slices.Contains(p.out.Notes, text) {
		p.out.Notes = append(p.out.Notes, text)
	}
}

// thing finds a bus or device in the list.
func (p *plan) thing(kind layout.SourceKind, index int32) int {
	return slices.IndexFunc(p.things, func(t thing) bool { return t.kind == kind && t.index == index })
}

func sourceText(t *thing) string {
	word := map[layout.SourceKind]string{
		layout.FromTap: "bus", layout.FromBreaker: "breaker", layout.FromReverser: "reverser",
		layout.FromDetector: "detector", layout.FromInLine: "in-line", layout.FromPlug: "plug",
	}[t.kind]
	return word + " " + t.name
}

// moveThing re-hangs a bus or device that its district is to feed from elsewhere.
func (p *plan) moveThing(i int) {
	t := &p.things[i]
	k := p.owner[i]
	if len(k) == 0 && p.stepsAside(t.kind) {
		p.setAside(t)
	}
	if len(k) == 0 {
		return
	}
	if len(k) > 1 && t.kind != layout.FromTap && t.kind != layout.FromBreaker {
		p.refuse("%s feeds track of more than one district", sourceText(t))
		return
	}
	text, changed := p.upstream(t.from, k[0], sourceText(t))
	if !changed {
		return
	}
	p.w.Set(t.sect, t.name, amend.Key{Name: "from", Value: text})
	if t.kind == layout.FromTap {
		b := &p.l.Buses[t.index]
		p.out.Buses = append(p.out.Buses, Bus{Name: t.name, From: text, Was: p.sourceNow(t.from), Wire: wireText(b.Wire), Metres: b.Length.Mid(), District: p.districtName(k[0])})
		return
	}
	p.out.Moves = append(p.out.Moves, Move{sourceText(t), p.sourceNow(t.from), text, p.districtName(k[0])})
}

// setAside hangs a breaker that has nothing behind it any more from its booster, so that it stands before no district.
func (p *plan) setAside(t *thing) {
	for s := range p.g.c.Sources {
		src := &p.g.c.Sources[s]
		b := p.g.boosterOf(int32(s))
		if src.Kind != circuit.BreakerSource || src.Ref != t.index || b < 0 || t.from.Kind == layout.FromBooster {
			continue
		}
		to := "booster " + p.l.Boosters[b].Name
		p.w.Set(t.sect, t.name, amend.Key{Name: "from", Value: to})
		p.out.Moves = append(p.out.Moves, Move{sourceText(t), p.sourceNow(t.from), to + ", or take it out: nothing hangs from it any more", ""})
	}
}

func (p *plan) districtName(d int32) string {
	if d < 0 {
		return ""
	}
	return p.out.Districts[d].Name
}

// sourceNow is what something hangs from as it is.
func (p *plan) sourceNow(s layout.Source) string {
	switch s.Kind {
	case layout.FromTap:
		if s.Tap.Bus >= 0 {
			return p.tapText(p.l.Buses[s.Tap.Bus].Name, s.Tap.At)
		}
		return "unknown"
	case layout.FromBooster:
		return "booster " + p.l.Boosters[s.Index].Name
	default:
		if i := p.thing(s.Kind, s.Index); i >= 0 {
			return sourceText(&p.things[i])
		}
		return s.Text
	}
}

func wireText(w quantity.Wire) string {
	if !w.Known() {
		return "wire not said"
	}
	return rule.WireText(w)
}
