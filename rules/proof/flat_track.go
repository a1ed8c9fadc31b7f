package proof

import (
	"fmt"
	"slices"
	"strconv"

	"gapwise/netlist/layout"
)

func (w *flat) trackSections() {
	w.section("tracks", w.tracks())
	w.section("turnouts", w.turnouts())
	w.section("three-ways", w.threeWays())
	crossings, slips := w.crossings()
	w.section("crossings", crossings)
	w.section("slips", slips)
	w.section("turntables", w.turntables())
	w.section("transfer-tables", w.transferTables())
	w.section("joins", w.joins())
	var never []string
	for i := range w.l.NeverTogether {
		x := &w.l.NeverTogether[i]
		var k keys
		for n, p := range x.Pieces {
			k.add(w.piece(p), name(x.Settings[n]))
		}
		k.add("because", quoted(x.Because))
		never = append(never, "- "+k.String())
	}
	w.section("never-together", never)
}

func (w *flat) tracks() []string {
	var out []string
	for i := range w.l.Tracks {
		t := &w.l.Tracks[i]
		var k keys
		if t.Closed {
			k.add("closed", "yes")
		} else {
			k.add("from", w.met(t.Piece, 0))
			k.add("to", w.met(t.Piece, 1))
		}
		k.add("length", t.Length.Text)
		if t.Rail.Said {
			k.add("rail", railText(t.Rail))
		}
		k.add("use", t.Use.String())
		k.add("straight", yesNo(t.Straight))
		for n, y := range [...]layout.YesNo{t.Hidden, t.LiftOut, t.Cab} {
			if y == layout.Yes {
				k.add([...]string{"hidden", "lift-out", "cab"}[n], "yes")
			}
		}
		out = append(out, name(t.Name)+": "+k.String())
	}
	return out
}

func railText(r layout.RailStock) string {
	switch {
	case r.Code == 0 && r.Metal == "":
		return "unknown"
	case r.Code == 0:
		return r.Metal
	case r.Metal == "":
		return fmt.Sprintf("code %d", r.Code)
	default:
		return fmt.Sprintf("code %d %s", r.Code, r.Metal)
	}
}

// met is what an end of a track meets.
func (w *flat) met(p layout.PieceID, end int) string {
	e := &w.l.Pieces[p].Ends[end]
	switch e.Dead {
	case layout.Bumper:
		return "bumper"
	case layout.Joined:
		return w.end(e.Joint)
	default:
		return "end"
	}
}

// stands gives each body's place on the track it stands on.
func (w *flat) stands(p layout.PieceID) []*layout.Stand {
	var out []*layout.Stand
	for i := range w.l.Tracks {
		for k := range w.l.Tracks[i].Stands {
			if s := &w.l.Tracks[i].Stands[k]; s.Piece == p {
				out = append(out, s)
			}
		}
	}
	return out
}

// standing adds the keys `at` and `via` of a body.
func (w *flat) standing(k *keys, p layout.PieceID) {
	var at, via []string
	for i := range w.l.Tracks {
		for n := range w.l.Tracks[i].Stands {
			s := &w.l.Tracks[i].Stands[n]
			if s.Piece != p {
				continue
			}
			ends := w.l.Pieces[p].Ends
			at = append(at, name(w.l.Tracks[i].Name)+" @ "+span(s.At))
			via = append(via, ends[s.First].Name+" to "+ends[s.Second].Name)
		}
	}
	switch len(at) {
	case 0:
	case 1:
		k.add("at", at[0])
		k.add("via", via[0])
	default:
		k.add("at", listed(at))
		k.add("via", listed(via))
	}
}

func (w *flat) turnouts() []string {
	var out []string
	for i := range w.l.Turnouts {
		t := &w.l.Turnouts[i]
		var k keys
		k.add("hand", layout.HandWords[t.Hand])
		k.add("length", t.Length.Text)
		k.add("wiring", wiringText(t.Wiring))
		k.add("blade-contact", t.BladeContact.Text)
		k.add("frog-length", t.FrogLength.Text)
		k.add("throw", throwText(t.Throw))
		k.add("frog-from", w.tap(t.FrogTap))
		k.add("frog-gets", getsText(t.FrogGets, layout.FrogGetsWords))
		if t.Wiring.Preset != layout.PowerRouting && t.Wiring.Preset != layout.PowerRoutingGapped && t.Wiring.Preset != layout.InFull {
			k.add("jumpers", yesNo(t.Wiring.Jumpers))
		}
		if t.ThrowsWith >= 0 {
			k.add("throws-with", w.piece(t.ThrowsWith))
		}
		var clear keys
		for n, c := range t.ClearAt {
			if c.Said() {
				clear.add(w.l.Pieces[t.Piece].Ends[n+1].Name, c.Text)
			}
		}
		if len(clear) > 0 {
			k.add("clear-at", clear.String())
		}
		w.standing(&k, t.Piece)
		out = append(out, name(t.Name)+": "+k.String())
	}
	return out
}

func throwText(t layout.Throw) string { return [...]string{"", "break-first", "make-first"}[t] }

// wiringText is a preset, or the wiring in full.
func wiringText(w layout.Wiring) string {
	if w.Preset != layout.InFull {
		return w.Preset.String()
	}
	return w.Text()
}

// getsText writes a contact map, by frog where frogs have names.
func getsText(ms []layout.ContactMap, words []string) string {
	if len(ms) == 0 {
		return ""
	}
	var frogs []string
	maps := map[string]*keys{}
	for _, m := range ms {
		if maps[m.Frog] == nil {
			frogs = append(frogs, m.Frog)
			maps[m.Frog] = &keys{}
		}
		maps[m.Frog].add(m.Setting, words[m.Gets])
	}
	if frogs[0] == "" {
		return maps[""].String()
	}
	var k keys
	for _, f := range frogs {
		k.add(f, maps[f].String())
	}
	return k.String()
}

func (w *flat) threeWays() []string {
	var out []string
	for i := range w.l.ThreeWays {
		t := &w.l.ThreeWays[i]
		var k keys
		if t.Lapped {
			k.add("construction", "lapped")
			k.add("first", map[bool]string{false: "left", true: "right"}[t.FirstRight])
		} else {
			k.add("construction", "symmetric")
		}
		k.add("length", t.Length.Text)
		k.add("wiring", t.Preset.String())
		k.add("frog-length", t.FrogLength.Text)
		k.add("throw", throwText(t.Throw))
		k.add("frog-gets", getsText(t.FrogGets, layout.FrogGetsWords))
		k.add("jumpers", yesNo(t.Jumpers))
		out = append(out, name(t.Name)+": "+k.String())
	}
	return out
}

// crossingGets are the words for what a frog of a crossing gets, by layout.FrogGets.
var crossingGets = []string{"", "left", "right", "open", "A", "B", "unknown"}

func (w *flat) crossings() (crossings, slips []string) {
	for i := range w.l.Crossings {
		x := &w.l.Crossings[i]
		var k keys
		if x.Slip != layout.NoSlip {
			k.add("slip", [...]string{"", "a-b", "d-c", "both"}[x.Slip])
		}
		k.add("angle", x.Angle.Text)
		k.add("length", x.Length.Text)
		k.add("wiring", x.Preset.String())
		k.add("frog-length", x.FrogLength.Text)
		k.add("throw", throwText(x.Throw))
		k.add("frog-gets", getsText(x.FrogGets, crossingGets))
		if x.Jumpers == layout.No || x.Jumpers == layout.YesNoUnknown {
			k.add("jumpers", yesNo(x.Jumpers))
		}
		w.standing(&k, x.Piece)
		text := name(x.Name) + ": " + k.String()
		if x.Slip != layout.NoSlip {
			slips = append(slips, text)
		} else {
			crossings = append(crossings, text)
		}
	}
	return crossings, slips
}

func (w *flat) turntables() []string {
	var out []string
	for i := range w.l.Turntables {
		t := &w.l.Turntables[i]
		var k, tracks keys
		for n := range t.TrackAngle {
			tracks.add(w.l.Pieces[t.Piece].Ends[n].Name, t.TrackAngle[n].Text)
		}
		k.add("bridge", t.Bridge.Text)
		k.add("tracks", tracks.String())
		k.add("feed", map[bool]string{true: "split-ring", false: "plain"}[t.SplitRing])
		k.add("from", w.source(t.From))
		k.add("A", railWord(t.ARail))
		k.add("split-at", t.SplitAt.Text)
		k.add("dead-arc", t.DeadArc.Text)
		out = append(out, name(t.Name)+": "+k.String())
	}
	return out
}

func (w *flat) transferTables() []string {
	var out []string
	for i := range w.l.TransferTables {
		t := &w.l.TransferTables[i]
		var k, a, b keys
		for n := range t.Offset {
			side := &b
			if n < t.ACount {
				side = &a
			}
			side.add(w.l.Pieces[t.Piece].Ends[n].Name, t.Offset[n].Text)
		}
		k.add("bridge", t.Bridge.Text)
		k.add("a", a.String())
		k.add("b", b.String())
		k.add("from", w.source(t.From))
		k.add("A", railWord(t.ARail))
		out = append(out, name(t.Name)+": "+k.String())
	}
	return out
}

func railWord(r layout.Rail) string { return [...]string{"left", "right"}[r] }

// joins writes the joints that no track says: piece to piece.
func (w *flat) joins() []string {
	var out []string
	for id := range w.l.Pieces {
		p := &w.l.Pieces[id]
		if p.Kind == layout.TrackPiece {
			continue
		}
		for e := range p.Ends {
			here := layout.EndRef{Piece: layout.PieceID(id), End: int32(e)}
			there := p.Ends[e].Joint
			if p.Ends[e].Dead != layout.Joined || there.Piece < here.Piece || w.l.Pieces[there.Piece].Kind == layout.TrackPiece || w.inBody(here) {
				continue
			}
			if there.Piece == here.Piece && there.End < here.End {
				continue
			}
			out = append(out, "- ["+w.end(here)+", "+w.end(there)+"]")
		}
	}
	return out
}

// inBody reports whether an end lies on the ruler that its piece stands on.
func (w *flat) inBody(e layout.EndRef) bool {
	for _, s := range w.stands(e.Piece) {
		if s.First == e.End || s.Second == e.End {
			return true
		}
	}
	return false
}

func (w *flat) railSections() {
	w.section("gaps", w.gaps())
	w.section("joints", w.joints())
	var commons, bonds []string
	for i := range w.l.CommonRails {
		c := &w.l.CommonRails[i]
		var k keys
		k.add("rail", railWord(c.Rail))
		k.add("of", w.stretches(c.Of))
		k.add("because", quoted(c.Because))
		commons = append(commons, "- "+k.String())
	}
	w.section("common-rail", commons)
	for i := range w.l.Bonds {
		b := &w.l.Bonds[i]
		var k keys
		k.add("from", w.place(b.From))
		k.add("to", w.place(b.To))
		if b.Both {
			k.add("rails", "both")
		} else {
			k.add("rails", listed([]string{railWord(b.Rails[0]), railWord(b.Rails[1])}))
		}
		k.add("wire", b.Wire.Text)
		k.add("length", b.Length.Text)
		bonds = append(bonds, "- "+k.String())
	}
	w.section("bonds", bonds)
	w.section("feeders", w.feeders())
}

// grouped writes entries under their pieces, in the order of the pieces.
func (w *flat) grouped(n int, piece func(i int) layout.PieceID, text func(i int) string) []string {
	var out []string
	for id := range w.l.Pieces {
		var texts []string
		for i := range n {
			if piece(i) == layout.PieceID(id) {
				texts = append(texts, text(i))
			}
		}
		if len(texts) > 0 {
			out = append(out, w.piece(layout.PieceID(id))+":")
			for _, t := range texts {
				out = append(out, "  "+t)
			}
		}
	}
	return out
}

func (w *flat) gaps() []string {
	return w.grouped(len(w.l.Gaps), func(i int) layout.PieceID { return w.l.Gaps[i].Place.Piece }, func(i int) string {
		g := &w.l.Gaps[i]
		var k keys
		k.add("name", name(g.Name))
		k.add("at", w.where(g.Place))
		k.add("rails", layout.RailSetWords[g.Rails])
		if g.Kind == layout.Expansion {
			k.add("kind", "expansion")
			k.add("joint", [...]string{"", "cut", "sliding", "bonded"}[g.Joint])
		} else {
			k.add("kind", "insulated")
		}
		if g.BridgedBy >= 0 {
			k.add("bridged-by", name(w.l.InLines[g.BridgedBy].Name))
		}
		k.add("width", g.Width.Text)
		k.add("fill", g.Fill)
		return "- " + k.String()
	})
}

func (w *flat) joints() []string {
	all := append(slices.Clone(w.l.Joints), w.betterJoints()...)
	return w.grouped(len(all), func(i int) layout.PieceID { return all[i].Place.Piece }, func(i int) string {
		j := &all[i]
		var k keys
		k.add("at", w.where(j.Place))
		k.add("rails", layout.RailSetWords[j.Rails])
		k.add("kind", layout.JointKindWords[j.Kind])
		return "- " + k.String()
	})
}

// betterJoints are the joints between pieces whose own files have a surer default.
func (w *flat) betterJoints() []layout.RailJoint {
	var out []layout.RailJoint
	for id := range w.l.Pieces {
		for e := range w.l.Pieces[id].Ends {
			here, there := layout.EndRef{Piece: layout.PieceID(id), End: int32(e)}, w.l.Pieces[id].Ends[e].Joint
			if w.l.Pieces[id].Ends[e].Dead != layout.Joined || there.Piece < here.Piece || w.inBody(here) || w.taken(here) || w.taken(there) {
				continue
			}
			kind := lessCertain(w.fileJoint(here.Piece), w.fileJoint(there.Piece))
			if kind != w.joint {
				out = append(out, layout.RailJoint{Place: layout.Place{Piece: here.Piece, End: here.End}, Rails: layout.BothRails, Kind: kind})
			}
		}
	}
	return out
}

func (w *flat) fileJoint(p layout.PieceID) layout.JointKind {
	return w.l.JointDefaults[w.l.Pieces[p].Pos.File]
}

// taken reports whether a gap or a joint stands at an end.
func (w *flat) taken(e layout.EndRef) bool {
	at := func(p layout.Place) bool { return p.Piece == e.Piece && p.End == e.End }
	return slices.ContainsFunc(w.l.Gaps, func(g layout.Gap) bool { return at(g.Place) }) ||
		slices.ContainsFunc(w.l.Joints, func(j layout.RailJoint) bool { return at(j.Place) })
}

// feeders writes each feeder with all it has; those of one place as a list.
func (w *flat) feeders() []string {
	var out []string
	for id := range w.l.Pieces {
		var places []string
		texts := map[string][]string{}
		for i := range w.l.Feeders {
			f := &w.l.Feeders[i]
			if f.Place.Piece != layout.PieceID(id) {
				continue
			}
			at := w.where(f.Place)
			if texts[at] == nil {
				places = append(places, at)
			}
			texts[at] = append(texts[at], w.feeder(f))
		}
		if len(places) == 0 {
			continue
		}
		out = append(out, w.piece(layout.PieceID(id))+":")
		for _, at := range places {
			text := texts[at][0]
			if len(texts[at]) > 1 {
				text = listed(texts[at])
			}
			out = append(out, "  "+at+": "+text)
		}
	}
	return out
}

func (w *flat) feeder(f *layout.Feeder) string {
	var k keys
	k.add("name", name(f.Name))
	a, b := w.tap(f.From[layout.A]), w.tap(f.From[layout.B])
	switch {
	case a == b:
		k.add("from", a)
	case a == "":
		k.add("from", b)
	case b == "":
		k.add("from", a)
	default:
		k.add("A-from", a)
		k.add("B-from", b)
	}
	k.add("A", railWord(f.ARail))
	if f.Rails == layout.LeftRail || f.Rails == layout.RightRail {
		k.add("rails", layout.RailSetWords[f.Rails])
	}
	k.add("wire", f.Wire.Text)
	k.add("length", f.Length.Text)
	if f.Broken != layout.No {
		k.add("broken", yesNo(f.Broken))
	}
	return k.String()
}

// number writes a count.
func number(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}
