package catalogue

import (
	"fmt"
	"math"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/conductor"
	"gapwise/netlist/layout"
	"gapwise/netlist/network"
	"gapwise/netlist/quantity"

	"gapwise/districts/power"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// together is one mend made of others.
func together(ms ...finding.Mend) finding.Mend {
	var out finding.Mend
	for i, m := range ms {
		if i > 0 {
			out.Text += "; "
		}
		out.Text += m.Text
		out.Work.Cuts += m.Work.Cuts
		out.Work.Wires += m.Work.Wires
		out.Work.Devices += m.Work.Devices
		out.Work.Settings += m.Work.Settings
		out.Changes = append(slices.Clone(out.Changes), m.Changes...)
	}
	return out
}

// guardSource is the source that a guard of a network is, -1 for an in-line part.
func guardSource(c *rule.Case, g *network.Guard) int32 {
	for s := range c.C.Sources {
		src := &c.C.Sources[s]
		switch g.Kind {
		case network.SourceGuard:
			if int32(s) == g.Ref {
				return int32(s)
			}
		case network.BreakerGuard:
			if src.Kind == circuit.BreakerSource && src.Ref == g.Ref {
				return int32(s)
			}
		case network.ReverserGuard:
			if src.Kind == circuit.ReverserSource && src.Ref == g.Ref {
				return int32(s)
			}
		}
	}
	return -1
}

// guardMends set what guards a place to trip at or below a current, above what trains draw there.
func guardMends(c *rule.Case, h *power.Head, guard int32, most float64) []finding.Mend {
	if guard < 0 {
		return nil
	}
	s := guardSource(c, &h.Weak.Guards[guard])
	if s < 0 || !finite(most) || most <= 0 {
		return nil
	}
	out := lowerTripMends(c, s, math.Nextafter(most, math.Inf(1)))
	return out[:min(2, len(out))]
}

// first takes one mend of a list, if there is one.
func first(ms []finding.Mend) []finding.Mend { return ms[:min(1, len(ms))] }

// mostSizes is how many sizes of wire are tried for one culprit.
const mostSizes = 3

// sizeMends make a culprit's wire thicker: of the size from which it should do on the way to a point, by short, drop and heat, and of the next.
func sizeMends(c *rule.Case, h *power.Head, k rule.Culprit) []finding.Mend {
	ms := wireMends(c, k)
	from := 0
	wire, is := c.CulpritWire(k)
	if !is || len(ms) == 0 {
		return nil
	}
	sizes := c.Thicker(wire, k.Kind == circuit.FeederWire)
	at := func(p *power.Point, ohms, most float64) {
		for _, q := range c.Parts(p) {
			if q.Culprit == k {
				if to, _, ok := thicker(c, q, ohms, most); ok {
					from = max(from, slices.Index(sizes, to))
				}
			}
		}
	}
	for g, p := range h.Weakest {
		if p == nil {
			continue
		}
		if t, known := tripOf(h, int32(g)); known && !t.held && p.Short.Lo < t.at.Hi {
			at(p, p.Loop.Hi, (h.Volts.Lo-p.Drop.Hi)/t.at.Hi-c.Power.Short.Hi)
		}
	}
	for _, d := range h.Drops {
		if limit := MostDrop / 100 * h.Volts.Lo; d != nil && d.Amps > 0 && d.Wiring.Lo > limit {
			at(&d.Point, d.Wiring.Hi/d.Amps, limit/d.Amps*d.Wiring.Hi/d.Wiring.Lo) // as little as that is left where all is at its best
		}
	}
	for i := range h.Wires {
		w := &h.Wires[i]
		if culpritOf(w) != k || w.Unguarded || !finite(w.Steady) {
			continue
		}
		for n, to := range sizes {
			if conductor.SteadyCelsius(to, w.Steady, room(c).Hi, w.IsPair(c.L)) <= WarmInsulation {
				from = max(from, n)
				break
			}
		}
	}
	from = min(from, len(ms)-1)
	return ms[from:min(len(ms), from+mostSizes)]
}

// nextWire is the wire that adds most to a loop after a culprit, if there is one that counts.
func nextWire(c *rule.Case, parts []rule.Part, k rule.Culprit) (rule.Culprit, bool) {
	for _, q := range parts {
		if _, is := c.CulpritWire(q.Culprit); is && q.Culprit != k {
			return q.Culprit, true
		}
	}
	return rule.Culprit{}, false
}

// weakMends mend a short that is too weak: a lower trip current, thicker wire, a feeder near the place, and two of these together.
func weakMends(c *rule.Case, h *power.Head, guard int32, p *power.Point, parts []rule.Part, k rule.Culprit) []finding.Mend {
	trips := guardMends(c, h, guard, p.Short.Lo)
	return append(trips, loopMends(c, h, p, parts, k, first(trips))...)
}

// loopMends make less of the ohms of a loop to a point: thicker wire of the culprit, a feeder near the point, both; with thicker wire of the part that counts
// next; and with something else besides.
func loopMends(c *rule.Case, h *power.Head, p *power.Point, parts []rule.Part, k rule.Culprit, besides []finding.Mend) []finding.Mend {
	sizes := sizeMends(c, h, k)
	feeders := first(append(pointMends(c, p), feederMends(c, p, parts)...))
	if len(sizes) == 0 {
		out := slices.Clone(feeders)
		for _, b := range besides {
			for _, f := range feeders {
				out = append(out, together(f, b))
			}
		}
		out = append(out, rowMends(c, p)...)
		if next, ok := nextWire(c, parts, k); ok {
			more := sizeMends(c, h, next)
			out = append(out, more...)
			for _, f := range feeders {
				for _, m := range more {
					out = append(out, together(m, f))
				}
			}
		}
		return out
	}
	out := append(slices.Clone(first(sizes)), feeders...)
	out = append(out, sizes[1:]...)
	last := sizes[len(sizes)-1]
	if next, ok := nextWire(c, parts, k); ok {
		if more := sizeMends(c, h, next); len(more) > 0 {
			out = append(out, together(last, more[len(more)-1]))
		}
	}
	for _, f := range feeders {
		out = append(out, together(last, f))
	}
	for _, b := range besides {
		out = append(out, together(last, b))
	}
	return append(out, rowMends(c, p)...)
}

// rowEvery is how far apart feeders are hung in a row along a track that has too few: 6 ft, or half of it where that is not enough. Common
// practice, no source.
const rowEvery = 1.8288

// mostRow bounds how many feeders one mend hangs.
const mostRow = 12

// rowMends hang feeders in rows along the track of a point, as far from those that are there as between themselves.
func rowMends(c *rule.Case, p *power.Point) []finding.Mend {
	if p.Way < 0 || c.L.Pieces[c.C.Ways[p.Way].Piece].Kind != layout.TrackPiece {
		return nil
	}
	track := c.L.Pieces[c.C.Ways[p.Way].Piece].Index
	var out []finding.Mend
	for _, every := range [2]float64{rowEvery, rowEvery / 2} {
		if ms := rowOf(c, track, every); len(ms) >= 2 && len(ms) <= mostRow {
			out = append(out, oneLength(together(ms...)))
		}
	}
	return out
}

// rowOf are feeders along a track where none is near.
func rowOf(c *rule.Case, track int32, every float64) []finding.Mend {
	length := c.L.Tracks[track].Length.Mid()
	var ms []finding.Mend
	for at := every / 2; at < length && len(ms) <= mostRow; at += every {
		near := slices.ContainsFunc(c.L.Feeders, func(f layout.Feeder) bool {
			return f.Place.Piece == c.L.Tracks[track].Piece && f.Place.End < 0 && math.Abs(f.Place.At.Mid()-at) < every/2
		})
		if !near {
			ms = append(ms, hangMends(c, track, at, at-every/4, at+every/4, 1)...)
		}
	}
	return ms
}

// oneLength makes of several changes to the length of one bus the longest.
func oneLength(m finding.Mend) finding.Mend {
	last := map[string]int{}
	for i := range m.Changes {
		if x := &m.Changes[i]; x.Op == finding.OpSet && x.Section == "buses" {
			last[x.Name] = i
		}
	}
	var out []finding.Change
	for i := range m.Changes {
		if x := &m.Changes[i]; x.Op != finding.OpSet || x.Section != "buses" || last[x.Name] == i {
			out = append(out, *x)
		}
	}
	m.Changes = out
	return m
}

// gapShortMends let a reverser act on what wheels over one of its gaps draw: at a lower current, with thicker wire, or with feeders close to the gap.
func gapShortMends(c *rule.Case, h *power.Head, g *power.GapShort) []finding.Mend {
	out := guardMends(c, h, g.Reverser, g.Short.Lo)
	w := &c.C.Ways[g.Way]
	for _, s := range [2]int32{w.A, w.B} {
		spot := &c.C.Spots[s]
		if c.L.Pieces[spot.Piece].Kind != layout.TrackPiece {
			continue
		}
		track := c.L.Pieces[spot.Piece].Index
		lo, hi := spot.At, spot.At+feederBeside
		if other := w.A + w.B - s; c.C.Spots[other].Piece != spot.Piece && spot.At > 0 || s == w.A && c.C.Spots[other].Piece == spot.Piece {
			lo, hi = spot.At-feederBeside, spot.At
		}
		out = append(out, first(hangMends(c, track, (lo+hi)/2, lo, hi, 1))...)
	}
	seen := map[int32]bool{}
	for i := range c.L.Buses {
		source, _ := c.C.SourceAbove(c.L.Buses[i].From)
		if source >= 0 && c.C.Sources[source].Kind == circuit.ReverserSource && c.C.Sources[source].Ref == h.Weak.Guards[g.Reverser].Ref && !seen[int32(i)] {
			seen[int32(i)] = true
			ms := wireMends(c, rule.Culprit{Kind: circuit.BusSpan, Ref: int32(i)})
			out = append(out, ms[:min(2, len(ms))]...)
		}
	}
	return out
}

// carriers remember of which wire a verdict is, by its message: mends are made for those that are told.
type carriers map[string]carrier

type carrier struct {
	head *power.Head
	wire *power.Carried
}

func (x carriers) add(v *rule.Verdict, h *power.Head, w *power.Carried) {
	x[v.Finding.Message] = carrier{h, w}
}

// mend makes the mends of verdicts.
func (x carriers) mend(vs []rule.Verdict, mends func(*power.Head, *power.Carried) []finding.Mend) {
	for i := range vs {
		of := x[vs[i].Finding.Message]
		vs[i].Finding.Mends = mends(of.head, of.wire)
	}
}

// groupMends make all wires thicker that are as thin as one, of its kind, behind one guard.
func groupMends(c *rule.Case, h *power.Head, guard int32, w *power.Carried, enough func(to quantity.Wire, x *power.Carried) bool) []finding.Mend {
	var ks []rule.Culprit
	var xs []*power.Carried
	for i := range h.Wires {
		x := &h.Wires[i]
		g := x.Guard
		if guard == w.Trips && guard != w.Guard {
			g = x.Trips
		}
		if g >= 0 && group(h, g, x) == group(h, guard, w) && !slices.Contains(ks, culpritOf(x)) {
			ks, xs = append(ks, culpritOf(x)), append(xs, x)
		}
	}
	var out []finding.Mend
	for _, to := range c.Thicker(w.Wire, w.Kind == circuit.FeederWire) {
		if slices.ContainsFunc(xs, func(x *power.Carried) bool { return !enough(to, x) }) {
			continue
		}
		m := finding.Mend{Work: finding.Work{Wires: len(ks)}}
		for _, k := range ks {
			m.Changes = append(m.Changes, wireChange(c, k, to))
		}
		m.Text = fmt.Sprintf("make %s of %s", c.CulpritName(culpritOf(w)), rule.WireText(to))
		if len(ks) > 1 {
			m.Text += fmt.Sprintf(", and the %d others of that size with it", len(ks)-1)
		}
		if out = append(out, m); len(out) == mostSizes {
			break
		}
	}
	return out
}

// wireChange gives a culprit a wire.
func wireChange(c *rule.Case, k rule.Culprit, to quantity.Wire) finding.Change {
	keys := []finding.Key{{Name: "wire", Value: to.String()}}
	switch k.Kind {
	case circuit.FeederWire:
		return finding.Change{Op: finding.OpSetFeeder, Ref: k.Ref, Keys: keys}
	case circuit.BondWire:
		return finding.Change{Op: finding.OpSetItem, Section: "bonds", Ref: k.Ref, Keys: keys}
	default:
		return finding.Change{Op: finding.OpSet, Section: "buses", Name: c.L.Buses[k.Ref].Name, Keys: keys}
	}
}

// hotMends let a wire get less warm: a lower trip current of what guards it, or thicker wire.
func hotMends(c *rule.Case, h *power.Head, w *power.Carried) []finding.Mend {
	var out []finding.Mend
	if w.ByGuard {
		amps := w.Steady
		for amps > 0.05 && conductor.SteadyCelsius(w.Wire, amps, room(c).Hi, w.IsPair(c.L)) > WarmInsulation {
			amps *= 0.95
		}
		if g := &h.Weak.Guards[w.Guard]; g.TripsAt.Known() && w.Steady > 0 {
			out = guardMends(c, h, w.Guard, g.TripsAt.Hi*amps/w.Steady)
		}
	}
	return append(out, groupMends(c, h, w.Guard, w, func(to quantity.Wire, x *power.Carried) bool {
		return conductor.SteadyCelsius(to, x.Steady, room(c).Hi, x.IsPair(c.L)) <= WarmInsulation
	})...)
}

// energyMends save a wire from a dead short: what trips first trips sooner, or the wire is thicker.
func energyMends(c *rule.Case, h *power.Head, w *power.Carried) []finding.Mend {
	var out []finding.Mend
	stands, _ := conductor.AdiabaticSeconds(w.Wire.Lo, w.Sudden, conductor.KPVC)
	if s := guardSource(c, &h.Weak.Guards[w.Trips]); s >= 0 {
		seconds := math.Floor(stands*1000*clearance) / 1000
		if change, ok := setSource(c, s, "trip-time", milliseconds(seconds)); ok && seconds >= 0.001 {
			out = append(out, finding.Mend{
				Text:    fmt.Sprintf("set %s to trip in %s", c.C.Sources[s].Name, quantity.FormatTime(seconds)),
				Work:    finding.Work{Settings: 1},
				Changes: []finding.Change{change},
			})
		}
	}
	return append(out, groupMends(c, h, w.Trips, w, func(to quantity.Wire, x *power.Carried) bool {
		if !finite(x.Sudden) {
			return true
		}
		lasts, _ := conductor.AdiabaticSeconds(to.Lo, x.Sudden, conductor.KPVC)
		return lasts >= x.Seconds
	})...)
}

// pulsedMends let the short of a loop climb sooner: twisted wires, a lower trip current, both, and thicker wire.
func pulsedMends(c *rule.Case, pulsed *power.Pulsed, guard int32, k rule.Culprit) []finding.Mend {
	h := pulsed.Point.Head
	out := twistMends(c, k)
	twist := out
	x, _ := h.Trip(guard)
	trips := guardMends(c, h, x.Guard, pulsed.Short.MeanAbs)
	out = append(slices.Clone(out), trips...)
	for _, t := range twist {
		for _, lower := range trips {
			out = append(out, together(t, lower))
		}
		if ms := sizeMends(c, h, k); len(ms) > 0 {
			out = append(out, together(t, ms[0]))
		}
	}
	return out
}
