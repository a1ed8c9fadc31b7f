package catalogue

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// How a section of a reversing loop is chosen. Common practice, no source.
const (
	trainSpare  = 0.0762 // metres that a section is longer than the longest train: 3 in
	besideWork  = 0.1524 // metres from track work to a new gap: 6 in
	mostSection = 4      // sections told of one loop
)

// throughReverser begins a candidate that is a section.
const throughReverser = "through a reverser: "

// proposals are the sections of a loop that a reverser could feed, the least work first. Where no train's length is known, none can be
// proposed; why says so, or how long the loop would have to be.
func proposals(c *rule.Case, ring *districts.Ring) (ps []districts.Proposal, why string) {
	name, longest, known := c.LongestTrain()
	if !known {
		return nil, "no train says its length under `trains`, so no section can be proposed: it has to be longer than the longest train"
	}
	ps = c.T.Propose(ring, longest+trainSpare, func(track int32, lo, hi float64) []float64 { return cutPlaces(c, track, longest+trainSpare, lo, hi) })
	if len(ps) == 0 {
		return nil, fmt.Sprintf("no stretch of this loop that could be parted holds the longest train (%s, %s) with %s to spare: make the loop longer, or turn shorter trains there",
			name, rule.Length("", longest).Text, quantity.FormatLength(trainSpare))
	}
	return ps, ""
}

// cutPlaces are the measures between two others at which a track may be cut: near each end, and as far from each end as a section is long.
func cutPlaces(c *rule.Case, track int32, section, lo, hi float64) []float64 {
	length := c.L.Tracks[track].Length
	if !length.Known() {
		return nil
	}
	var out []float64
	for _, want := range [...]float64{besideWork, length.Lo - besideWork, besideWork + section, length.Lo - besideWork - section} {
		if want < lo || want > hi {
			continue
		}
		if x, ok := c.FreePlace(track, want, math.Max(lo, want-besideWork/2), math.Min(hi, want+besideWork/2)); ok && !slices.Contains(out, x) {
			out = append(out, x)
		}
	}
	slices.Sort(out)
	return out
}

// boundText is an end of a section in words, and whether it has to be cut.
func boundText(c *rule.Case, b districts.Bound) string {
	if b.Way >= 0 {
		return c.WayPlace(b.Way).Text
	}
	return c.TrackPlace(b.Track, b.At).Text
}

// sectionText says what a section is and what it costs.
func sectionText(c *rule.Case, p *districts.Proposal) string {
	_, longest, _ := c.LongestTrain()
	text := fmt.Sprintf("the section from %s to %s, %s, %s longer than the longest train", boundText(c, p.Bounds[0]), boundText(c, p.Bounds[1]),
		rule.Length("", p.Length).Text, rule.Length("", p.Length-longest).Text)
	var costs []string
	switch n := p.Cuts(); n {
	case 0:
		costs = append(costs, "its gaps are there")
	case 1:
		costs = append(costs, "one new gap in both rails")
	default:
		costs = append(costs, fmt.Sprintf("%d new gaps in both rails", n))
	}
	switch n := p.TrackWork(c.L); n {
	case 0:
		costs = append(costs, "no turnout inside")
	case 1:
		costs = append(costs, "one turnout or crossing inside")
	default:
		costs = append(costs, fmt.Sprintf("%d turnouts or crossings inside", n))
	}
	switch n := len(p.Feeders); n {
	case 1:
		costs = append(costs, "one feeder to hang from the reverser")
	default:
		costs = append(costs, fmt.Sprintf("%d feeders to hang from the reverser", n))
	}
	if p.Hidden > 0 {
		costs = append(costs, "a cut on hidden track")
	}
	return text + " (" + strings.Join(costs, "; ") + ")"
}

// sectionMends cut in a reverser for each proposed section: its gaps, the reverser where the feeders hang now, a bus from it, and the feeders moved.
func sectionMends(c *rule.Case, ring *districts.Ring) (mends []finding.Mend, candidates []string) {
	ps, why := proposals(c, ring)
	if why != "" {
		return nil, []string{why}
	}
	for i := range ps {
		p := &ps[i]
		if len(candidates) < mostSection {
			candidates = append(candidates, throughReverser+sectionText(c, p))
		}
		if m, ok := sectionMend(c, p); ok {
			mends = append(mends, m)
		}
	}
	return mends, candidates
}

// sectionMend is all that has to be done for one section; ok is false where its feeders come from several sources, or from none.
func sectionMend(c *rule.Case, p *districts.Proposal) (m finding.Mend, ok bool) {
	var words []string
	for _, b := range slices.Concat(p.Bounds[:], p.Branch) {
		if b.Way >= 0 {
			continue
		}
		m.Changes = append(m.Changes, c.Cut(b.Track, b.At, layout.BothRails))
		m.Work.Cuts += 2
		words = append(words, "cut both rails at "+c.TrackPlace(b.Track, b.At).Text)
	}
	source, bus := feedOf(c, p.Feeders)
	if source < 0 || bus < 0 {
		return m, false
	}
	above, protects := protectionOf(c, source)
	if !protects || !above.trips.Known() || !above.time.Known() {
		return m, false
	}
	amps, seconds := wellBelow(above.trips.Lo), quicker(above.time.Lo)
	name := freeName("loop", func(n string) bool { return taken(c, n) })
	m.Work.Devices = 1
	trip := fmt.Sprintf("switching: automatic, trips-at: %s, trip-time: %s", amperes(amps), milliseconds(seconds))
	if l := c.L; len(l.Reversers) > 0 && l.Reversers[0].Resistance.Known() {
		trip += ", resistance: " + l.Reversers[0].Resistance.Text
	}
	set := fmt.Sprintf("one that changes over at %s within %s, below and before %s", amperes(amps), quantity.FormatTime(seconds), c.SourceName(source))
	if whole(c, bus, p.Feeders) {
		b := &c.L.Buses[bus]
		m.Changes = append(m.Changes,
			finding.Change{Op: finding.OpAdd, Section: "reversers", Name: name, Value: "{from: " + b.From.Text + ", " + trip + "}"},
			rule.SetKey("buses", b.Name, "from", "reverser "+name))
		words = append(words, fmt.Sprintf("put a reverser (%s) between %s and bus %s, which feeds this section alone", set, b.From.Text, b.Name))
		m.Work.Wires++
	} else {
		words = append(words, ownBus(c, p, bus, name, trip, set, &m))
	}
	for _, f := range p.Against {
		m.Changes = append(m.Changes, c.SwapFeeder(f))
		words = append(words, "swap the two wires of the feeder at "+c.FeederPlace(f).Text)
	}
	regroup(c, p, source, name, &m)
	m.Text = "make " + sectionText(c, p) + " the reversing section: " + strings.Join(words, "; ")
	return m, true
}

// ownBus lays a bus from a new reverser for the feeders of a section, and hangs them from it.
func ownBus(c *rule.Case, p *districts.Proposal, bus int32, name, trip, set string, m *finding.Mend) string {
	lo, hi := math.Inf(1), 0.0
	on := func(f int32) (float64, bool) {
		t := &c.L.Feeders[f].From[layout.B]
		return t.At.Mid(), t.Bus == bus && t.At.Known()
	}
	for _, f := range p.Feeders {
		if at, own := on(f); own {
			lo, hi = math.Min(lo, at), math.Max(hi, at)
		}
	}
	if math.IsInf(lo, 1) {
		lo = 0
	}
	length := c.L.Handy(math.Max(hi-lo, p.Length) + besideWork)
	value := "{from: reverser " + name
	if w := c.L.Buses[bus].Wire; w.Known() {
		value += ", wire: " + w.String()
	}
	if c.L.Buses[bus].Laid.Kind == layout.LaidTwisted {
		value += ", laid: twisted"
	}
	m.Changes = append(m.Changes,
		finding.Change{Op: finding.OpAdd, Section: "reversers", Name: name, Value: "{from: " + c.TapText(bus, lo) + ", " + trip + "}"},
		finding.Change{Op: finding.OpAdd, Section: "buses", Name: name, Value: value + ", length: " + c.L.Spell(length) + "}"})
	for _, f := range p.Feeders {
		at, own := on(f)
		if !own {
			at = lo
		}
		tap := name + " @ " + c.L.Spell(c.L.Handy(math.Min(at-lo, length)))
		keys := []finding.Key{{Name: "from", Value: tap}}
		if feeder := &c.L.Feeders[f]; feeder.From[layout.A].Text != feeder.From[layout.B].Text {
			keys = []finding.Key{{Name: "A-from", Value: tap}, {Name: "B-from", Value: tap}}
		}
		m.Changes = append(m.Changes, finding.Change{Op: finding.OpSetFeeder, Ref: f, Keys: keys})
	}
	m.Work.Wires += len(p.Feeders) + 1
	return fmt.Sprintf("hang a reverser (%s) from bus %s @ %s, lay a bus %s of %s from it, and hang from that the feeders at %s",
		set, c.L.Buses[bus].Name, quantity.FormatLength(lo), name, quantity.FormatLength(length), feedersText(c, p.Feeders))
}

// feedOf is the one source of some feeders and the bus that most of them hang from, -1 where there is none.
func feedOf(c *rule.Case, feeders []int32) (source, bus int32) {
	source, bus = -1, -1
	count := map[int32]int{}
	for i, f := range feeders {
		s := c.T.Feeds[f].Source()
		if i > 0 && s != source {
			return -1, -1
		}
		source = s
		if b := c.L.Feeders[f].From[layout.B].Bus; b >= 0 {
			if count[b]++; bus < 0 || count[b] > count[bus] {
				bus = b
			}
		}
	}
	return source, bus
}

// whole reports whether a bus of both legs feeds just these feeders, and nothing else hangs from it.
func whole(c *rule.Case, bus int32, feeders []int32) bool {
	b := &c.L.Buses[bus]
	if b.Legs != layout.LegsBoth || b.Returns.Bus >= 0 || b.From.Kind == layout.FromTap {
		return false
	}
	for i := range c.L.Feeders {
		from := c.L.Feeders[i].From
		both := from[layout.A].Bus == bus && from[layout.B].Bus == bus
		any := from[layout.A].Bus == bus || from[layout.B].Bus == bus
		if in := slices.Contains(feeders, int32(i)); in && !both || !in && any {
			return false
		}
	}
	hangs := func(s layout.Source) bool { return s.Kind == layout.FromTap && s.Tap.Bus == bus }
	l := c.L
	return !slices.ContainsFunc(l.Buses, func(x layout.Bus) bool { return hangs(x.From) }) &&
		!slices.ContainsFunc(l.Breakers, func(x layout.Breaker) bool { return hangs(x.From) }) &&
		!slices.ContainsFunc(l.Reversers, func(x layout.Reverser) bool { return hangs(x.From) }) &&
		!slices.ContainsFunc(l.Detectors, func(x layout.Detector) bool { return hangs(x.From) }) &&
		!slices.ContainsFunc(l.InLines, func(x layout.InLine) bool { return hangs(x.From) }) &&
		!slices.ContainsFunc(l.Turnouts, func(x layout.Turnout) bool { return x.FrogTap.Bus == bus })
}

// taken reports whether a reverser, bus or district has a name, as the language compares names.
func taken(c *rule.Case, name string) bool {
	l := c.L
	return slices.ContainsFunc(l.Reversers, func(x layout.Reverser) bool { return sameName(x.Name, name) }) ||
		slices.ContainsFunc(l.Buses, func(x layout.Bus) bool { return sameName(x.Name, name) }) ||
		slices.ContainsFunc(l.Districts, func(x layout.District) bool { return sameName(x.Name, name) })
}

// regroup makes the blocks inside a section a district of their own behind the new reverser, where districts say what blocks hang from.
func regroup(c *rule.Case, p *districts.Proposal, source int32, name string, m *finding.Mend) {
	inside := func(block int32) bool {
		covers := c.L.Blocks[block].Covers
		for _, s := range covers {
			if !slices.Contains(p.Pieces, s.Piece) {
				return false
			}
		}
		return len(covers) > 0 && slices.ContainsFunc(p.Feeders, func(f int32) bool {
			at := &c.L.Feeders[f].Place
			piece := &c.L.Pieces[at.Piece]
			return piece.Kind == layout.TrackPiece && at.End < 0 && c.MeantAt(piece.Index, at.At.Mid()) == block
		})
	}
	for i := range c.L.Districts {
		d := &c.L.Districts[i]
		if text, ok := sourceKind(c, source); !ok || d.From.Text != text {
			continue
		}
		var in, out []string
		for _, b := range d.Blocks {
			if inside(b) {
				in = append(in, c.L.Blocks[b].Name)
			} else {
				out = append(out, c.L.Blocks[b].Name)
			}
		}
		switch {
		case len(in) == 0:
		case len(out) == 0:
			m.Changes = append(m.Changes, rule.SetKey("districts", d.Name, "from", "reverser "+name))
		default:
			m.Changes = append(m.Changes, rule.SetKey("districts", d.Name, "blocks", "["+strings.Join(out, ", ")+"]"),
				finding.Change{Op: finding.OpAdd, Section: "districts", Name: name, Value: "{from: reverser " + name + ", blocks: [" + strings.Join(in, ", ") + "]}"})
		}
	}
}
