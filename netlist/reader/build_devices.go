package reader

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// buildDevices makes everything between the mains and the buses; what each hangs from is
// traced when all are known.
func (r *reader) buildDevices() {
	l := r.lay
	for _, rec := range r.byThing[supplyThing] {
		l.Supplies = append(l.Supplies, layout.Supply{
			Entry: rec.entry(), Volts: rec.volts("volts"), Rating: rec.current("rating"),
			Tolerance: value[quantity.Percent](rec, "tolerance"), Listed: rec.yesNo("listed"),
		})
	}
	for _, rec := range r.byThing[boosterThing] {
		l.Boosters = append(l.Boosters, r.booster(rec))
	}
	for _, rec := range r.byThing[commonThing] {
		l.Commons = append(l.Commons, r.common(rec))
	}
	for _, rec := range r.byThing[cabThing] {
		l.Cabs = append(l.Cabs, layout.Cab{Entry: rec.entry(), Volts: rec.volts("volts"), Rating: rec.current("rating")})
	}
	for _, rec := range r.byThing[breakerThing] {
		l.Breakers = append(l.Breakers, layout.Breaker{
			Entry: rec.entry(), TripsAt: rec.current("trips-at"), TripTime: rec.time("trip-time"),
			Resistance: rec.resistance("resistance"), Opens: layout.Opens(rec.word("opens")),
		})
	}
	for _, rec := range r.byThing[reverserThing] {
		l.Reversers = append(l.Reversers, layout.Reverser{
			Entry: rec.entry(), TripsAt: rec.current("trips-at"), TripTime: rec.time("trip-time"),
			Resistance: rec.resistance("resistance"), Opens: layout.Opens(rec.word("opens")),
			Switching: layout.Switching(rec.word("switching")), OneAtATime: rec.word("serves") == 1,
		})
	}
	for _, rec := range r.byThing[detectorThing] {
		l.Detectors = append(l.Detectors, layout.Detector{
			Entry: rec.entry(), Leg: layout.Leg(max(0, rec.word("leg")-1)),
			Senses: rec.text("senses"), Drop: rec.volts("drop"), Sees: rec.resistance("sees"),
		})
	}
	for _, rec := range r.byThing[inLineThing] {
		l.InLines = append(l.InLines, layout.InLine{
			Entry: rec.entry(), Kind: layout.InLineKind(rec.word("kind")), Legs: layout.Opens(rec.word("leg")),
			Rating: rec.current("rating"), Holds: rec.current("holds"), TripsAt: rec.current("trips-at"), LimitsTo: rec.current("limits-to"),
			Resistance: rec.resistance("resistance"),
		})
	}
	for _, rec := range r.byThing[changeoverThing] {
		l.Changeovers = append(l.Changeovers, r.changeover(rec))
	}
	for _, rec := range r.byThing[plugThing] {
		l.Plugs = append(l.Plugs, layout.Plug{
			Entry: rec.entry(), Legs: layout.PlugLegs(rec.word("legs")),
			Resistance: rec.resistance("resistance"), Rating: rec.current("rating"),
		})
	}
}

func (r *reader) booster(rec *record) layout.Booster {
	b := layout.Booster{
		Entry: rec.entry(), Supply: -1, Volts: rec.volts("volts"), Inside: rec.resistance("inside"),
		Rating: rec.current("rating"), TripsAt: rec.current("trips-at"), TripTime: rec.time("trip-time"), Retry: rec.time("retry"),
		Signal: rec.text("signal"), SignalWired: layout.SignalWiring(rec.word("signal-wired")), Isolated: rec.yesNo("isolated"),
		Common: layout.CommonWish(rec.word("common")), Automatic: rec.word("switching") == 1, Use: layout.Use(rec.word("use")),
	}
	if t, ok := get[text](rec, "supply"); ok {
		if i, ok := r.lookup(supplyThing, rec.unit, t); ok {
			b.Supply = i
		}
	}
	if b.Signal == "unknown" {
		b.Signal = ""
	}
	return b
}

func (r *reader) common(rec *record) layout.Common {
	c := layout.Common{Entry: rec.entry(), Wire: rec.wire("wire"), Length: rec.length("length")}
	joins := value[[]text](rec, "joins")
	c.Joins = r.lookups(boosterThing, rec.unit, joins)
	if len(joins) == 1 {
		r.blame(joins[0], problem{message: "a common joins two boosters or more"})
	}
	return c
}

// lookups finds each of some names; a name typed twice is reported.
func (r *reader) lookups(k thing, u *unit, ts []text) []int32 {
	var all []int32
	seen := map[int32]bool{}
	for _, t := range ts {
		i, ok := r.lookup(k, u, t)
		switch {
		case !ok:
		case seen[i]:
			r.blamef(t, "`%s` again in this list", t.s)
		default:
			seen[i] = true
			all = append(all, i)
		}
	}
	return all
}

// changeover makes a changeover; its positions' sources are traced later.
func (r *reader) changeover(rec *record) layout.Changeover {
	c := layout.Changeover{Entry: rec.entry(), Opens: layout.Opens(rec.word("opens")), Throw: rec.throw(), ThrowsWith: -1}
	for _, p := range value[[]pair[rawPosition]](rec, "positions") {
		c.Positions = append(c.Positions, layout.Position{Name: p.key.s, Crossed: p.value.crossed, Pos: p.key.pos})
	}
	if t, ok := get[text](rec, "throws-with"); ok {
		if i, ok := r.lookup(pieceThing, rec.unit, t); ok {
			if len(r.lay.SettingWords(layout.PieceID(i))) == 0 {
				r.blamef(t, "%s has nothing to throw", t.s)
			} else {
				c.ThrowsWith = layout.PieceID(i)
			}
		}
	}
	return c
}
