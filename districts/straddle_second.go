package districts

import (
	"slices"

	"gapwise/netlist/circuit"
)

// SecondTrain is a reversing section that two trains can enter and leave at once, by exits that ask for
// different states of its source.
type SecondTrain struct {
	Section int32 // of Polarity.Sections
	Source  int32
	Exits   [2]int32 // ways
	// Settings are those in which a train can stand over either exit, none when every one will do.
	Settings []Setting
	// OneBlock says that one block as meant reaches from the one exit to the other.
	OneBlock bool
}

// SecondTrains lists, for each reversing section, the first two of its exits over which two trains can stand
// at once though no state of its source suits both. Settings rule out what they cannot serve
// together: the two ends of a balloon at its own turnout.
func (t *Trace) SecondTrains() []SecondTrain {
	if len(t.Reversing) == 0 {
		return nil
	}
	s := t.newStraddler()
	var out []SecondTrain
	for i := range t.Reversing {
		if x, found := s.second(&t.Reversing[i]); found {
			out = append(out, x)
		}
	}
	return out
}

func (s *straddler) second(r *ReversingSection) (SecondTrain, bool) {
	for i, x := range r.Exits {
		for _, y := range r.Exits[i+1:] {
			if missing(s.t.C, s.t.Cut, x) || missing(s.t.C, s.t.Cut, y) || !s.otherState(r.Section, x, y) {
				continue
			}
			a, okA := s.over(x)
			b, okB := s.over(y)
			if !okA || !okB {
				continue
			}
			if all, ok := atOnce(s.c, s.never, a, b); ok && s.g.possible(all) {
				one := s.blockWithin(r.Section, x)
				return SecondTrain{Section: r.Section, Source: r.Source, Exits: [2]int32{x, y}, Settings: all, OneBlock: one >= 0 && one == s.blockWithin(r.Section, y)}, true
			}
		}
	}
	return SecondTrain{}, false
}

// otherState reports whether two exits are known to ask for different states of a section's source.
func (s *straddler) otherState(section, x, y int32) bool {
	rx, _, okX := neededState(s.t.C, s.t.Polarity, section, x)
	ry, _, okY := neededState(s.t.C, s.t.Polarity, section, y)
	return okX && okY && (rx == ry || inPhase(s.t.C, rx, ry)) && !sameState(s.t.C, s.t.Polarity, section, x, y)
}

// blockWithin is the block as meant of a section's track beside one of its exits, -1 when there is none.
func (s *straddler) blockWithin(section, exit int32) int32 {
	w := &s.c.Ways[exit]
	for _, spot := range [2]int32{w.A, w.B} {
		if s.t.Polarity.Sections.Of[spot] != section {
			continue
		}
		for _, k := range s.t.Ways.Of(spot) {
			if v := &s.c.Ways[k]; k != exit && v.Kind != circuit.WayCut {
				return s.t.Meant.wayBlock(s.c, v)
			}
		}
	}
	return -1
}

// over lists the settings in which a train can stand over a way.
func (s *straddler) over(way int32) (settings []Setting, ok bool) {
	w := &s.c.Ways[way]
	if w.Device >= 0 {
		if settings, ok = with(s.c, s.never, settings, Setting{w.Device, w.Position}); !ok {
			return nil, false
		}
	}
	for _, spot := range [2]int32{w.A, w.B} {
		a, found := s.approach(spot, way)
		if !found {
			continue
		}
		if settings, ok = with(s.c, s.never, settings, a.set); !ok {
			return nil, false
		}
	}
	return settings, true
}

// TrainsIn is how many trains the layout lets stand over a way at once: those that come to the blocks on
// either side, each as often as it runs.
func (t *Trace) TrainsIn(way int32) int {
	allowed := func(train int32) bool {
		for _, spot := range [2]int32{t.C.Ways[way].A, t.C.Ways[way].B} {
			for _, k := range t.Ways.Of(spot) {
				b := t.Meant.wayBlock(t.C, &t.C.Ways[k])
				if b < 0 {
					continue
				}
				if only := t.C.Layout.Blocks[b].Trains; len(only) > 0 && !slices.Contains(only, train) {
					return false
				}
			}
		}
		return true
	}
	count := 0
	for i := range t.C.Layout.Trains {
		if allowed(int32(i)) {
			count += max(1, t.C.Layout.Trains[i].AtOnce)
		}
	}
	return count
}
