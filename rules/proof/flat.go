// Package proof seeds faults into sound layouts and shows that the check finds each of them, or that
// it is harmless. It serves the tests alone.
package proof

import (
	"fmt"
	"strconv"
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// Flat writes a layout as one file: includes are merged, rows and copies spelled out, every
// place in millimetres. Reading it gives the same wiring.
func Flat(l *layout.Layout) string {
	w := &flat{l: l}
	w.line("gapwise: 1")
	w.line("layout: " + quoted(l.Name))
	if l.Scale != "" {
		w.line("scale: " + l.Scale)
	}
	w.defaults()
	w.trackSections()
	w.railSections()
	w.powerSections()
	w.useSections()
	return w.out.String()
}

type flat struct {
	l     *layout.Layout
	out   strings.Builder
	joint layout.JointKind // of joints that nothing else is said about
}

func (w *flat) line(text string) { w.out.WriteString(text + "\n") }

// keys are the keys of an entry on one line.
type keys []string

// add adds a key, unless it has no value.
func (k *keys) add(key, value string) {
	if value != "" {
		*k = append(*k, key+": "+value)
	}
}

func (k keys) String() string { return "{" + strings.Join(k, ", ") + "}" }

func listed(texts []string) string { return "[" + strings.Join(texts, ", ") + "]" }

// section writes a section, unless it is empty.
func (w *flat) section(name string, entries []string) {
	if len(entries) == 0 {
		return
	}
	w.line("\n" + name + ":")
	for _, e := range entries {
		w.line("  " + e)
	}
}

func quoted(s string) string { return strconv.Quote(s) }

// name is a name as one file may have it: those of modules lose their slash.
func name(s string) string { return strings.ReplaceAll(s, "/", "-") }

// metres writes a length.
func metres(m float64) string {
	return strings.TrimRight(strings.TrimRight(strconv.FormatFloat(m*1000, 'f', 7, 64), "0"), ".") + " mm"
}

// span writes a length that may be a range.
func span(v quantity.Length) string {
	if v.Lo == v.Hi {
		return metres(v.Lo)
	}
	return strings.TrimSuffix(metres(v.Lo), " mm") + " .. " + metres(v.Hi)
}

func yesNo(y layout.YesNo) string { return [...]string{"", "yes", "no", "unknown"}[y] }

// defaults writes the least certain of the files' default joints, as far apart as on the first track.
func (w *flat) defaults() {
	w.joint = layout.Soldered
	for _, k := range w.l.JointDefaults {
		w.joint = lessCertain(w.joint, k)
	}
	var k keys
	k.add("kind", layout.JointKindWords[w.joint])
	if len(w.l.Tracks) > 0 {
		k.add("every", w.l.Tracks[0].JointEvery.Text)
	}
	w.line("defaults: {joint: " + k.String() + "}")
}

func lessCertain(x, y layout.JointKind) layout.JointKind {
	switch {
	case x == layout.JointUnknown || y == layout.JointUnknown:
		return layout.JointUnknown
	case x == layout.Plain || y == layout.Plain:
		return layout.Plain
	default:
		return layout.Soldered
	}
}

func (w *flat) piece(p layout.PieceID) string { return name(w.l.Pieces[p].Name) }

func (w *flat) end(e layout.EndRef) string {
	return w.piece(e.Piece) + " " + name(w.l.Pieces[e.Piece].Ends[e.End].Name)
}

// place writes a place in full.
func (w *flat) place(p layout.Place) string {
	if w.l.Pieces[p.Piece].Kind != layout.TrackPiece {
		return w.end(layout.EndRef{Piece: p.Piece, End: p.End})
	}
	return w.piece(p.Piece) + " @ " + w.where(p)
}

// where writes a place as it stands grouped under its piece.
func (w *flat) where(p layout.Place) string {
	switch {
	case p.End >= 0:
		return name(w.l.Pieces[p.Piece].Ends[p.End].Name)
	case p.FromEnd && !w.l.Tracks[w.l.Pieces[p.Piece].Index].Length.Known():
		return p.Text
	default:
		return span(p.At)
	}
}

func (w *flat) tap(t layout.Tap) string {
	switch {
	case t.Unknown:
		return "unknown"
	case t.Bus < 0:
		return ""
	case !t.At.Known():
		return name(w.l.Buses[t.Bus].Name) + " @ end"
	default:
		return name(w.l.Buses[t.Bus].Name) + " @ " + span(t.At)
	}
}

func (w *flat) source(s layout.Source) string {
	l := w.l
	switch s.Kind {
	case layout.FromTap:
		return w.tap(s.Tap)
	case layout.FromBooster:
		return "booster " + name(l.Boosters[s.Index].Name)
	case layout.FromBreaker:
		return "breaker " + name(l.Breakers[s.Index].Name)
	case layout.FromReverser:
		return "reverser " + name(l.Reversers[s.Index].Name)
	case layout.FromDetector:
		return "detector " + name(l.Detectors[s.Index].Name)
	case layout.FromInLine:
		return "in-line " + name(l.InLines[s.Index].Name)
	case layout.FromChangeover:
		return "changeover " + name(l.Changeovers[s.Index].Name)
	case layout.FromPlug:
		return "plug " + name(l.Plugs[s.Index].Name)
	case layout.FromSupply:
		return "supply " + name(l.Supplies[s.Index].Name)
	case layout.FromCab:
		return "cab " + name(l.Cabs[s.Index].Name)
	case layout.FromNothing:
		return "nothing"
	case layout.FromUnknown:
		return "unknown"
	default:
		return ""
	}
}

func (w *flat) stretch(s layout.Stretch) string {
	switch {
	case s.RouteFrom >= 0 && s.RouteTo >= 0 && !s.Whole && w.l.Pieces[s.Piece].Kind != layout.TrackPiece:
		ends := w.l.Pieces[s.Piece].Ends
		return fmt.Sprintf("%s %s-%s", w.piece(s.Piece), ends[s.RouteFrom].Name, ends[s.RouteTo].Name)
	case s.Whole || w.l.Pieces[s.Piece].Kind != layout.TrackPiece:
		return w.piece(s.Piece)
	default:
		from := metres(s.From.Mid())
		if s.GapFrom && s.GapFromIndex < 0 {
			from = "gap"
		}
		return fmt.Sprintf("%s @ %s .. %s", w.piece(s.Piece), from, w.upTo(s))
	}
}

// upTo writes the far bound of a stretch.
func (w *flat) upTo(s layout.Stretch) string {
	if s.GapTo && s.GapToIndex < 0 {
		return "gap"
	}
	t := &w.l.Tracks[w.l.Pieces[s.Piece].Index]
	if t.Length.Known() && s.To.Mid() == t.Length.Mid() {
		return "end"
	}
	return metres(s.To.Mid())
}

func (w *flat) stretches(ss []layout.Stretch) string {
	texts := make([]string, len(ss))
	for i := range ss {
		texts[i] = w.stretch(ss[i])
	}
	return listed(texts)
}
