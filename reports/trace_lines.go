package reports

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts"
	"gapwise/rules/rule"
)

// Line is one paragraph of a trace: Indent counts steps of two blanks, Head sets it apart
// from what is above.
type Line struct {
	Indent int
	Head   bool
	Text   string
}

// TraceLines tells what a layout's wiring makes: districts, reversing sections and blocks.
func TraceLines(c *rule.Case) []Line {
	var out []Line
	add := func(indent int, head bool, format string, args ...any) {
		out = append(out, Line{indent, head, fmt.Sprintf(format, args...)})
	}
	fed := 0
	summaries := c.T.Summaries()
	for i := range summaries {
		if len(summaries[i].Feeders) > 0 {
			fed++
		}
	}
	add(0, true, "%s: %s of track in %s", c.L.Name, counted(len(c.L.Tracks), "length", "lengths"), counted(fed, "district", "districts"))
	for i := range summaries {
		if len(summaries[i].Feeders) > 0 {
			out = append(out, districtLines(c, &summaries[i])...)
		}
	}
	out = append(out, lossLines(c)...)
	if len(c.T.Reversing) > 0 {
		add(0, true, "reversing sections")
		for i := range c.T.Reversing {
			out = append(out, Line{1, false, reversingText(c, &c.T.Reversing[i])})
		}
	}
	out = append(out, zoneLines(c)...)
	if len(c.T.DeadRuns) > 0 {
		add(0, true, "not fed, or not for certain: see `gapwise check`")
		for i := range c.T.DeadRuns {
			r := &c.T.DeadRuns[i]
			w := &c.C.Ways[r.Ways[0]]
			add(1, false, "%s on from %s", quantity.FormatLength(r.Length), c.SpotPlace(w.A).Text)
		}
	}
	return out
}

func districtLines(c *rule.Case, s *districts.Summary) []Line {
	out := []Line{{0, true, c.SourceName(s.Source)}}
	add := func(format string, args ...any) { out = append(out, Line{1, false, fmt.Sprintf(format, args...)}) }
	if up := c.C.Sources[s.Source].Parent; up >= 0 {
		add("hangs from %s", c.SourceName(up))
	}
	shared := ""
	if s.Shared {
		shared = ", part of it fed by another district too"
	}
	add("track: %s in %s%s", quantity.FormatLength(s.Length), counted(len(s.Zones), "block as wired", "blocks as wired"), shared)
	if len(s.Blocks) > 0 {
		names := make([]string, len(s.Blocks))
		for i, b := range s.Blocks {
			names[i] = c.L.Blocks[b].Name
		}
		add("blocks as meant: %s", strings.Join(names, ", "))
	}
	var feeders []string
	for _, f := range s.Feeders {
		feeders = append(feeders, c.Place(c.L.Feeders[f].Place).Text)
	}
	add("%s: %s", counted(len(feeders), "feeder", "feeders"), strings.Join(feeders, ", "))
	return out
}

func reversingText(c *rule.Case, r *districts.ReversingSection) string {
	text := fmt.Sprintf("%s: %s of track", c.SourceName(r.Source), quantity.FormatLength(r.Length))
	if r.Ends[0] >= 0 {
		text += fmt.Sprintf(", from %s to %s, %s between them", c.WayPlace(r.Ends[0]).Text, c.WayPlace(r.Ends[1]).Text, quantity.FormatLength(r.Through))
	}
	return text
}

// zoneLines lists the blocks as wired: what closes them in, what feeds and watches them,
// and which blocks are meant there.
func zoneLines(c *rule.Case) []Line {
	out := []Line{{0, true, "blocks as wired (parted by insulated gaps)"}}
	for i := range c.T.Zones.List {
		z := &c.T.Zones.List[i]
		if z.Length == 0 {
			continue
		}
		var bounds, pits, meant, sources, watched []string
		for _, w := range z.Bounds {
			name := c.WayPlace(w).Text
			if way := &c.C.Ways[w]; way.Kind == circuit.WayPit {
				name = c.L.Pieces[way.Piece].Name
				if !slices.Contains(pits, name) {
					pits = append(pits, name)
				}
				continue
			}
			bounds = append(bounds, name)
		}
		for _, m := range z.Meant {
			if m.Length > districts.Stub {
				meant = append(meant, c.L.Blocks[m.Block].Name)
			}
		}
		for _, s := range z.Sources {
			sources = append(sources, c.SourceName(s))
		}
		for _, d := range z.Detectors {
			watched = append(watched, c.L.Detectors[d].Name)
		}
		out = append(out, Line{1, false, fmt.Sprintf("%s: %s, fed by %s, seen by %s; %s", orWord(meant, "no block meant"), quantity.FormatLength(z.Length), orWord(sources, "nothing"), orWord(watched, "no detector"), closedBy(bounds, pits))})
	}
	return out
}

// closedBy says what closes a block in: gaps, and the pits of bridges.
func closedBy(gaps, pits []string) string {
	pit := "the pit of " + strings.Join(pits, ", ")
	switch {
	case len(gaps) == 0 && len(pits) == 0:
		return "no gap closes it in"
	case len(gaps) == 0:
		return "ends at " + pit
	case len(pits) > 0:
		return "gaps at " + strings.Join(gaps, ", ") + ", and " + pit
	default:
		return "gaps at " + strings.Join(gaps, ", ")
	}
}

func orWord(list []string, none string) string {
	if len(list) == 0 {
		return none
	}
	return strings.Join(list, ", ")
}

// PlaceLines tells what feeds one place, wire by wire.
func PlaceLines(c *rule.Case, p layout.Place) ([]Line, error) {
	if p.Piece >= 0 && c.L.Pieces[p.Piece].Kind != layout.TrackPiece && p.End < 0 {
		var out []Line
		for e := range c.L.Pieces[p.Piece].Ends {
			q := p
			q.End = int32(e)
			lines, err := PlaceLines(c, q)
			if err != nil {
				return nil, err
			}
			out = append(out, lines...)
		}
		return out, nil
	}
	w, ok := c.T.At(p)
	if !ok {
		return nil, fmt.Errorf("%s lies inside a piece that stands on the track; ask for the piece itself", p.Text)
	}
	out := []Line{{0, true, c.Place(p).Text}}
	add := func(indent int, format string, args ...any) {
		out = append(out, Line{indent, false, fmt.Sprintf(format, args...)})
	}
	var meant []string
	for _, b := range w.Meant {
		meant = append(meant, c.L.Blocks[b].Name)
	}
	add(1, "block as meant: %s", orWord(meant, "none"))
	zone := &c.T.Zones.List[w.Zone]
	var watched []string
	for _, d := range zone.Detectors {
		watched = append(watched, c.L.Detectors[d].Name)
	}
	add(1, "block as wired: %s of track, seen by %s", quantity.FormatLength(zone.Length), orWord(watched, "no detector"))
	for r := range layout.Rail(2) {
		if !w.Fed[r] {
			add(1, "the %s rail is dead: no wire reaches it", c.RailWord(r))
			continue
		}
		state := ""
		switch w.State[r] {
		case districts.InSetting:
			state = ", in some setting of the track work only"
		case districts.IfJoints:
			state = ", only through " + c.DoubtAt(c.C.Spots[w.Spot].Node[r]).Things() + " that the file does not call sound"
		}
		add(1, "the %s rail carries %s of %s%s:", c.RailWord(r), c.LegWord(w.From[r].Leg), c.SourceName(w.From[r].Source), state)
		for i, s := range c.WitnessFrom(w.From[r], w.Path[r]) {
			add(2, "%d  %s", i+1, s.Text)
		}
		for _, other := range c.T.Legs(c.C.Spots[w.Spot].Node[r]) {
			if other != w.From[r] {
				add(2, "   and it is joined to %s as well: see `gapwise check`", c.Terminal(other))
			}
		}
		for up := c.C.Sources[w.From[r].Source].Parent; up >= 0; up = c.C.Sources[up].Parent {
			add(2, "   behind %s", c.SourceName(up))
		}
	}
	return append(out, powerLines(c, p)...), nil
}

// WithoutLines tells what a removal kills and what stays alive.
func WithoutLines(c *rule.Case, r districts.Removal) []Line {
	w := c.T.Without(r)
	out := []Line{{0, true, "without " + r.Name}}
	add := func(indent int, format string, args ...any) {
		out = append(out, Line{indent, false, fmt.Sprintf(format, args...)})
	}
	if len(w.Dies) == 0 {
		add(1, "no track dies")
	} else {
		add(1, "dies: %s of track", quantity.FormatLength(total(w.Dies)))
		for _, s := range w.Dies {
			add(2, "%s", c.IntervalText(s))
		}
	}
	if len(w.Stays) > 0 {
		add(1, "stays alive, in the same blocks: %s of track", quantity.FormatLength(total(w.Stays)))
		for i, s := range w.Stays {
			text := c.IntervalText(s)
			if f := w.Through[i]; f >= 0 {
				text += ", by the feeder at " + c.Place(c.L.Feeders[f].Place).Text
			}
			add(2, "%s", text)
		}
	}
	if hasPowerDevice(c) {
		add(1, "reversers are taken as they lie, changeovers in their first position")
	}
	return out
}

func total(list []districts.Interval) float64 {
	m := 0.0
	for _, s := range list {
		m += s.To - s.From
	}
	return m
}

// RouteLines tells a walk from one place to another.
func RouteLines(c *rule.Case, from, to layout.Place) ([]Line, error) {
	a, ok := c.T.At(from)
	if !ok {
		return nil, fmt.Errorf("%s lies inside a piece that stands on the track", from.Text)
	}
	b, ok := c.T.At(to)
	if !ok {
		return nil, fmt.Errorf("%s lies inside a piece that stands on the track", to.Text)
	}
	out := []Line{{0, true, fmt.Sprintf("a walk from %s to %s", c.SpotPlace(a.Spot).Text, c.SpotPlace(b.Spot).Text)}}
	paces := c.T.Route(a.Spot, b.Spot)
	if paces == nil && a.Spot != b.Spot {
		return nil, fmt.Errorf("no train can run from %s to %s without turning back on the way", from.Text, to.Text)
	}
	steps := c.Walk(paces)
	last := 0.0
	for i, s := range steps {
		out = append(out, Line{1, false, fmt.Sprintf("%d  %s", i+1, s.Text)})
		last = s.SoFar
	}
	return append(out, Line{1, false, "in all " + quantity.FormatLength(last)}), nil
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// hasPowerDevice reports whether the power side has anything with positions.
func hasPowerDevice(c *rule.Case) bool {
	return slices.ContainsFunc(c.C.Devices, func(d circuit.Device) bool { return d.Kind != circuit.PieceDevice && d.Kind != circuit.FrogDevice })
}
