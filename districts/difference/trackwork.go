package difference

import (
	"fmt"
	"hash/fnv"
	"math"
	"slices"

	"gapwise/netlist/layout"
)

// matchTrackWork finds which turnout, crossing or table is which: by name, else by what track leads where.
func (d *Difference) matchTrackWork() {
	d.matchNames(KindPiece, func(s *side, i int32) (string, bool) {
		p := &s.l.Pieces[i]
		return fmt.Sprintf("%d %s", p.Kind, p.Name), p.Kind != layout.TrackPiece
	})
	for d.loosePieces(d.old) > 0 && d.loosePieces(d.new) > 0 {
		if d.spread(true) || d.spreadAlike() || d.spread(false) || d.pickOne() {
			continue
		}
		return
	}
}

// matchNames makes entries of one name one entry, where the name is that of one entry on both sides.
func (d *Difference) matchNames(k Kind, name func(*side, int32) (string, bool)) {
	index := func(s *side) map[string][]int32 {
		out := map[string][]int32{}
		for i := range s.count(k) {
			if n, ok := name(s, int32(i)); ok && s.pair[k][i] < 0 {
				out[n] = append(out[n], int32(i))
			}
		}
		return out
	}
	old, now := index(d.old), index(d.new)
	for n, is := range old {
		if js := now[n]; len(is) == 1 && len(js) == 1 {
			d.match(k, is[0], js[0])
		}
	}
}

// loosePieces counts track work of one side that is not found on the other.
func (d *Difference) loosePieces(s *side) int {
	n := 0
	for i := range s.l.Pieces {
		if s.l.Pieces[i].Kind != layout.TrackPiece && s.pair[KindPiece][i] < 0 {
			n++
		}
	}
	return n
}

// sameTrack is how far two lengths of one stretch of track may differ, in metres, for it to be the same.
const sameTrack = 1e-3

// spread goes on from track work that is known along its tracks: what lies at the other end is the same on both
// sides when its kind is, and, if strict, the length of the track. Only what is found in one way counts, so
// that the order does not matter.
func (d *Difference) spread(strict bool) bool {
	type pairing struct{ old, new int32 }
	var found []pairing
	oldTimes, newTimes := map[int32]map[int32]bool{}, map[int32]map[int32]bool{}
	note := func(m map[int32]map[int32]bool, x, y int32) {
		if m[x] == nil {
			m[x] = map[int32]bool{}
		}
		m[x][y] = true
	}
	for i := range d.old.l.Pieces {
		j := d.old.pair[KindPiece][i]
		if j < 0 || d.old.isTrack(layout.PieceID(i)) {
			continue
		}
		for e := range d.old.l.Pieces[i].Ends {
			from := layout.EndRef{Piece: layout.PieceID(i), End: int32(e)}
			f := d.new.endLike(layout.PieceID(j), d.old.endKey(from))
			if f < 0 {
				continue
			}
			x, lx := d.old.across(from)
			y, ly := d.new.across(layout.EndRef{Piece: layout.PieceID(j), End: f})
			if x.Piece < 0 || y.Piece < 0 || d.old.pair[KindPiece][x.Piece] >= 0 || d.new.pair[KindPiece][y.Piece] >= 0 {
				continue
			}
			if d.old.make(x.Piece) != d.new.make(y.Piece) || d.old.endKey(x) != d.new.endKey(y) || strict && math.Abs(lx-ly) > sameTrack {
				continue
			}
			found = append(found, pairing{int32(x.Piece), int32(y.Piece)})
			note(oldTimes, int32(x.Piece), int32(y.Piece))
			note(newTimes, int32(y.Piece), int32(x.Piece))
		}
	}
	any := false
	for _, p := range found {
		if len(oldTimes[p.old]) == 1 && len(newTimes[p.new]) == 1 && d.old.pair[KindPiece][p.old] < 0 {
			d.match(KindPiece, p.old, p.new)
			any = true
		}
	}
	return any
}

// make says what a piece is, whatever its name and place: kind, hand, length.
func (s *side) make(p layout.PieceID) string {
	i := s.l.Pieces[p].Index
	switch k := s.l.Pieces[p].Kind; k {
	case layout.TurnoutPiece:
		t := &s.l.Turnouts[i]
		return fmt.Sprintf("%d %d %g %g", k, t.Hand, t.Number, t.Length.Mid())
	case layout.CrossingPiece:
		c := &s.l.Crossings[i]
		return fmt.Sprintf("%d %d %g %g", k, c.Slip, c.Angle.Mid(), c.Length.Mid())
	default:
		return fmt.Sprintf("%d %d", k, len(s.l.Pieces[p].Ends))
	}
}

// endLike is the end of a piece with a key, -1 for none.
func (s *side) endLike(p layout.PieceID, key string) int32 {
	for e := range s.l.Pieces[p].Ends {
		if s.endKey(layout.EndRef{Piece: p, End: int32(e)}) == key {
			return int32(e)
		}
	}
	return -1
}

// across is the track work that the track from an end leads to, and the length of that track; NoEnd where it ends.
func (s *side) across(from layout.EndRef) (to layout.EndRef, metres float64) {
	at := s.l.Pieces[from.Piece].Ends[from.End].Joint
	if at.Piece < 0 || !s.isTrack(at.Piece) {
		return at, 0
	}
	c := &s.chains[s.chainOf[s.l.Pieces[at.Piece].Index]]
	metres, _ = s.length(c.links)
	switch {
	case c.ends[0].at == from:
		return c.ends[1].at, metres
	case c.ends[1].at == from:
		return c.ends[0].at, metres
	default:
		return layout.NoEnd, metres
	}
}

// rounds is how far about a piece is looked to tell it from others.
const rounds = 8

// looks gives every unmatched piece of track work a number that says what it is and what lies about it.
func (s *side) looks() map[int32]uint64 {
	now := make([]uint64, len(s.l.Pieces))
	for i := range now {
		if p := layout.PieceID(i); !s.isTrack(p) {
			text := s.make(p)
			if s.pair[KindPiece][i] >= 0 {
				text = s.token(KindPiece, int32(i))
			}
			now[i] = hashed(text)
		}
	}
	for range rounds {
		next := slices.Clone(now)
		for i := range now {
			if p := layout.PieceID(i); !s.isTrack(p) && s.pair[KindPiece][i] < 0 {
				text := fmt.Sprint(now[i])
				for e := range s.l.Pieces[i].Ends {
					from := layout.EndRef{Piece: p, End: int32(e)}
					to, metres := s.across(from)
					text += fmt.Sprintf(" %.3f", metres)
					if to.Piece >= 0 {
						text += fmt.Sprintf(" %d %s", now[to.Piece], s.endKey(to))
					}
				}
				next[i] = hashed(text)
			}
		}
		now = next
	}
	out := map[int32]uint64{}
	for i := range now {
		if !s.isTrack(layout.PieceID(i)) && s.pair[KindPiece][i] < 0 {
			out[int32(i)] = now[i]
		}
	}
	return out
}

func hashed(text string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(text))
	return h.Sum64()
}

// class is unmatched entries that look alike.
type class struct {
	look     uint64
	old, new []int32
}

// classes are the entries that look alike where both sides have some, the smallest class first.
func classes(old, now map[int32]uint64) []class {
	at := map[uint64]*class{}
	add := func(m map[int32]uint64, put func(*class, int32)) {
		for i, look := range m {
			if at[look] == nil {
				at[look] = &class{look: look}
			}
			put(at[look], i)
		}
	}
	add(old, func(c *class, i int32) { c.old = append(c.old, i) })
	add(now, func(c *class, i int32) { c.new = append(c.new, i) })
	var out []class
	for _, c := range at {
		if len(c.old) > 0 && len(c.new) > 0 {
			slices.Sort(c.old)
			slices.Sort(c.new)
			out = append(out, *c)
		}
	}
	slices.SortFunc(out, func(x, y class) int {
		if n := len(x.old) + len(x.new) - len(y.old) - len(y.new); n != 0 {
			return n
		}
		if x.look < y.look {
			return -1
		}
		return 1
	})
	return out
}

// spreadAlike makes one what looks alike and is alone in that on both sides.
func (d *Difference) spreadAlike() bool { return d.matchAlike(KindPiece, d.old.looks(), d.new.looks()) }

func (d *Difference) matchAlike(k Kind, old, now map[int32]uint64) bool {
	any := false
	for _, c := range classes(old, now) {
		if len(c.old) == 1 && len(c.new) == 1 {
			d.match(k, c.old[0], c.new[0])
			any = true
		}
	}
	return any
}

// pickOne breaks a tie between several that look alike: the first of each side is taken for one.
func (d *Difference) pickOne() bool { return d.matchFirst(KindPiece, d.old.looks(), d.new.looks()) }

func (d *Difference) matchFirst(k Kind, old, now map[int32]uint64) bool {
	for _, c := range classes(old, now) {
		d.match(k, c.old[0], c.new[0])
		return true
	}
	return false
}
