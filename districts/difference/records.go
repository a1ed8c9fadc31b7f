package difference

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// record writes down entry i of a kind.
func (s *side) record(k Kind, i int32) *record {
	r := &record{side: s}
	l := s.l
	switch k {
	case KindGap:
		r.gap(&l.Gaps[i])
	case KindJoint:
		x := &l.Joints[i]
		at := r.place(x.Place)
		r.word("rails", layout.RailSetWords[at.rails(x.Rails)])
		r.word("kind", layout.JointKindWords[x.Kind])
	case KindCommonRails:
		r.commonRails()
	case KindBond:
		r.bond(&l.Bonds[i])
	case KindExclusion:
		x := &l.NeverTogether[i]
		words := make([]string, len(x.Pieces))
		texts := make([]string, len(x.Pieces))
		for n, p := range x.Pieces {
			words[n] = s.token(KindPiece, int32(p)) + " " + x.Settings[n]
			texts[n] = l.Pieces[p].Name + " " + x.Settings[n]
		}
		slices.Sort(words)
		r.fields = append(r.fields, field{key: "settings", words: strings.Join(words, ", "), text: listText(texts)})
	case KindFeeder:
		r.feeder(&l.Feeders[i])
	case KindTerminator:
		x := &l.Terminators[i]
		r.stands(x.OnRail, x.Place, x.Tap)
		r.value("resistance", x.Resistance.Value, x.Resistance.String())
		r.value("capacitance", x.Capacitance.Value, x.Capacitance.String())
	case KindLoad:
		x := &l.Loads[i]
		r.stands(x.OnRail, x.Place, x.Tap)
		r.word("kind", x.Kind)
		r.value("resistance", x.Resistance.Value, x.Resistance.String())
		r.value("capacitance", x.Capacitance.Value, x.Capacitance.String())
		r.value("draws", x.Draws.Value, x.Draws.String())
		r.value("inrush", x.Inrush.Value, x.Inrush.String())
	case KindAccept:
		r.acceptance(&l.Accepts[i])
	case KindWords:
		r.word("wire of leg A", l.Colours[0])
		r.word("wire of leg B", l.Colours[1])
		r.word("left rail", l.RailNames[0])
		r.word("right rail", l.RailNames[1])
		r.word("scale", l.Scale)
	default:
		if !r.use(k, i) {
			r.device(k, i)
		}
	}
	return r
}

func (r *record) gap(g *layout.Gap) {
	at := r.place(g.Place)
	r.word("rails", layout.RailSetWords[at.rails(g.Rails)])
	r.entry("bridged-by", KindInLine, g.BridgedBy)
	r.word("kind", [...]string{"insulated", "expansion"}[g.Kind])
	r.word("joint", [...]string{"", "cut", "sliding", "bonded"}[g.Joint])
	r.length("width", g.Width)
	r.word("fill", g.Fill)
}

func (r *record) feeder(f *layout.Feeder) {
	at := r.place(f.Place)
	r.word("A", [...]string{"left", "right"}[at.rail(f.ARail)])
	r.word("rails", layout.RailSetWords[at.rails(f.Rails)])
	r.tap("from", f.From[1])
	if oneTap(f.From) {
		r.fields = append(r.fields, field{key: "A-from", words: "same", text: "the same tap"})
	} else {
		r.tap("A-from", f.From[0])
	}
	r.wire("wire", f.Wire)
	r.length("length", f.Length)
	r.yesNo("broken", f.Broken)
}

// oneTap reports whether both legs hang from one place of one bus.
func oneTap(t [2]layout.Tap) bool {
	return t[0].Bus == t[1].Bus && t[0].Unknown == t[1].Unknown && t[0].At.State == t[1].At.State && t[0].At.Lo == t[1].At.Lo && t[0].At.Hi == t[1].At.Hi
}

// bond writes down a bond from the end that comes first on the lines: it has no direction.
func (r *record) bond(b *layout.Bond) {
	from, to := r.side.spotOf(b.From), r.side.spotOf(b.To)
	rails := [2]layout.Rail{from.rail(b.Rails[0]), to.rail(b.Rails[1])}
	if to.token < from.token || to.token == from.token && to.lo < from.lo {
		from, to = to, from
		rails[0], rails[1] = rails[1], rails[0]
	}
	r.places = append(r.places, from, to)
	word := [...]string{"left", "right"}
	switch {
	case !b.Both:
		r.word("rails", word[rails[0]]+" to "+word[rails[1]])
	case from.turned != to.turned:
		r.word("rails", "both, crossed")
	default:
		r.word("rails", "both")
	}
	r.wire("wire", b.Wire)
	r.length("length", b.Length)
}

// stands is where a load or terminator stands: on a rail, or at a tap.
func (r *record) stands(onRail bool, p layout.Place, t layout.Tap) {
	if onRail {
		r.place(p)
		return
	}
	r.tap("at", t)
}

// commonRails are all declared commons of a layout: whose entry says which stretch does not matter.
func (r *record) commonRails() {
	var texts []string
	for rail := range layout.Rail(2) {
		for i := range r.side.l.CommonRails {
			c := &r.side.l.CommonRails[i]
			if c.Rail != rail {
				continue
			}
			for k := range c.Of {
				texts = append(texts, c.Of[k].Text+" "+[...]string{"left", "right"}[rail])
			}
		}
	}
	words, numbers := r.side.covered(true, r.side.l.CommonRails...)
	f := field{key: "common rails", words: fmt.Sprint(words), numbers: numbers, text: listText(texts), loose: true}
	r.fields = append(r.fields, f)
}

func (r *record) acceptance(a *layout.Accept) {
	r.word("finding", a.Finding)
	r.word("because", a.Because)
	kinds := map[layout.TargetKind]Kind{
		layout.TargetGap: KindGap, layout.TargetFeeder: KindFeeder, layout.TargetPiece: KindPiece, layout.TargetBus: KindBus,
		layout.TargetBlock: KindBlock, layout.TargetDistrict: KindDistrict,
	}
	k, entry := kinds[a.Target.Kind]
	switch {
	case entry:
		r.fields = append(r.fields, field{key: "at", words: r.side.token(k, a.Target.Index), text: a.At})
	case a.Target.Kind == layout.TargetPlace:
		r.place(a.Target.Place)
	default:
		r.word("at", a.At)
	}
}

// use writes down how the layout is meant and run; it reports whether the kind is one of those.
func (r *record) use(k Kind, i int32) bool {
	l := r.side.l
	switch k {
	case KindBlock:
		b := &l.Blocks[i]
		r.stretches("covers", b.Covers)
		r.word("use", b.Use.String())
		r.entry("detector", KindDetector, b.Detector)
		r.entries("trains", KindTrain, b.Trains)
	case KindDistrict:
		d := &l.Districts[i]
		r.from("from", d.From)
		r.entries("blocks", KindBlock, d.Blocks)
	case KindTrain:
		t := &l.Trains[i]
		r.length("length", t.Length)
		r.value("current", t.Current.Value, t.Current.String())
		r.value("inrush", t.Inrush.Value, t.Inrush.String())
		r.count("at-once", t.AtOnce)
		r.word("wheels", wheelWords[t.Wheels])
		r.count("resistor-cars", t.ResistorCars)
		r.value("resistor", t.Resistor.Value, t.Resistor.String())
	case KindOperations:
		o := &l.Operations
		r.count("at-once", o.AtOnce)
		r.length("pickup", o.Pickup)
		r.word("wheels", wheelWords[o.Wheels])
	case KindLimit:
		x := &l.Limits[i]
		text := "unknown"
		if x.Value.Known() {
			text = strings.TrimSpace(x.Value.Text)
		}
		r.value("limit", x.Value, text)
		r.word("unit", x.Unit.String())
	case KindPractice:
	default:
		return false
	}
	return true
}

var wheelWords = [...]string{"", "metal", "plastic", "unknown"}

// volts, amps, ohms and seconds spare the calls their second word.
func (r *record) volts(key string, v quantity.Voltage)   { r.value(key, v.Value, v.String()) }
func (r *record) amps(key string, v quantity.Current)    { r.value(key, v.Value, v.String()) }
func (r *record) ohms(key string, v quantity.Resistance) { r.value(key, v.Value, v.String()) }
func (r *record) seconds(key string, v quantity.Time)    { r.value(key, v.Value, v.String()) }
