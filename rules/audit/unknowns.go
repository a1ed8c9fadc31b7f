package audit

import (
	"fmt"
	"slices"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/source"
)

// unknown is one value that the layout does not say, in one place or in several that were typed as one: what it is,
// how much names it, two copies of the layout with plausible values at both ends of what it may be, and
// how to find it out.
type unknown struct {
	what   string
	uses   int
	pos    source.Pos
	guess  [2]func(*layout.Layout)
	manual []string
	told   bool // also where it settles nothing by itself
}

// unknowns lists what a layout does not say, what most hangs on first, then in the order of the file.
func unknowns(l *layout.Layout) []unknown {
	var out []unknown
	out = append(out, unknownFeeders(l)...)
	out = append(out, unknownBuses(l)...)
	out = append(out, unknownTracks(l)...)
	out = append(out, unknownDevices(l)...)
	out = append(out, unknownPieces(l)...)
	slices.SortStableFunc(out, func(x, y unknown) int { return y.uses - x.uses })
	return out
}

func exact(m float64) quantity.Length { return quantity.Length{Value: quantity.Exact(m)} }

func awg(n int) quantity.Wire {
	return quantity.Wire{Value: quantity.Exact(quantity.AWGArea(n)), Gauge: n, HasGauge: true}
}

// The ends of what wire and rail may be, where nobody knows. Common practice, no source.
var (
	busSizes    = [2]int{22, 12}
	feederSizes = [2]int{24, 18}
	feederSpans = [2]float64{0.1, 0.6}
	rails       = [2]layout.RailStock{{Code: 70, Metal: "nickel silver", Said: true}, {Code: 100, Metal: "nickel silver", Said: true}}
)

func unknownBuses(l *layout.Layout) []unknown {
	hanging := make([]int, len(l.Buses))
	farthest := make([]float64, len(l.Buses))
	for i := range l.Feeders {
		for _, t := range l.Feeders[i].From {
			if t.Bus >= 0 {
				hanging[t.Bus]++
				farthest[t.Bus] = max(farthest[t.Bus], t.At.Hi)
			}
		}
	}
	var out []unknown
	for i := range l.Buses {
		b := &l.Buses[i]
		if b.Use != layout.BusTrack {
			continue
		}
		if !b.Wire.Known() {
			u := unknown{what: "the wire of bus " + b.Name, uses: hanging[i], pos: b.Pos, manual: busWireByMeter(l, b), told: true}
			for g, size := range busSizes {
				u.guess[g] = func(c *layout.Layout) { edit(&c.Buses, i).Wire = awg(size) }
			}
			out = append(out, u)
		}
		if !b.Length.Known() {
			u := unknown{what: "the length of bus " + b.Name, uses: hanging[i], pos: b.Pos, manual: busLengthByTape(b), told: true}
			for g, times := range [2]float64{1, 2} {
				u.guess[g] = func(c *layout.Layout) { edit(&c.Buses, i).Length = exact(max(1, farthest[i]) * times) }
			}
			out = append(out, u)
		}
	}
	return out
}

// edit gives a copy its own slice, and the entry in it to change.
func edit[T any](s *[]T, i int) *T {
	*s = slices.Clone(*s)
	return &(*s)[i]
}

func unknownTracks(l *layout.Layout) []unknown {
	var out []unknown
	feeders := make([]int, len(l.Pieces))
	farthest := make([]float64, len(l.Pieces))
	note := func(p layout.Place) {
		if p.Piece >= 0 && p.End < 0 {
			farthest[p.Piece] = max(farthest[p.Piece], p.At.Hi)
		}
	}
	for i := range l.Feeders {
		note(l.Feeders[i].Place)
		if p := l.Feeders[i].Place.Piece; p >= 0 {
			feeders[p]++
		}
	}
	for i := range l.Gaps {
		note(l.Gaps[i].Place)
	}
	var unsaid []int
	for i := range l.Tracks {
		t := &l.Tracks[i]
		if !t.Length.Known() {
			u := unknown{what: "the length of track " + t.Name, uses: 1 + feeders[t.Piece], pos: t.Pos, manual: []string{"With a tape laid along one rail, from joint to joint; no meter and no power is needed."}, told: true}
			for g, more := range [2]float64{0.3, 4} {
				u.guess[g] = func(c *layout.Layout) { edit(&c.Tracks, i).Length = exact(farthest[t.Piece] + more) }
			}
			out = append(out, u)
		}
		if t.Rail.Code == 0 || t.Rail.Metal == "" {
			unsaid = append(unsaid, i)
		}
	}
	if len(unsaid) > 0 {
		u := unknown{what: "the rail of " + tracksText(l, unsaid), uses: len(unsaid), pos: l.Tracks[unsaid[0]].Pos, manual: railByCaliper()}
		for g, stock := range rails {
			u.guess[g] = func(c *layout.Layout) {
				for _, i := range unsaid {
					edit(&c.Tracks, i).Rail = stock
				}
			}
		}
		out = append(out, u)
	}
	return out
}

func tracksText(l *layout.Layout, is []int) string {
	names := make([]string, len(is))
	for n, i := range is {
		names[n] = l.Tracks[i].Name
	}
	return "track " + listed(names, mostNamed)
}

func unknownFeeders(l *layout.Layout) []unknown {
	var out []unknown
	var wires, lengths []int
	for i := range l.Feeders {
		f := &l.Feeders[i]
		if f.From[0].Unknown || f.From[1].Unknown {
			if u, ok := unknownSource(l, i); ok {
				out = append(out, u)
			}
		}
		if !f.Wire.Known() {
			wires = append(wires, i)
		}
		if !f.Length.Known() {
			lengths = append(lengths, i)
		}
	}
	if len(wires) > 0 {
		u := unknown{what: "the wire of " + feedersText(l, wires), uses: len(wires), pos: l.Feeders[wires[0]].Pos, manual: feederWire()}
		for g, size := range feederSizes {
			u.guess[g] = func(c *layout.Layout) {
				for _, i := range wires {
					edit(&c.Feeders, i).Wire = awg(size)
				}
			}
		}
		out = append(out, u)
	}
	if len(lengths) > 0 {
		u := unknown{what: "the length of " + feedersText(l, lengths), uses: len(lengths), pos: l.Feeders[lengths[0]].Pos, manual: []string{"With a tape, from the rail to the bus, one way; no power is needed."}}
		for g, m := range feederSpans {
			u.guess[g] = func(c *layout.Layout) {
				for _, i := range lengths {
					edit(&c.Feeders, i).Length = exact(m)
				}
			}
		}
		out = append(out, u)
	}
	return out
}

func feedersText(l *layout.Layout, is []int) string {
	if len(is) == 1 {
		return "the feeder at " + l.Feeders[is[0]].Place.Text
	}
	return fmt.Sprintf("%d feeders, the first at %s", len(is), l.Feeders[is[0]].Place.Text)
}

// unknownSource is a feeder whose other end nobody knows. It is tried at the first and the last bus for track.
func unknownSource(l *layout.Layout, feeder int) (unknown, bool) {
	var buses []int32
	for i := range l.Buses {
		if b := &l.Buses[i]; b.Use == layout.BusTrack && b.Legs == layout.LegsBoth {
			buses = append(buses, int32(i))
		}
	}
	if len(buses) == 0 {
		return unknown{}, false
	}
	f := &l.Feeders[feeder]
	u := unknown{what: "where the feeder at " + f.Place.Text + " hangs", uses: len(l.Feeders), pos: f.Pos, manual: feederByMeter(l, buses)}
	for g, bus := range [2]int32{buses[0], buses[len(buses)-1]} {
		u.guess[g] = func(c *layout.Layout) {
			at := 0.0
			if b := &c.Buses[bus]; b.Length.Known() {
				at = b.Length.Mid() / 2
			}
			x := edit(&c.Feeders, feeder)
			for leg := range x.From {
				if x.From[leg].Unknown {
					x.From[leg] = layout.Tap{Bus: bus, At: exact(at), Text: c.Buses[bus].Name, Pos: x.From[leg].Pos}
				}
			}
		}
	}
	return u, true
}

// Ends of what breakers, boosters and trains are, where a layout does not say. Common practice, no source.
var (
	tripSpan  = [2]float64{2, 8}
	voltSpan  = [2]float64{12, 18}
	trainSpan = [2]float64{0.3, 1.5}
	longSpan  = [2]float64{0.5, 4}
)

func amps(a float64) quantity.Current { return quantity.Current{Value: quantity.Exact(a)} }

func volts(v float64) quantity.Voltage { return quantity.Voltage{Value: quantity.Exact(v)} }

func unknownDevices(l *layout.Layout) []unknown {
	var out []unknown
	label := []string{"It stands on its label or in its instructions; do not find it out by loading it."}
	add := func(what string, uses int, pos source.Pos, manual []string, guess func(c *layout.Layout, end int)) {
		u := unknown{what: what, uses: uses, pos: pos, manual: manual}
		for g := range u.guess {
			u.guess[g] = func(c *layout.Layout) { guess(c, g) }
		}
		out = append(out, u)
	}
	for i := range l.Boosters {
		b := &l.Boosters[i]
		if !b.Volts.Known() {
			add("the volts of booster "+b.Name, len(l.Feeders), b.Pos, voltsByMeter(), func(c *layout.Layout, end int) { edit(&c.Boosters, i).Volts = volts(voltSpan[end]) })
		}
		if !b.TripsAt.Known() {
			add("at what current booster "+b.Name+" trips", len(l.Feeders), b.Pos, label, func(c *layout.Layout, end int) { edit(&c.Boosters, i).TripsAt = amps(tripSpan[end]) })
		}
	}
	for i := range l.Breakers {
		if b := &l.Breakers[i]; !b.TripsAt.Known() {
			add("at what current breaker "+b.Name+" trips", 2, b.Pos, label, func(c *layout.Layout, end int) { edit(&c.Breakers, i).TripsAt = amps(tripSpan[end]) })
		}
	}
	for i := range l.Reversers {
		if b := &l.Reversers[i]; !b.TripsAt.Known() {
			add("at what current reverser "+b.Name+" trips", 2, b.Pos, label, func(c *layout.Layout, end int) { edit(&c.Reversers, i).TripsAt = amps(tripSpan[end]) })
		}
	}
	for i := range l.Trains {
		t := &l.Trains[i]
		if !t.Current.Known() {
			add("the current of train "+t.Name, 3, t.Pos, []string{"With a booster's own display, or an ammeter that reads DCC, while the train runs by itself at full speed; do not break into a wire with the power on."}, func(c *layout.Layout, end int) { edit(&c.Trains, i).Current = amps(trainSpan[end]) })
		}
		if !t.Length.Known() {
			add("the length of train "+t.Name, 2, t.Pos, []string{"With a tape along the coupled train, power off."}, func(c *layout.Layout, end int) { edit(&c.Trains, i).Length = exact(longSpan[end]) })
		}
	}
	return out
}

func unknownPieces(l *layout.Layout) []unknown {
	var frogs []layout.PieceID
	var jumpers []int
	for p := range l.Pieces {
		if k := l.Pieces[p].Kind; k >= layout.TurnoutPiece && k <= layout.CrossingPiece && !l.FrogLength(layout.PieceID(p)).Known() {
			frogs = append(frogs, layout.PieceID(p))
		}
	}
	for i := range l.Turnouts {
		if y := l.Turnouts[i].Wiring.Jumpers; y == layout.YesNoUnknown || y == layout.YesNoUnsaid {
			jumpers = append(jumpers, i)
		}
	}
	var out []unknown
	if len(frogs) > 0 {
		u := unknown{what: "the length of the frogs of " + piecesText(l, frogs), uses: 1, pos: l.Pieces[frogs[0]].Pos, manual: []string{"With a ruler along the running rail, from where the metal of the frog begins to where it ends, power off."}}
		for g, m := range [2]float64{0.01, 0.06} {
			u.guess[g] = func(c *layout.Layout) {
				for _, p := range frogs {
					setFrog(c, p, exact(m))
				}
			}
		}
		out = append(out, u)
	}
	if len(jumpers) > 0 {
		u := unknown{what: "whether " + turnoutsText(l, jumpers) + " have jumpers", uses: len(jumpers), pos: l.Turnouts[jumpers[0]].Pos, manual: jumpersByMeter()}
		for g, y := range [2]layout.YesNo{layout.Yes, layout.No} {
			u.guess[g] = func(c *layout.Layout) {
				for _, i := range jumpers {
					edit(&c.Turnouts, i).Wiring.Jumpers = y
				}
			}
		}
		out = append(out, u)
	}
	if slices.Contains(l.JointDefaults, layout.JointUnknown) && len(l.Tracks) > 0 {
		u := unknown{what: "how the rail joints are made", uses: len(l.Tracks), pos: l.Tracks[0].Pos, manual: []string{"Look at each joint from the side: solder fills the joiner and wets both rails. Say `defaults: joint: {kind: soldered}` or `plain`, and the others under `joints`."}}
		for g, k := range [2]layout.JointKind{layout.Soldered, layout.Plain} {
			u.guess[g] = func(c *layout.Layout) {
				c.JointDefaults = slices.Clone(c.JointDefaults)
				for i := range c.JointDefaults {
					if c.JointDefaults[i] == layout.JointUnknown {
						c.JointDefaults[i] = k
					}
				}
			}
		}
		out = append(out, u)
	}
	return out
}

func piecesText(l *layout.Layout, ps []layout.PieceID) string {
	names := make([]string, len(ps))
	for n, p := range ps {
		names[n] = l.Pieces[p].Name
	}
	return listed(names, mostNamed)
}

func turnoutsText(l *layout.Layout, is []int) string {
	names := make([]string, len(is))
	for n, i := range is {
		names[n] = l.Turnouts[i].Name
	}
	return listed(names, mostNamed)
}

// setFrog sets the length of the frogs of a piece of a copy.
func setFrog(c *layout.Layout, p layout.PieceID, m quantity.Length) {
	switch i := int(c.Pieces[p].Index); c.Pieces[p].Kind {
	case layout.TurnoutPiece:
		edit(&c.Turnouts, i).FrogLength = m
	case layout.ThreeWayPiece:
		edit(&c.ThreeWays, i).FrogLength = m
	default:
		edit(&c.Crossings, i).FrogLength = m
	}
}
