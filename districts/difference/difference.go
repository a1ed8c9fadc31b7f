// Package difference says what changed in the wiring between two layouts: which entry of the one
// is which entry of the other, whatever its name, where it lies now, and in which keys the two
// differ. Typed values decide, not how they were spelled or in what order they stand. It judges nothing.
//
// Entries are matched by names, then by what joins what, then by geometry. Tracks are laid on
// lines (see line.go), so that a track cut in two, or turned end for end, keeps what lies on it.
package difference

import (
	"gapwise/netlist/layout"
)

// Difference is what Compare found. Entries that are alike in everything are only counted.
type Difference struct {
	Before, After *layout.Layout
	Entries       []Entry // what differs: by kind, then in the order of the files, what is gone last
	Same          int     // entries alike in everything, in both layouts

	old, new *side
	lines    int32        // so many lines are laid
	spans    [][2]float64 // by line: metres of it that the tracks of each layout take, and what lies between them
}

// Entry is one thing of the layouts. Before and After index the slice of its kind; one of them is empty for
// what was added or removed, and has several for a track that was cut or joined.
type Entry struct {
	Kind          Kind
	Before, After []int32
	Fate          Fate
	Renamed       bool    // its name is another
	Turned        bool    // a track with `from` and `to` exchanged
	MovedM        float64 // metres along the track, 0 when it stays or goes to another track
	Changes       []Change
}

// Change is one key of an entry that differs, each side in words with its units.
type Change struct {
	Key      string
	From, To string
}

// Fate is what became of an entry, the most telling of what did.
type Fate uint8

// The fates. Split and Joined are of tracks: one that became several, several that became one.
const (
	Renamed Fate = iota
	Turned
	Changed
	Moved
	Joined
	Split
	Added
	Removed
)

// FateWords name the fates, by value.
var FateWords = []string{"renamed", "turned", "changed", "moved", "joined", "split", "added", "removed"}

func (f Fate) String() string { return FateWords[f] }

// Mirror is the fate as seen from the other layout.
func (f Fate) Mirror() Fate {
	switch f {
	case Joined:
		return Split
	case Split:
		return Joined
	case Added:
		return Removed
	case Removed:
		return Added
	default:
		return f
	}
}

// Compare says what differs between two layouts. Compare(b, a) is its mirror, and of a layout
// with itself nothing differs.
func Compare(before, after *layout.Layout) *Difference {
	d := &Difference{Before: before, After: after, old: newSide(before, 'b'), new: newSide(after, 'a')}
	d.matchTrackWork()
	d.matchTracks()
	d.matchEntries()
	for k := range kindEnd {
		if k == KindPiece {
			d.comparePieces()
			continue
		}
		d.compareKind(k)
	}
	return d
}

// compareKind lists what differs among the entries of a kind other than pieces.
func (d *Difference) compareKind(k Kind) {
	var gone []Entry
	for i := range d.old.count(k) {
		if d.old.pair[k][i] < 0 {
			gone = append(gone, Entry{Kind: k, Before: []int32{int32(i)}, Fate: Removed})
		}
	}
	for i := range d.new.count(k) {
		j := d.new.pair[k][i]
		if j < 0 {
			d.Entries = append(d.Entries, Entry{Kind: k, After: []int32{int32(i)}, Fate: Added})
			continue
		}
		old, now := d.old.record(k, j), d.new.record(k, int32(i))
		e := Entry{Kind: k, Before: []int32{j}, After: []int32{int32(i)}}
		e.Renamed = d.old.entry(k, j).Name != d.new.entry(k, int32(i)).Name
		e.Changes = differ(old, now)
		places := e.move(old, now)
		d.settle(&e, places)
	}
	d.Entries = append(d.Entries, gone...)
}

// move says how far an entry's places lie from where they were, and whether they do.
func (e *Entry) move(old, now *record) (moved bool) {
	for i := range min(len(old.places), len(now.places)) {
		x, y := old.places[i], now.places[i]
		if x.same(y) {
			continue
		}
		moved = true
		if m, along := x.apart(y); along {
			e.MovedM = max(e.MovedM, m)
		}
		e.Changes = append(e.Changes, Change{Key: "at", From: x.text, To: y.text})
	}
	return moved
}

// settle gives an entry of both layouts its fate, and lists it unless nothing differs.
func (d *Difference) settle(e *Entry, moved bool) {
	switch {
	case len(e.After) > len(e.Before):
		e.Fate = Split
	case len(e.Before) > len(e.After):
		e.Fate = Joined
	case moved:
		e.Fate = Moved
	case len(e.Changes) > 0:
		e.Fate = Changed
	case e.Turned:
		e.Fate = Turned
	case e.Renamed:
		e.Fate = Renamed
	default:
		d.Same++
		return
	}
	d.Entries = append(d.Entries, *e)
}

// Empty reports whether nothing differs.
func (d *Difference) Empty() bool { return len(d.Entries) == 0 }

// Counterpart is the entry of the layout before that an entry of the layout after is, -1 for none. Of a
// track in several parts it is the first.
func (d *Difference) Counterpart(k Kind, after int32) int32 {
	if after < 0 || int(after) >= len(d.new.pair[k]) {
		return -1
	}
	return d.new.pair[k][after]
}

// Side is one of the two layouts.
type Side uint8

// The sides.
const (
	Before Side = iota
	After
)

func (d *Difference) side(s Side) *side {
	if s == Before {
		return d.old
	}
	return d.new
}

// Token is what an entry is called on both sides alike; what only one layout has is called as nothing of the other
// is. Tracks are called by their line: all parts of one that was cut are called alike.
func (d *Difference) Token(s Side, k Kind, i int32) string {
	x := d.side(s)
	if k == KindPiece && i >= 0 && x.isTrack(layout.PieceID(i)) {
		return x.lineToken(x.l.Pieces[i].Index)
	}
	return x.token(k, i)
}

// Where is a place in words and metres that both layouts share: two places with one token lie as far apart as
// their metres do.
func (d *Difference) Where(s Side, p layout.Place) (token string, metres float64) {
	at := d.side(s).spotOf(p)
	return at.token, (at.lo + at.hi) / 2
}
