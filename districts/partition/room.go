package partition

import "slices"

// room is the measures that bound a problem: berths, as far as so many trains at once would be too many, and what always stands
// there.
func (s *solver) room(trains int) []measure {
	h := s.holdings
	out := s.berths(trains)
	standing := measure{of: func(x *holding) int64 { return x.standing }}
	for _, c := range s.classes {
		standing.most = append(standing.most, c.milliAmps)
	}
	if len(h.admits) == 1 && len(out) > 0 {
		if top := slices.Max(out[0].most); top > 0 {
			// so many berths draw at least in proportion, the heaviest trains coming first
			amps, _ := h.worst([]uint8{uint8(top)})
			standing.of = func(x *holding) int64 { return top*x.standing + amps*int64(x.berths[0]) }
			for i := range standing.most {
				standing.most[i] *= top
			}
		}
	}
	out = append(out, standing)
	out[len(out)-1].count(h)
	return out
}

// berths are the measures of berths: of each kind, and of all of them, as far as no district takes any number.
func (s *solver) berths(trains int) (out []measure) {
	kinds := len(s.holdings.admits)
	for k := range kinds {
		m := measure{of: func(x *holding) int64 { return int64(x.berths[k]) }}
		for _, c := range s.classes {
			m.most = append(m.most, int64(s.berthsUnder(k, c.milliAmps, trains)))
		}
		if slices.Max(m.most) < int64(s.holdings.full[k]) {
			m.count(s.holdings)
			out = append(out, m)
		}
	}
	if kinds == 1 || len(out) < kinds {
		return out
	}
	all := measure{of: func(x *holding) int64 {
		sum := int64(0)
		for _, b := range x.berths {
			sum += int64(b)
		}
		return sum
	}}
	for _, c := range s.classes {
		n, known := s.allBerthsUnder(c.milliAmps, trains)
		if !known {
			return out
		}
		all.most = append(all.most, n)
	}
	all.count(s.holdings)
	return slices.Insert(out, 0, all)
}

// berthsUnder is how many berths of a kind may be in one district, as far as more would make a difference.
func (s *solver) berthsUnder(kind int, milliAmps int64, trains int) int {
	berths := make([]uint8, len(s.holdings.admits))
	for b := 1; b <= s.holdings.full[kind]; b++ {
		berths[kind] = uint8(b)
		if amps, n := s.holdings.worst(berths); amps > milliAmps || n > trains {
			return b - 1
		}
	}
	return s.holdings.full[kind]
}

// mostMixes bounds how many mixes of berths are looked at.
const mostMixes = 5000

// limits are demands on one district.
type limits struct {
	milliAmps int64
	trains    int
}

// allBerthsUnder is how many berths of all kinds together may be in one district; known is false when there are too many mixes.
func (s *solver) allBerthsUnder(milliAmps int64, trains int) (n int64, known bool) {
	key := limits{milliAmps, trains}
	if n, done := s.mixed[key]; done {
		return n, n >= 0
	}
	berths := make([]uint8, len(s.holdings.admits))
	tried := 0
	var add func(kind int, sum int64)
	add = func(kind int, sum int64) {
		if tried++; tried > mostMixes {
			return
		}
		if amps, t := s.holdings.worst(berths); amps > milliAmps || t > trains {
			return
		}
		n = max(n, sum)
		for k := kind; k < len(berths); k++ {
			if int(berths[k]) < s.holdings.full[k] {
				berths[k]++
				add(k, sum+1)
				berths[k]--
			}
		}
	}
	add(0, 0)
	if tried > mostMixes {
		n = -1
	}
	s.mixed[key] = n
	return n, n >= 0
}
