package difference

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// comparePieces lists what differs among tracks and track work.
func (d *Difference) comparePieces() {
	var gone []Entry
	for i := range d.old.l.Pieces {
		if d.old.pair[KindPiece][i] < 0 {
			gone = append(gone, Entry{Kind: KindPiece, Before: []int32{int32(i)}, Fate: Removed})
		}
	}
	for i := range d.new.l.Pieces {
		j := d.new.pair[KindPiece][i]
		switch {
		case j < 0:
			d.Entries = append(d.Entries, Entry{Kind: KindPiece, After: []int32{int32(i)}, Fate: Added})
		case d.new.isTrack(layout.PieceID(i)):
			d.compareTrack(int32(i))
		default:
			d.compareWork(j, int32(i))
		}
	}
	d.Entries = append(d.Entries, gone...)
}

func (d *Difference) compareWork(old, now int32) {
	x, y := d.old.work(old), d.new.work(now)
	e := Entry{Kind: KindPiece, Before: []int32{old}, After: []int32{now}, Changes: differ(x, y)}
	e.Renamed = d.old.l.Pieces[old].Name != d.new.l.Pieces[now].Name
	d.settle(&e, e.move(x, y))
}

// compareTrack compares all tracks of a line at its first track of the layout after.
func (d *Difference) compareTrack(now int32) {
	line := d.new.on[d.new.l.Pieces[now].Index].line
	e := Entry{Kind: KindPiece, Before: d.old.ofLine(line), After: d.new.ofLine(line)}
	if e.After[0] != now {
		return
	}
	for _, i := range e.After {
		e.Turned = e.Turned || len(e.Before) == 1 && d.new.on[d.new.l.Pieces[i].Index].backwards != d.old.on[d.old.l.Pieces[e.Before[0]].Index].backwards
	}
	if len(e.Before) > 1 {
		e.Turned = slices.ContainsFunc(e.Before, func(i int32) bool {
			return d.old.on[d.old.l.Pieces[i].Index].backwards != d.new.on[d.new.l.Pieces[e.After[0]].Index].backwards
		})
	}
	if len(e.Before) == 1 && len(e.After) == 1 {
		x, y := d.old.track(e.Before[0], true), d.new.track(e.After[0], true)
		e.Changes = differ(x, y)
		e.Renamed = d.old.l.Pieces[e.Before[0]].Name != d.new.l.Pieces[now].Name
		d.settle(&e, false)
		return
	}
	for _, i := range e.Before {
		for _, j := range e.After {
			for _, c := range differ(d.old.track(i, false), d.new.track(j, false)) {
				if !slices.Contains(e.Changes, c) {
					e.Changes = append(e.Changes, c)
				}
			}
		}
	}
	if span := d.spans[line]; math.Abs(span[0]-span[1]) > nearLength && d.old.allLong(e.Before) && d.new.allLong(e.After) {
		e.Changes = append(e.Changes, Change{"length", quantity.FormatLength(span[0]), quantity.FormatLength(span[1])})
	}
	d.settle(&e, false)
}

// allLong reports whether tracks have lengths.
func (s *side) allLong(pieces []int32) bool {
	return !slices.ContainsFunc(pieces, func(p int32) bool { return !s.l.Tracks[s.l.Pieces[p].Index].Length.Known() })
}

// ofLine lists the tracks of a line, as pieces, in the order of the file.
func (s *side) ofLine(line int32) []int32 {
	var out []int32
	for t := range s.on {
		if s.on[t].line == line {
			out = append(out, int32(s.l.Tracks[t].Piece))
		}
	}
	return out
}

// track writes down a track; whole adds what is not shared by its parts: its length and what its ends meet.
func (s *side) track(p int32, whole bool) *record {
	r := &record{side: s}
	index := s.l.Pieces[p].Index
	t := &s.l.Tracks[index]
	r.word("rail", railText(t.Rail))
	r.word("use", t.Use.String())
	r.yesNo("straight", t.Straight)
	r.yesNo("hidden", t.Hidden)
	r.yesNo("lift-out", t.LiftOut)
	r.yesNo("cab", t.Cab)
	if f := int(t.Pos.File); f >= 0 && f < len(s.l.JointDefaults) {
		r.word("joints", layout.JointKindWords[s.l.JointDefaults[f]])
	}
	r.length("joints every", t.JointEvery)
	if !whole {
		return r
	}
	r.length("length", t.Length)
	ends := [2]int32{0, 1}
	if s.on[index].backwards {
		ends = [2]int32{1, 0}
	}
	for n, e := range ends {
		words, text := s.meets(layout.EndRef{Piece: layout.PieceID(p), End: e})
		r.fields = append(r.fields, field{key: [...]string{"from", "to"}[n], words: words, text: text})
	}
	return r
}

// railText is rail in words: "code 83 nickel silver".
func railText(r layout.RailStock) string {
	switch {
	case r.Code == 0 && r.Metal == "":
		return ""
	case r.Code == 0:
		return "unknown code, " + r.Metal
	default:
		return strings.TrimSpace(fmt.Sprintf("code %d %s", r.Code, r.Metal))
	}
}

// meets says what an end of a piece meets, in words both layouts share and for people.
func (s *side) meets(e layout.EndRef) (words, text string) {
	end := &s.l.Pieces[e.Piece].Ends[e.End]
	at := end.Joint
	if at.Piece < 0 {
		return fmt.Sprintf("dead %d", end.Dead), [...]string{"a joint", "end", "bumper", "module end", "nothing"}[end.Dead]
	}
	if !s.isTrack(at.Piece) {
		return s.endToken(at), s.endText(at)
	}
	x := s.endSpot(at)
	return fmt.Sprintf("%s %.5f", x.token, x.lo), x.text
}

// work writes down track work.
func (s *side) work(p int32) *record {
	r := &record{side: s}
	piece := &s.l.Pieces[p]
	switch i := piece.Index; piece.Kind {
	case layout.TurnoutPiece:
		s.turnout(r, &s.l.Turnouts[i])
	case layout.ThreeWayPiece:
		x := &s.l.ThreeWays[i]
		r.word("lapped", fmt.Sprint(x.Lapped, x.FirstRight))
		r.length("length", x.Length)
		r.length("frog-length", x.FrogLength)
		r.word("wiring", x.Preset.String())
		r.word("throw", throwWords[x.Throw])
		r.yesNo("jumpers", x.Jumpers)
		r.contacts(x.FrogGets)
	case layout.CrossingPiece:
		x := &s.l.Crossings[i]
		r.word("slip", [...]string{"none", "a-b", "d-c", "both"}[x.Slip])
		r.value("angle", x.Angle.Value, x.Angle.String())
		r.length("length", x.Length)
		r.length("frog-length", x.FrogLength)
		r.word("wiring", x.Preset.String())
		r.word("throw", throwWords[x.Throw])
		r.yesNo("jumpers", x.Jumpers)
		r.contacts(x.FrogGets)
	case layout.TurntablePiece:
		x := &s.l.Turntables[i]
		r.length("bridge", x.Bridge)
		r.word("split-ring", fmt.Sprint(x.SplitRing))
		r.from("from", x.From)
		r.word("A", [...]string{"left", "right"}[x.ARail])
		r.value("split-at", x.SplitAt.Value, x.SplitAt.String())
		r.value("dead-arc", x.DeadArc.Value, x.DeadArc.String())
		r.ends(p)
	case layout.TransferTablePiece:
		x := &s.l.TransferTables[i]
		r.length("bridge", x.Bridge)
		r.from("from", x.From)
		r.word("A", [...]string{"left", "right"}[x.ARail])
		r.ends(p)
	}
	for e := range piece.Ends {
		if at := piece.Ends[e].Joint; at.Piece >= 0 && !s.isTrack(at.Piece) { // joints with tracks are told there
			words, text := s.meets(layout.EndRef{Piece: layout.PieceID(p), End: int32(e)})
			r.fields = append(r.fields, field{key: piece.Ends[e].Name, words: words, text: text})
		}
	}
	if track := s.stand[p]; track >= 0 {
		t := &s.l.Tracks[s.l.Pieces[track].Index]
		for i := range t.Stands {
			if x := &t.Stands[i]; int32(x.Piece) == p {
				r.standing(x, track)
			}
		}
	}
	return r
}

// standing is where on a track track work stands: its middle, so that the way the track is walked does not matter.
func (r *record) standing(x *layout.Stand, track layout.PieceID) {
	half := x.Length.Mid() / 2
	at := r.side.trackSpot(r.side.l.Pieces[track].Index, x.At.Lo+half, x.At.Hi+half)
	at.state, at.text = x.At.State, r.side.l.Pieces[track].Name+" @ "+x.At.Both()
	r.places = append(r.places, at)
	via := [2]int32{x.First, x.Second}
	if at.turned {
		via[0], via[1] = via[1], via[0]
	}
	ends := r.side.l.Pieces[x.Piece].Ends
	text := ends[via[0]].Name + " to " + ends[via[1]].Name
	r.fields = append(r.fields, field{key: "via", words: fmt.Sprint(via), text: text})
}

// ends are the tracks about a table: how many, and where.
func (r *record) ends(p int32) {
	keys := make([]string, len(r.side.l.Pieces[p].Ends))
	for e := range keys {
		keys[e] = r.side.endKey(layout.EndRef{Piece: layout.PieceID(p), End: int32(e)})
	}
	slices.Sort(keys)
	r.fields = append(r.fields, field{key: "tracks", words: strings.Join(keys, " "), text: fmt.Sprint(len(keys))})
}

func (s *side) turnout(r *record, x *layout.Turnout) {
	r.word("hand", layout.HandWords[x.Hand])
	r.word("number", fmt.Sprintf("%g", x.Number))
	r.length("length", x.Length)
	r.length("frog-length", x.FrogLength)
	w := x.Wiring
	r.fields = append(r.fields, field{key: "wiring", words: fmt.Sprintf("%d %d %v %v %v %d %d", w.Blades, w.Closures, w.FrogMetal, w.IsolatedToe, w.IsolatedHeel, w.FrogFrom, w.Preset), text: wiringText(&w)})
	r.yesNo("jumpers", w.Jumpers)
	r.ohms("blade-contact", x.BladeContact)
	r.word("throw", throwWords[x.Throw])
	r.tap("frog-from", x.FrogTap)
	r.contacts(x.FrogGets)
	r.amps("flips-at", x.FlipsAt)
	r.ohms("frog-resistance", x.FrogResistance)
	r.length("clear-at of one leg", x.ClearAt[0])
	r.length("clear-at of the other", x.ClearAt[1])
	r.entry("throws-with", KindPiece, int32(x.ThrowsWith))
}

func wiringText(w *layout.Wiring) string {
	if text := w.Preset.String(); text != "" {
		return text
	}
	return "in full"
}

// contacts are what switches a frog, in any order.
func (r *record) contacts(ms []layout.ContactMap) {
	texts := make([]string, len(ms))
	for i, m := range ms {
		texts[i] = strings.TrimSpace(m.Frog + " " + m.Setting + ": " + layout.FrogGetsWords[m.Gets])
	}
	slices.Sort(texts)
	r.fields = append(r.fields, field{key: "frog-gets", words: strings.Join(texts, ", "), text: listText(texts)})
}
