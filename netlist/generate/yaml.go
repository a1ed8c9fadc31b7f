package generate

import (
	"strconv"
	"strings"

	"gapwise/netlist/layout"
)

// YAML writes a layout made by Layout in the layout language. Reading it gives the same
// layout, its entries now with their places in the file.
func YAML(l *layout.Layout) []byte {
	w := &writer{l: l}
	w.line("gapwise: 1")
	w.line("layout: " + l.Name)
	w.line("scale: " + l.Scale)
	w.defaults()
	w.tracks()
	w.turnouts()
	w.gaps()
	w.joints()
	w.devices()
	w.buses()
	w.feeders()
	w.blocks()
	w.trains()
	return w.out
}

type writer struct {
	l   *layout.Layout
	out []byte
}

// line adds a line made of some texts.
func (w *writer) line(texts ...string) {
	for _, t := range texts {
		w.out = append(w.out, t...)
	}
	w.out = append(w.out, '\n')
}

// section begins a section with a blank line before it.
func (w *writer) section(name string) { w.line("\n", name, ":") }

// fields are the keys of an entry on one line.
type fields []string

// add adds a key, unless it has no value.
func (f *fields) add(key, value string) {
	if value != "" {
		*f = append(*f, key+": "+value)
	}
}

func (f fields) String() string { return "{" + strings.Join(f, ", ") + "}" }

func list(texts []string) string { return "[" + strings.Join(texts, ", ") + "]" }

// entry adds an entry of a section.
func (w *writer) entry(name string, f fields) { w.line("  ", name, ": ", f.String()) }

// defaults says once what every entry of a kind has.
func (w *writer) defaults() {
	l := w.l
	w.section("defaults")
	t := &l.Turnouts[0]
	w.line("  track: {rail: ", railText(l.Tracks[0].Rail), "}")
	w.entry("turnout", fields{
		"number: " + strconv.Itoa(turnoutNumber), "length: " + t.Length.Text, "frog-length: " + t.FrogLength.Text, "wiring: dead-frog", "jumpers: yes",
	})
	w.line("  gap: {rails: both, kind: insulated, fill: styrene}")
	w.line("  joint: {kind: ", layout.JointKindWords[l.JointDefaults[0]], "}")
	w.entry("feeder", fields{"wire: " + l.Feeders[0].Wire.Text, "length: " + l.Feeders[0].Length.Text})
	w.line("  bus: {laid: twisted}")
}

func railText(r layout.RailStock) string { return "code " + strconv.Itoa(r.Code) + " " + r.Metal }

func (w *writer) tracks() {
	l := w.l
	w.section("tracks")
	for i := range l.Tracks {
		t := &l.Tracks[i]
		var f fields
		f.add("from", w.endText(layout.EndRef{Piece: t.Piece, End: 0}))
		f.add("to", w.endText(layout.EndRef{Piece: t.Piece, End: 1}))
		f.add("length", t.Length.Text)
		f.add("use", t.Use.String())
		f.add("straight", yesNo(t.Straight))
		if t.Rail != l.Tracks[0].Rail {
			f.add("rail", railText(t.Rail))
		}
		w.entry(t.Name, f)
	}
}

// endText is what a track's end meets.
func (w *writer) endText(e layout.EndRef) string {
	end := &w.l.Pieces[e.Piece].Ends[e.End]
	if end.Dead == layout.BareEnd {
		return "end"
	}
	p := &w.l.Pieces[end.Joint.Piece]
	return p.Name + " " + p.Ends[end.Joint.End].Name
}

func yesNo(y layout.YesNo) string {
	if y == layout.Yes {
		return "yes"
	}
	return "no"
}

func (w *writer) turnouts() {
	l := w.l
	stands := make([]*layout.Stand, len(l.Pieces))
	for i := range l.Tracks {
		for k := range l.Tracks[i].Stands {
			s := &l.Tracks[i].Stands[k]
			stands[s.Piece] = s
		}
	}
	w.section("turnouts")
	for i := range l.Turnouts {
		t := &l.Turnouts[i]
		var f fields
		f.add("hand", layout.HandWords[t.Hand])
		if t.Wiring.Preset != layout.DeadFrog {
			f.add("wiring", t.Wiring.Preset.String())
			f.add("throw", "break-first")
		}
		if s := stands[t.Piece]; s != nil {
			ends := l.Pieces[t.Piece].Ends
			f.add("at", l.Pieces[t.OnTrack].Name+" @ "+s.At.Text)
			f.add("via", ends[s.First].Name+" to "+ends[s.Second].Name)
		}
		w.entry(t.Name, f)
	}
}
