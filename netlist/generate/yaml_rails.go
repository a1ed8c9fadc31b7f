package generate

import "gapwise/netlist/layout"

// byPiece gives the runs of entries that stand on one piece, which a section groups.
func byPiece[T any](all []T, place func(*T) *layout.Place, each func(p layout.PieceID, run []T)) {
	for from := 0; from < len(all); {
		p := place(&all[from]).Piece
		to := from + 1
		for to < len(all) && place(&all[to]).Piece == p {
			to++
		}
		each(p, all[from:to])
		from = to
	}
}

// jointWords are the words of the language for layout.ExpansionJoint, by value.
var jointWords = [...]string{"", "cut", "sliding", "bonded"}

func (w *writer) gaps() {
	w.section("gaps")
	byPiece(w.l.Gaps, func(g *layout.Gap) *layout.Place { return &g.Place }, func(p layout.PieceID, run []layout.Gap) {
		var places []string
		for i := range run {
			g := &run[i]
			if g.Kind == layout.Insulated {
				places = append(places, g.Place.At.Text)
				continue
			}
			places = append(places, fields{
				"at: " + g.Place.At.Text, "kind: expansion", "joint: " + jointWords[g.Joint], "width: " + g.Width.Text, "fill: " + g.Fill,
			}.String())
		}
		w.line("  ", w.l.Pieces[p].Name, ": ", list(places))
	})
}

func (w *writer) joints() {
	w.section("joints")
	byPiece(w.l.Joints, func(j *layout.RailJoint) *layout.Place { return &j.Place }, func(p layout.PieceID, run []layout.RailJoint) {
		var places []string
		for i := range run {
			places = append(places, fields{"at: " + run[i].Place.At.Text, "kind: " + layout.JointKindWords[run[i].Kind]}.String())
		}
		w.line("  ", w.l.Pieces[p].Name, ": ", list(places))
	})
}

func (w *writer) feeders() {
	w.section("feeders")
	byPiece(w.l.Feeders, func(f *layout.Feeder) *layout.Place { return &f.Place }, func(p layout.PieceID, run []layout.Feeder) {
		a := run[0].ARail
		w.line("  ", w.l.Pieces[p].Name, ":")
		w.line("    A: ", railWord(a))
		for i := range run {
			w.feeder(&run[i], a)
		}
	})
}

func railWord(r layout.Rail) string {
	if r == layout.Left {
		return "left"
	}
	return "right"
}

// feeder writes one feeder of a group whose leg A is on rail a.
func (w *writer) feeder(f *layout.Feeder, a layout.Rail) {
	legA, legB := &f.From[layout.A], &f.From[layout.B]
	w.out = append(w.out, "    "+f.Place.At.Text+": "...)
	if f.ARail == a && legA.Text == legB.Text {
		w.line(legA.Text)
		return
	}
	var keys fields
	switch {
	case legA.Text == legB.Text:
		keys.add("from", legA.Text)
	case w.l.Buses[legA.Bus].Legs == layout.LegsBoth:
		keys.add("from", legA.Text)
		keys.add("B-from", legB.Text)
	default:
		keys.add("from", legB.Text)
		keys.add("A-from", legA.Text)
	}
	if f.ARail != a {
		keys.add("A", railWord(f.ARail))
	}
	w.line(keys.String())
}
