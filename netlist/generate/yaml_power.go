package generate

import "gapwise/netlist/layout"

// devices writes the power side; what every entry of a kind shares is typed each time,
// as an owner would who copies lines.
func (w *writer) devices() {
	l := w.l
	w.section("supplies")
	for i := range l.Supplies {
		s := &l.Supplies[i]
		w.entry(s.Name, fields{"volts: " + s.Volts.Text, "rating: " + s.Rating.Text, "tolerance: " + s.Tolerance.Text, "listed: " + yesNo(s.Listed)})
	}
	w.section("boosters")
	for i := range l.Boosters {
		b := &l.Boosters[i]
		w.entry(b.Name, fields{
			"supply: " + l.Supplies[b.Supply].Name, "volts: " + b.Volts.Text, "inside: " + b.Inside.Text, "rating: " + b.Rating.Text,
			"trips-at: " + b.TripsAt.Text, "trip-time: " + b.TripTime.Text, "retry: " + b.Retry.Text, "signal: " + b.Signal,
			"signal-wired: straight", "isolated: " + yesNo(b.Isolated), "common: required",
		})
	}
	w.commons()
	w.section("breakers")
	for i := range l.Breakers {
		b := &l.Breakers[i]
		w.entry(b.Name, fields{"from: " + b.From.Text, "trips-at: " + b.TripsAt.Text, "trip-time: " + b.TripTime.Text, "resistance: " + b.Resistance.Text, "opens: " + layout.OpensWords[b.Opens]})
	}
	w.section("reversers")
	for i := range l.Reversers {
		r := &l.Reversers[i]
		w.entry(r.Name, fields{"from: " + r.From.Text, "switching: automatic", "trips-at: " + r.TripsAt.Text, "trip-time: " + r.TripTime.Text, "resistance: " + r.Resistance.Text, "opens: " + layout.OpensWords[r.Opens]})
	}
	w.section("detectors")
	for i := range l.Detectors {
		d := &l.Detectors[i]
		w.entry(d.Name, fields{"from: " + d.From.Text, "leg: " + d.Leg.String(), "senses: " + d.Senses, "drop: " + d.Drop.Text, "sees: " + d.Sees.Text})
	}
}

// commons writes the wires that tie the boosters together, where there are several.
func (w *writer) commons() {
	if len(w.l.Commons) == 0 {
		return
	}
	w.section("commons")
	for i := range w.l.Commons {
		c := &w.l.Commons[i]
		var names []string
		for _, b := range c.Joins {
			names = append(names, w.l.Boosters[b].Name)
		}
		w.line("  - ", fields{"joins: " + list(names), "wire: " + c.Wire.Text}.String())
	}
}

// legsWords are the words of the language for layout.Legs, by value.
var legsWords = [...]string{"both", "A", "B"}

func (w *writer) buses() {
	w.section("buses")
	for i := range w.l.Buses {
		b := &w.l.Buses[i]
		f := fields{"from: " + b.From.Text}
		if b.Legs != layout.LegsBoth {
			f.add("legs", legsWords[b.Legs])
		}
		f.add("wire", b.Wire.Text)
		f.add("length", b.Length.Text)
		if len(b.Beside) > 0 {
			f.add("beside", fields{w.l.Buses[b.Beside[0].Bus].Name + ": " + b.Beside[0].Spacing.Text}.String())
		}
		w.entry(b.Name, f)
	}
}
