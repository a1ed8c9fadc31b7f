package districts

import (
	"slices"

	"gapwise/netlist/circuit"
)

// Ring is a closed walk along the track in which left becomes right: a reversing loop.
type Ring struct {
	Ways []int32 // in walking order
	Gaps []int32 // of these, the ways whose both rails are cut by insulated gaps
	Half []int32 // of these, the ways where one rail is cut
}

// OddRing finds the shortest ring through a way in which left becomes right, metal and
// gaps alike; nil when there is none. Sections that a free source feeds are no part of
// it: what they part is a reversing loop that is provided for. A walk that passes a
// spot twice is no ring.
func (t *Trace) OddRing(way int32) *Ring {
	w := &t.C.Ways[way]
	blocked := func(spot int32) bool {
		root := t.Polarity.Root[t.Polarity.Sections.Of[spot]]
		return root >= 0 && t.C.Sources[root].Free
	}
	if blocked(w.A) || blocked(w.B) {
		return nil
	}
	if w.A == w.B {
		if w.Turned {
			return t.newRing([]int32{way})
		}
		return nil
	}
	via := map[int32]int32{}
	start, goal := 2*w.A, 2*w.B
	if !w.Turned {
		goal++
	}
	via[start] = -1
	queue := []int32{start}
	for len(queue) > 0 {
		if _, done := via[goal]; done {
			break
		}
		x := queue[0]
		queue = queue[1:]
		for _, k := range t.Ways.Of(x / 2) {
			o := t.C.Ways[k].A + t.C.Ways[k].B - x/2
			if k == way || t.C.Ways[k].Kind == circuit.WayPit || blocked(o) {
				continue
			}
			y := 2*o + x%2
			if t.C.Ways[k].Turned {
				y ^= 1
			}
			if _, seen := via[y]; !seen {
				via[y] = k
				queue = append(queue, y)
			}
		}
	}
	if _, found := via[goal]; !found {
		return nil
	}
	ring := []int32{way}
	spots := map[int32]bool{}
	for x := goal; x != start; {
		if spots[x/2] {
			return nil
		}
		spots[x/2] = true
		k := via[x]
		ring = append(ring, k)
		y := 2*(t.C.Ways[k].A+t.C.Ways[k].B-x/2) + x%2
		if t.C.Ways[k].Turned {
			y ^= 1
		}
		x = y
	}
	return t.newRing(ring)
}

func (t *Trace) newRing(ways []int32) *Ring {
	r := &Ring{Ways: ways}
	for _, k := range ways {
		w := &t.C.Ways[k]
		switch {
		case isGap(w) && bothInsulated(t.C, w):
			r.Gaps = append(r.Gaps, k)
		case isHalfGap(w):
			r.Half = append(r.Half, k)
		}
	}
	return r
}

// Tracks lists the tracks of a ring, in walking order.
func (t *Trace) Tracks(r *Ring) []int32 {
	var out []int32
	for _, k := range r.Ways {
		if w := &t.C.Ways[k]; w.Kind == circuit.WayTrack {
			if p := t.C.Layout.Pieces[w.Piece].Index; !slices.Contains(out, p) {
				out = append(out, p)
			}
		}
	}
	return out
}

// Stretch is track between two insulated gaps of a ring: a section that a reverser could feed.
type Stretch struct {
	From, To int32 // the gap ways
	Length   float64
	Ways     []int32
}

// Stretches are the parts of a ring between its gaps, the one after the first gap first.
// With fewer than two gaps there is none.
func (t *Trace) Stretches(r *Ring) []Stretch {
	if len(r.Gaps) < 2 {
		return nil
	}
	start := slices.Index(r.Ways, r.Gaps[0])
	ordered := append(slices.Clone(r.Ways[start:]), r.Ways[:start]...)
	var out []Stretch
	cur := Stretch{From: ordered[0]}
	for _, k := range append(ordered[1:], ordered[0]) {
		if slices.Contains(r.Gaps, k) {
			cur.To = k
			out = append(out, cur)
			cur = Stretch{From: k}
			continue
		}
		cur.Ways = append(cur.Ways, k)
		cur.Length += t.C.Ways[k].Length
	}
	return out
}
