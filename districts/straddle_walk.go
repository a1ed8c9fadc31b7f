package districts

import (
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// sameLength is how much two lengths may differ by what sums lose, in metres.
const sameLength = 1e-6

// standing is a walk from the middle of a first place on, as a train may cover it.
type standing struct {
	paces    []Pace
	places   []int // of paces
	metres   float64
	span     float64 // to the last place
	settings []Setting
	trains   []straddling // that may stand on all of it
	unsure   bool
}

// begin stretches walks from one place.
func (s *straddler) begin(p Pace) {
	w := &s.c.Ways[p.Way]
	x := standing{trains: s.trains}
	if len(s.trains) == 0 {
		x.trains = []straddling{{train: -1, most: longestUnknown}}
	}
	x.trains = s.comeTo(x.trains, p.From)
	if !s.walk(&x, p) {
		return
	}
	x.metres, x.span = w.Length-bridgedAt(w, p.From), 0
	x.places = []int{0}
	s.stretch(x)
}

// stretch judges what stands over a walk's places, and goes on where it is sound.
func (s *straddler) stretch(x standing) {
	if s.left--; s.left < 0 {
		return
	}
	if s.each--; s.each < 0 {
		return
	}
	last := len(x.paces) - 1
	if x.places[len(x.places)-1] == last && s.faulty(&x) {
		return
	}
	from, by := x.paces[last].To, x.paces[last].Way
	for _, k := range s.t.Ways.Of(from) {
		w := &s.c.Ways[k]
		if k == by || s.t.Cut[k] || s.turnsBack(by, k, from) {
			continue
		}
		for _, p := range [2]Pace{{k, w.A, w.B}, {k, w.B, w.A}} {
			if p.From != from || (p.To == from && p.From == w.B && w.A != w.B) {
				continue
			}
			y := x
			y.paces, y.places = slices.Clip(x.paces), slices.Clip(x.places)
			if !s.walk(&y, p) {
				continue
			}
			if s.starts(k) {
				y.span = x.metres + bridgedAt(w, from)
				y.places = append(y.places, last+1)
			}
			y.metres += w.Length
			y.unsure = y.unsure || s.unsureLength(w)
			at := y.metres
			if s.starts(k) {
				at = y.span
			}
			if y.trains = s.asLong(y.trains, at); len(y.trains) > 0 {
				s.stretch(y)
			}
		}
	}
}

// turnsBack reports whether a walk may not go on from one way to the next at a spot: inside track work
// it passes from one side to the other, and over the edge of a pit not back again.
func (s *straddler) turnsBack(by, next, spot int32) bool {
	x, y := &s.c.Ways[by], &s.c.Ways[next]
	switch {
	case y.Kind == circuit.WayThrough:
		return inside(x)
	case y.Kind == circuit.WayPit:
		return x.Kind == circuit.WayThrough || (x.Kind == circuit.WayPit && s.c.Spots[spot].End >= 0)
	default:
		return false
	}
}

// walk adds a pace; not where the train already stands, nor against a setting.
func (s *straddler) walk(x *standing, p Pace) bool {
	w := &s.c.Ways[p.Way]
	for _, o := range x.paces {
		v := &s.c.Ways[o.Way]
		if o.Way == p.Way || (w.Kind == circuit.WayThrough && v.Kind == circuit.WayThrough && v.Piece == w.Piece) {
			return false
		}
	}
	if w.Device >= 0 {
		all, ok := with(s.c, s.never, x.settings, Setting{w.Device, w.Position})
		if !ok {
			return false
		}
		x.settings = all
	}
	x.paces = append(x.paces, p)
	x.trains = s.comeTo(x.trains, p.To)
	if b := s.t.Meant.wayBlock(s.c, w); b >= 0 {
		x.trains = s.allowed(x.trains, b)
	}
	return len(x.trains) > 0
}

// comeTo keeps the trains that come to the block at a spot.
func (s *straddler) comeTo(trains []straddling, spot int32) []straddling {
	for _, k := range s.t.Ways.Of(spot) {
		if w := &s.c.Ways[k]; w.Kind == circuit.WayTrack {
			if b := s.t.Meant.wayBlock(s.c, w); b >= 0 {
				trains = s.allowed(trains, b)
			}
		}
	}
	return trains
}

// allowed keeps the trains that a block lets in.
func (s *straddler) allowed(trains []straddling, block int32) []straddling {
	only := s.c.Layout.Blocks[block].Trains
	if len(only) == 0 {
		return trains
	}
	return slices.DeleteFunc(slices.Clone(trains), func(x straddling) bool { return x.train >= 0 && !slices.Contains(only, x.train) })
}

// asLong keeps the trains that are longer than a span, or may be.
func (s *straddler) asLong(trains []straddling, span float64) []straddling {
	long := func(x straddling) bool { return span < x.most-sameLength }
	if !slices.ContainsFunc(trains, func(x straddling) bool { return !long(x) }) {
		return trains
	}
	return slices.DeleteFunc(slices.Clone(trains), func(x straddling) bool { return !long(x) })
}

// approaching is the leg of track work before the end of a walk: the setting that serves it, the end of the
// piece that it is, and how far it lies from the walk's end, in metres.
type approaching struct {
	set    Setting
	leg    int32
	metres float64
}

// approach finds what has to be set for a train that stands over the end of a walk: it stands before, or
// in, the leg of track work that it comes to next, which is then set for it. Nothing follows where
// it comes to the points, for it may go either way.
func (s *straddler) approach(spot, by int32) (a approaching, found bool) {
	for range s.c.Ways {
		next, ends := int32(-1), 0
		for _, k := range s.t.Ways.Of(spot) {
			w := &s.c.Ways[k]
			switch {
			case k == by || s.turnsBack(by, k, spot):
			case w.Kind == circuit.WayThrough && w.Device >= 0:
				if ends++; ends == 1 {
					a.set, a.leg = Setting{w.Device, w.Position}, s.c.Spots[spot].End
				}
			case w.Kind == circuit.WayTrack, w.Kind == circuit.WayJoint, isHalfGap(w):
				next = k
			}
		}
		if ends > 0 {
			return a, s.oneWay(spot)
		}
		if next < 0 || s.t.Cut[next] {
			break
		}
		a.metres += s.c.Ways[next].Length
		spot, by = s.c.Ways[next].A+s.c.Ways[next].B-spot, next
	}
	return approaching{}, false
}

// oneWay reports whether all routes from an end of track work lead to one other end.
func (s *straddler) oneWay(spot int32) bool {
	to := int32(-1)
	for _, k := range s.t.Ways.Of(spot) {
		w := &s.c.Ways[k]
		if w.Kind != circuit.WayThrough {
			continue
		}
		other := w.A + w.B - spot
		if to >= 0 && other != to {
			return false
		}
		to = other
	}
	return to >= 0
}

// clearWithin is how far from the leg of a turnout a vehicle is taken to be in the way of the other leg where
// no `clear-at` says, in metres (12 in). Common practice, no source.
const clearWithin = 0.3048

// clears reports whether what stands some metres out from where a setting's route leaves its track work, on the
// leg at a spot, is clear of the other routes.
func (s *straddler) clears(set Setting, metres float64, leg int32) bool {
	l := s.c.Layout
	p := &l.Pieces[s.c.Devices[set.Device].Ref]
	if p.Kind == layout.TurnoutPiece && leg > 0 {
		if at := l.Turnouts[p.Index].ClearAt[leg-1]; at.Known() {
			return metres >= at.Hi
		}
	}
	return metres >= clearWithin
}

// settled lists the sets of settings that a train over the places first to last of a walk goes with: those
// of the walk, and of what lies before either end of it. Where both ends' cannot be set at once, the
// train stands clear of one of them, and either may be. Where the walk's own settings rule out the leg that
// one end stands in, the train would run into itself or against the points: then ok is false.
func (s *straddler) settled(x *standing, first, last int) (sets [][]Setting, ok bool) {
	var own []Setting
	for _, p := range x.paces[first : last+1] {
		if w := &s.c.Ways[p.Way]; w.Device >= 0 {
			own, _ = with(s.c, s.never, own, Setting{w.Device, w.Position})
		}
	}
	both, together := own, true
	for _, p := range [2]Pace{{x.paces[first].Way, x.paces[first].To, x.paces[first].From}, x.paces[last]} {
		a, found := s.approach(p.To, p.Way)
		if !found {
			continue
		}
		one, fits := with(s.c, s.never, own, a.set)
		if !fits || !s.g.possible(one) {
			if !s.clears(a.set, a.metres, a.leg) {
				return nil, false
			}
			continue
		}
		sets = append(sets, one)
		if together {
			both, together = with(s.c, s.never, both, a.set)
		}
	}
	if together && s.g.possible(both) {
		return [][]Setting{both}, true
	}
	return sets, true
}

// faulty judges the places of a walk, and keeps it when it is at fault and no part of it is.
func (s *straddler) faulty(x *standing) bool {
	last := x.places[len(x.places)-1]
	v, found := s.judgeFrom(x, 0)
	if !found {
		return false
	}
	if len(x.places) > 1 {
		if _, also := s.judgeFrom(x, 1); also {
			return true
		}
	}
	s.explain(x, &v)
	f := Straddle{Paces: slices.Clone(x.paces[:last+1]), Span: x.span, Settings: v.settings, Legs: v.legs, Between: v.between, Train: -1, Unsure: x.unsure}
	for _, p := range x.places {
		if slices.Contains(s.t.Polarity.WrongGaps, x.paces[p].Way) && len(x.places) > 1 {
			return true // a gap between phases that are tied nowhere, of which one has to be wrong
		}
		f.Places = append(f.Places, x.paces[p].Way)
	}
	for _, y := range x.trains {
		if y.metres > f.Reach {
			f.Train, f.Reach = y.train, y.metres
		}
	}
	f.Kind = s.kindOf(&f, &v)
	s.keep(f)
	return true
}

// keep adds a straddle, or puts it in place of a longer one between the same places.
func (s *straddler) keep(f Straddle) {
	key := straddleKey{kind: f.Kind, ends: [2]int32{f.Places[0], f.Places[len(f.Places)-1]}, between: -1, open: f.Train < 0 || f.Unsure}
	slices.Sort(key.ends[:])
	if len(f.Between) > 0 {
		key.between = slices.Min(f.Between)
	}
	n, found := s.at[key]
	switch {
	case !found:
		s.at[key] = len(s.found)
		s.found = append(s.found, f)
	case f.Span < s.found[n].Span-sameLength:
		s.found[n] = f
	}
}

// kindOf tells what lies between.
func (s *straddler) kindOf(f *Straddle, v *verdict) StraddleKind {
	switch {
	case len(f.Places) == 1:
		return StraddleGap
	case len(f.Between) > 1, (len(f.Between) == 1 || v.tied) && reverses(&s.c.Sources[s.class[f.Legs[0].Source].of]):
		return StraddleChain
	case v.tied:
		return StraddleOther
	case len(f.Between) == 1:
		return StraddleSection
	default:
		return StraddleDead
	}
}

// IsTrainLength reports whether a train counts with its own length: it does unless it says, or operations
// say, that it rolls on plastic wheels.
func IsTrainLength(l *layout.Layout, train int32) bool {
	wheels := l.Trains[train].Wheels
	if wheels == layout.WheelsUnsaid {
		wheels = l.Operations.Wheels
	}
	return wheels != layout.PlasticWheels
}
