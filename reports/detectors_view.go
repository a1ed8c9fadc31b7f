package reports

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts"
	"gapwise/rules/rule"
)

// DetectorsView says of every length of track of one layout which detectors see a train there.
type DetectorsView struct {
	File string
	Name string
	// Complete says that every setting was looked at.
	Complete  bool
	Detectors int
	Track     []Watched // by track, then metres
	Work      []Watched // routes of track work
	// Metres of track seen by one detector alone, by several, by one in part, and by none.
	One, Several, Part, None float64
}

// Watched is a stretch over which the same detectors see a train.
type Watched struct {
	Piece  string      `json:"piece"`
	FromM  float64     `json:"from_m"`
	ToM    float64     `json:"to_m"`
	Route  string      `json:"route"` // of track work: "points to straight"
	Text   string      `json:"text"`
	Block  string      `json:"block"` // as meant
	Meant  string      `json:"meant"` // the detector that its block is meant to have
	Always []Watcher   `json:"always"`
	When   []WatchWhen `json:"when"`
	Unfed  bool        `json:"unfed"`
	Legs   []string    `json:"legs"` // that are there in every setting
}

// Watcher is a detector that sees a train there: all of its current, or part of it.
type Watcher struct {
	Detector string `json:"detector"`
	Part     bool   `json:"part"`
}

// WatchWhen is what else current comes through in some settings: a detector, "" for none.
type WatchWhen struct {
	Detector string   `json:"detector"`
	Leg      string   `json:"leg"`
	Settings []string `json:"settings"`
}

// NewDetectorsView is the view of a traced layout.
func NewDetectorsView(file string, c *rule.Case) *DetectorsView {
	v := &DetectorsView{File: file, Name: c.L.Name, Detectors: len(c.L.Detectors), Track: []Watched{}, Work: []Watched{}}
	list, open := c.T.Watches()
	v.Complete = len(open) == 0
	for i := range list {
		w := &list[i]
		x := newWatched(c, w)
		if w.Way >= 0 {
			v.Work = append(v.Work, x)
			continue
		}
		v.Track = append(v.Track, x)
		switch {
		case len(w.Always) == 0:
			v.None += w.Length()
		case len(w.Always) > 1:
			v.Several += w.Length()
		case w.Always[0].Part:
			v.Part += w.Length()
		default:
			v.One += w.Length()
		}
	}
	return v
}

func newWatched(c *rule.Case, w *districts.Watch) Watched {
	x := Watched{Piece: c.L.Pieces[w.Piece].Name, FromM: w.From, ToM: w.To, Always: []Watcher{}, When: []WatchWhen{}, Unfed: w.Unfed, Legs: []string{}}
	for leg := range layout.Leg(2) {
		if w.Legs[leg] {
			x.Legs = append(x.Legs, leg.String())
		}
	}
	if w.Block >= 0 {
		x.Block = c.L.Blocks[w.Block].Name
		if d := c.L.Blocks[w.Block].Detector; d >= 0 {
			x.Meant = c.L.Detectors[d].Name
		}
	}
	for _, s := range w.Always {
		x.Always = append(x.Always, Watcher{c.L.Detectors[s.Detector].Name, s.Part})
	}
	for _, n := range w.When {
		when := WatchWhen{Leg: n.Leg.String(), Settings: some(c.Settings(n.Settings))}
		if n.Detector >= 0 {
			when.Detector = c.L.Detectors[n.Detector].Name
		}
		x.When = append(x.When, when)
	}
	if w.Way >= 0 {
		x.Route = routeName(c, w)
		x.Text = x.Piece + " " + x.Route
		return x
	}
	x.Text = fmt.Sprintf("%s @ %s to %s", x.Piece, quantity.FormatLength(w.From), quantity.FormatLength(w.To))
	return x
}

// routeName names a route through track work by its ends.
func routeName(c *rule.Case, w *districts.Watch) string {
	way := &c.C.Ways[w.Way]
	name := func(spot int32) string {
		s := &c.C.Spots[spot]
		if s.End < 0 || layout.PieceID(s.Piece) != w.Piece {
			return "a track"
		}
		return c.L.Pieces[s.Piece].Ends[s.End].Name
	}
	return name(way.A) + " to " + name(way.B)
}

// seenBy says in words which detectors see a train.
func (w *Watched) seenBy() string {
	var all, part []string
	for _, s := range w.Always {
		if s.Part {
			part = append(part, s.Detector)
		} else {
			all = append(all, s.Detector)
		}
	}
	switch {
	case len(all)+len(part) == 0:
		return "none"
	case len(part) == 0:
		return strings.Join(all, ", ")
	case len(all) == 0:
		return strings.Join(part, ", ") + " in part"
	default:
		return strings.Join(all, ", ") + "; " + strings.Join(part, ", ") + " in part"
	}
}

// whenText says what settings add, and which leg is never there.
func (w *Watched) whenText() []string {
	var out []string
	for leg := range layout.Leg(2) {
		name := leg.String()
		if w.Unfed && !slices.Contains(w.Legs, name) && !slices.ContainsFunc(w.When, func(n WatchWhen) bool { return n.Leg == name }) {
			out = append(out, "leg "+name+" never")
		}
	}
	for _, n := range w.When {
		through := "past every detector"
		if n.Detector != "" {
			through = "through " + n.Detector
		}
		also := "also "
		if w.Unfed && !slices.Contains(w.Legs, n.Leg) {
			also = ""
		}
		out = append(out, fmt.Sprintf("leg %s %s%s with %s", n.Leg, also, through, strings.Join(n.Settings, ", ")))
	}
	if len(out) == 0 {
		out = append(out, "-")
	}
	return out
}
