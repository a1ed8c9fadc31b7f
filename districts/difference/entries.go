package difference

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/layout"
)

// matchEntries finds which entry of every other kind is which.
func (d *Difference) matchEntries() {
	for k := range kindEnd {
		if k == KindPiece || k.single() {
			continue
		}
		d.matchNames(k, func(s *side, i int32) (string, bool) {
			e := s.entry(k, i)
			return e.Name + s.member(k, i), e.Name != ""
		})
	}
	d.matchStanding(0)
	for d.looseEntries() {
		if !d.eachKind(d.matchAlike, true) && !d.eachKind(d.matchAlike, false) && !d.eachKind(d.matchFirst, true) {
			break
		}
	}
	d.matchStanding(mostMoved)
}

// member tells the entries of a row apart, which share a name.
func (s *side) member(k Kind, i int32) string {
	switch k {
	case KindGap:
		return fmt.Sprint(" ", s.l.Gaps[i].Row.Number)
	case KindJoint:
		return fmt.Sprint(" ", s.l.Joints[i].Row.Number)
	case KindFeeder:
		return fmt.Sprint(" ", s.l.Feeders[i].Row.Number)
	default:
		return ""
	}
}

// looseEntries reports whether some kind has entries on both sides that are not found.
func (d *Difference) looseEntries() bool {
	for k := range kindEnd {
		if k != KindPiece && !k.onRails() && slices.Contains(d.old.pair[k], -1) && slices.Contains(d.new.pair[k], -1) {
			return true
		}
	}
	return false
}

// eachKind tries a way of matching on every kind that is not found by its place; it stops at the first that helps.
func (d *Difference) eachKind(match func(Kind, map[int32]uint64, map[int32]uint64) bool, values bool) bool {
	old, now := d.old.users(), d.new.users()
	for k := range kindEnd {
		if k == KindPiece || k.onRails() || !slices.Contains(d.old.pair[k], -1) || !slices.Contains(d.new.pair[k], -1) {
			continue
		}
		if match(k, d.old.entryLooks(k, old, values), d.new.entryLooks(k, now, values)) {
			return true
		}
	}
	return false
}

// user is an entry that names another.
type user struct {
	kind Kind
	i    int32
}

// users lists, by what they name, the entries that name something.
func (s *side) users() map[user][]string {
	out := map[user][]string{}
	for k := range kindEnd {
		for i := range s.count(k) {
			r := &record{}
			switch {
			case k != KindPiece:
				r = s.record(k, int32(i))
			case !s.isTrack(layout.PieceID(i)):
				r = s.work(int32(i))
			}
			for _, x := range r.refs {
				by := fmt.Sprintf("%d %s", k, x.key)
				switch {
				case s.pair[k][i] >= 0:
					by += s.token(k, int32(i))
				case len(r.places) > 0:
					by += fmt.Sprintf("%s %.4f", r.places[0].token, r.places[0].lo)
				}
				to := user{x.kind, x.i}
				out[to] = append(out[to], by)
			}
		}
	}
	return out
}

// entryLooks gives every unmatched entry of a kind a number that says what names it and what it names; with
// values, also all its keys.
func (s *side) entryLooks(k Kind, users map[user][]string, values bool) map[int32]uint64 {
	out := map[int32]uint64{}
	for i := range s.count(k) {
		if s.pair[k][i] >= 0 {
			continue
		}
		r := s.record(k, int32(i))
		var text []string
		for _, f := range r.fields {
			if values {
				text = append(text, f.key+" "+s.known(f.words)+fmt.Sprintf(" %.6g", f.numbers))
			}
		}
		for _, x := range r.refs {
			if s.pair[x.kind][x.i] >= 0 {
				text = append(text, x.key+" "+s.token(x.kind, x.i))
			}
		}
		by := slices.Clone(users[user{k, int32(i)}])
		slices.Sort(by)
		if !values && len(by) == 0 && len(text) == 0 {
			continue // nothing to know it by
		}
		out[int32(i)] = hashed(strings.Join(text, ";") + "|" + strings.Join(by, ";"))
	}
	return out
}

// known is the words of a field with entries that are not found yet left out.
func (s *side) known(words string) string {
	parts := strings.Fields(words)
	for i, p := range parts {
		if strings.Contains(p, "!"+string(s.mark)) {
			parts[i] = "?"
		}
	}
	return strings.Join(parts, " ")
}

// mostMoved is how far a gap, joint or feeder may have been moved along its track to be the same still, in metres: 4 ft.
// Common practice, no source.
const mostMoved = 1.22

// matchStanding makes one what stands at the same place of the same track, up to so many metres off, the nearest
// first; feeders of one tap before others.
func (d *Difference) matchStanding(most float64) {
	for k := range kindEnd {
		if k.onRails() {
			d.matchNear(k, most)
		}
	}
}

// pairing is two entries that may be one.
type pairing struct {
	old, new   int32
	off, where float64
	unlike     int // keys in which they differ
}

func (d *Difference) matchNear(k Kind, most float64) {
	byLine := map[string][]int32{}
	olds, news := make([]*record, d.old.count(k)), make([]*record, d.new.count(k))
	for i := range olds {
		if d.old.pair[k][i] < 0 {
			olds[i] = d.old.record(k, int32(i))
			byLine[olds[i].line()] = append(byLine[olds[i].line()], int32(i))
		}
	}
	var found []pairing
	for j := range news {
		if d.new.pair[k][j] >= 0 {
			continue
		}
		news[j] = d.new.record(k, int32(j))
		for _, i := range byLine[news[j].line()] {
			off, ok := standApart(olds[i], news[j])
			if !ok || off > most+samePlace || len(olds[i].places) == 0 && !olds[i].fields[0].alike(&news[j].fields[0]) {
				continue
			}
			p := pairing{old: i, new: int32(j), off: off, unlike: len(differ(olds[i], news[j]))}
			if len(olds[i].places) > 0 {
				p.where = olds[i].places[0].lo + news[j].places[0].lo
			}
			found = append(found, p)
		}
	}
	slices.SortFunc(found, func(x, y pairing) int {
		if most > 0 {
			return cmp.Or(cmp.Compare(x.unlike, y.unlike), cmp.Compare(x.off, y.off), cmp.Compare(x.where, y.where), cmp.Compare(x.old+x.new, y.old+y.new))
		}
		return cmp.Or(cmp.Compare(x.unlike, y.unlike), cmp.Compare(x.where, y.where), cmp.Compare(x.old+x.new, y.old+y.new))
	})
	for _, p := range found {
		if d.old.pair[k][p.old] < 0 && d.new.pair[k][p.new] < 0 {
			d.match(k, p.old, p.new)
		}
	}
}

// line is the line on which an entry stands first, or what it hangs from.
func (r *record) line() string {
	if len(r.places) > 0 {
		return r.places[0].token
	}
	return "off the rails"
}

// standApart is how far two entries stand apart, the farthest of their places; ok is false when they are on no line together.
func standApart(x, y *record) (metres float64, ok bool) {
	if len(x.places) != len(y.places) {
		return 0, false
	}
	for i := range x.places {
		off, along := x.places[i].apart(y.places[i])
		if !along {
			return 0, false
		}
		metres = max(metres, off)
	}
	return metres, true
}
