package oracle

import (
	"cmp"
	"math"
	"slices"
)

// The kinds of electric hazard.
const (
	ShortNeverTrips = "short-never-trips"  // amperes: even the strongest short is below what trips
	ShortMayNotTrip = "short-may-not-trip" // amperes: the weakest is
	DropOverLimit   = "drop-over-limit"    // volts
	WireHot         = "wire-hot"           // °C
	LetThrough      = "let-through"        // seconds that the insulation stands, below the time to trip
)

// ElectricHazard is the worst place of one kind on one piece, or in one wire.
type ElectricHazard struct {
	Kind   string
	Source string
	Piece  string // a track, piece, "bus yard" or "feeder M1 @ 1.00 m"
	At     float64
	Value  float64
	Limit  float64
	Part   string // of a drop: "" for all of it, else bus, feeder or rail, where the owner limits that
	Sure   bool   // it holds for the ends of all ranges, and for trains placed as they can stand
	Guess  bool   // a wire, rail or length that decides is a guess
}

const (
	mostDrop    = 0.10 // of the source's volts, NEM 604 2.2
	warmCelsius = 60   // least common class of insulation
	hotCelsius  = 70   // PVC
)

// Hazards lists what a flat layout's ohms make hazardous, sorted. What is not known (volts, a trip current) is no hazard.
// Sources whose legs meet are an error, as of Ohms.
func Hazards(text string) ([]ElectricHazard, error) {
	s, err := surveyed(text)
	if s == nil {
		return nil, err
	}
	worst := map[[4]string]ElectricHazard{}
	add := func(h ElectricHazard) {
		key := [4]string{h.Kind, h.Source, h.Piece, h.Part}
		old, ok := worst[key]
		badness := func(h ElectricHazard) float64 {
			if h.Kind == DropOverLimit || h.Kind == WireHot {
				return h.Value - h.Limit
			}
			return h.Limit - h.Value
		}
		if !ok || badness(h) > badness(old) {
			worst[key] = h
		}
	}
	for i, p := range s.points {
		s.shorts(p, add)
		s.drops(i, add)
	}
	s.wires(add)
	out := make([]ElectricHazard, 0, len(worst))
	for _, h := range worst {
		out = append(out, h)
	}
	slices.SortFunc(out, func(x, y ElectricHazard) int {
		return cmp.Or(cmp.Compare(x.Kind, y.Kind), cmp.Compare(x.Source, y.Source), cmp.Compare(x.Piece, y.Piece), cmp.Compare(x.Part, y.Part))
	})
	return out, err
}

func (s *survey) shorts(p Point, add func(ElectricHazard)) {
	if p.ByLamp || math.IsNaN(p.Trips) {
		return
	}
	h := ElectricHazard{Source: p.Guard, Piece: p.Piece, At: p.At, Guess: p.Assumed}
	switch {
	case p.ShortStrong < p.Trips:
		h.Kind, h.Value, h.Limit, h.Sure = ShortNeverTrips, p.ShortStrong, p.Trips, true
	case p.ShortWeak < p.TripsMost && finite(p.ROhmWeak):
		h.Kind, h.Value, h.Limit = ShortMayNotTrip, p.ShortWeak, p.TripsMost
	default:
		return
	}
	add(h)
}

func (s *survey) drops(i int, add func(ElectricHazard)) {
	p, l := s.points[i], s.loops[i]
	if l.in == nil || !finite(p.DropMost) {
		return
	}
	volts := s.e.heads[l.f.head].volts
	h := ElectricHazard{Kind: DropOverLimit, Source: p.Source, Piece: p.Piece, At: p.At, Guess: p.Assumed}
	if most := mostDrop * volts.lo; p.DropMost > most {
		h.Value, h.Limit, h.Sure = p.DropMost, most, p.DropLeast > most
		add(h)
	}
	var shares map[partKind]float64
	for _, part := range []struct {
		name string
		kind partKind
	}{{"bus", ofBus}, {"feeder", ofFeeder}, {"rail", ofRail}} {
		most := s.e.limit(part.name+"-drop", voltUnits).lo
		if of := s.e.limit(part.name+"-drop", percentUnits); of.known() {
			most = of.lo * volts.lo
		}
		if !finite(most) {
			continue
		}
		if shares == nil {
			shares = s.shares(i)
		}
		if drop := p.Amps * shares[part.kind]; drop > most {
			h.Part, h.Value, h.Limit, h.Sure = part.name, drop, most, false
			add(h)
		}
	}
}

// shares parts the ohms of a point's loop by what they lie in: for one ampere, a branch that carries i of it
// takes i² of its own ohms.
func (s *survey) shares(i int) map[partKind]float64 {
	l, p := s.loops[i], s.probes[i]
	out := map[partKind]float64{}
	for side, lg := range l.in.legs[l.f.head] {
		m := p.rails[side]
		if l.f.flip {
			m = p.rails[1-side]
		}
		out[ofRail] += l.in.own(m)
		volts := make([]float64, s.e.nodes)
		for k, n := range m.nodes() {
			if w := m.weights()[k]; w > 0 {
				for local, v := range l.in.solved(lg).column(lg.at[n]) {
					volts[lg.nodes[local]] += w * v
				}
			}
		}
		for n := range l.in.near {
			for _, b := range l.in.near[n] {
				if x := s.e.branches[b]; x.a == n && (lg.at[x.a] >= 0 || lg.at[x.b] >= 0) {
					d := volts[x.a] - volts[x.b]
					out[x.of] += d * d / l.in.ohms(x)
				}
			}
		}
	}
	return out
}

// wires judges every length of wire with a short at either of its ends: there its share of the current is largest.
func (s *survey) wires(add func(ElectricHazard)) {
	in := s.strong.still
	for h, head := range s.e.heads {
		if s.weak.meet[h] || s.strong.meet[h] {
			continue
		}
		for side, lg := range in.legs[h] {
			other := in.legs[h][1-side]
			for n := range in.near {
				for _, i := range in.near[n] {
					b := s.e.branches[i]
					if b.a != n || b.wire == nil || lg.at[b.a] < 0 || lg.at[b.b] < 0 {
						continue
					}
					var guards []int // of the whole wire
					behind := in.guarded(lg, head.ends[side], b.b)
					for _, g := range in.guarded(lg, head.ends[side], b.a) {
						if slices.Contains(behind, g) {
							guards = append(guards, g)
						}
					}
					for _, end := range []struct{ at, far, mate int }{{b.a, b.b, b.wire.mate[0]}, {b.b, b.a, b.wire.mate[1]}} {
						if end.mate < 0 || other.at[end.mate] < 0 {
							continue
						}
						ohms := head.inside.lo + in.between(lg, end.at, end.at) + in.between(other, end.mate, end.mate)
						share := math.Abs(in.between(lg, end.at, end.at)-in.between(lg, end.at, end.far)) / in.ohms(b)
						s.wire(h, b, head.volts.hi/ohms, share, guards, add)
					}
				}
			}
		}
	}
}

// wire judges one length of wire that carries a share of a short's current.
func (s *survey) wire(head int, b branch, short, share float64, guards []int, add func(ElectricHazard)) {
	f := s.e.firstOf(head, guards)
	if !finite(short) || !finite(f.trips.hi) {
		return
	}
	h := ElectricHazard{Source: f.name, Piece: b.wire.name, At: b.wire.at, Sure: true, Guess: b.assumed}
	held := min(short, f.trips.hi) * share
	paired := b.of == ofBus && b.wire.mate[0] >= 0
	if t := b.wire.size.celsius(held, s.e.room.hi, paired); t > warmCelsius {
		h.Kind, h.Value, h.Limit = WireHot, t, warmCelsius
		if t > hotCelsius {
			h.Limit = hotCelsius
		}
		add(h)
	}
	if stands := b.wire.size.stands(short * share); short >= f.trips.hi && f.time.known() && stands < f.time.hi {
		h.Kind, h.Value, h.Limit = LetThrough, stands, f.time.hi
		add(h)
	}
}
