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
	text := fmt.Sprintf("the section from %s to %s, %s", boundText(c, p.Bounds[0]), boundText(c, p.Bounds[1]), rule.Length("", p.Length).Text)
	if math.IsInf(p.Room, 1) {
		text += ", where no train is over two of its gaps at once"
	} else {
		text += fmt.Sprintf(", %s longer than the longest train", rule.Length("", p.Room-longest).Text)
	}
	var costs []string
	switch n := p.Cuts(); {
	case n == 0 && p.Halves() == 0:
		costs = append(costs, "its gaps are there")
	case n == 1:
		costs = append(costs, "one new gap in both rails")
	case n > 1:
		costs = append(costs, fmt.Sprintf("%d new gaps in both rails", n))
	}
	switch n := p.Halves(); {
	case n == 1:
		costs = append(costs, "one gap to be cut in the other rail too")
	case n > 1:
		costs = append(costs, fmt.Sprintf("%d gaps to be cut in the other rail too", n))
	}
	switch n := p.TrackWork(c.L); n {
	case 0:
		costs = append(costs, "no turnout inside")
	case 1:
		costs = append(costs, "one turnout or crossing inside")
	default:
		costs = append(costs, fmt.Sprintf("%d turnouts or crossings inside", n))
	}
	costs = append(costs, "one reverser")
	switch n := len(p.Feeders); n {
	case 0:
		costs = append(costs, "one new feeder")
	case 1:
		costs = append(costs, "one feeder to hang from the reverser")
	default:
		costs = append(costs, fmt.Sprintf("%d feeders to hang from the reverser", n))
	}
	if source, bus := feedOf(c, p); source >= 0 && !whole(c, bus, p.Feeders) {
		_, length := reach(c, p, bus)
		costs = append(costs, fmt.Sprintf("%s of new bus", quantity.FormatLength(length)))
	}
	switch n := len(p.Bonds); {
	case n == 1:
		costs = append(costs, "one bond to take off")
	case n > 1:
		costs = append(costs, fmt.Sprintf("%d bonds to take off", n))
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

// sectionMend is all that has to be done for one section; ok is false where nothing feeds it or the track around it, or what does not says how it trips.
func sectionMend(c *rule.Case, p *districts.Proposal) (m finding.Mend, ok bool) {
	var words []string
	for _, b := range slices.Concat(p.Bounds[:], p.Branch) {
		switch {
		case b.Half:
			for _, cut := range wholeGapMends(c, b.Way) {
				m.Changes = append(m.Changes, cut.Changes...)
				m.Work.Cuts += cut.Work.Cuts
				words = append(words, cut.Text)
			}
		case b.Way < 0:
			m.Changes = append(m.Changes, c.Cut(b.Track, b.At, layout.BothRails))
			m.Work.Cuts += 2
			words = append(words, "cut both rails at "+c.TrackPlace(b.Track, b.At).Text)
		}
	}
	for _, b := range p.Bonds {
		off := bondOffMends(c, b)[0]
		m.Changes = append(m.Changes, off.Changes...)
		m.Work.Wires += off.Work.Wires
		words = append(words, off.Text)
	}
	source, bus := feedOf(c, p)
	if source < 0 || bus < 0 {
		return m, false
	}
	own := whole(c, bus, p.Feeders)
	lo, length := reach(c, p, bus)
	from := c.TapText(bus, lo)
	if own {
		from = c.L.Buses[bus].From.Text
	}
	name, add, set, known := newReverser(c, source, from)
	if !known {
		return m, false
	}
	m.Work.Devices = 1
	m.Changes = append(m.Changes, add)
	if own {
		b := &c.L.Buses[bus]
		m.Changes = append(m.Changes, rule.SetKey("buses", b.Name, "from", "reverser "+name))
		words = append(words, fmt.Sprintf("put a reverser (%s) between %s and bus %s, which feeds this section alone", set, b.From.Text, b.Name))
		m.Work.Wires++
		for _, f := range p.Against {
			m.Changes = append(m.Changes, c.SwapFeeder(f))
			m.Work.Wires++
			words = append(words, "swap the two wires of the feeder at "+c.FeederPlace(f).Text)
		}
	} else {
		text, fed := ownBus(c, p, bus, name, set, lo, length, &m)
		if !fed {
			return m, false
		}
		words = append(words, text)
	}
	regroup(c, p, source, name, &m)
	m.Text = "make " + sectionText(c, p) + " the reversing section: " + strings.Join(words, "; ") +
		". Then, with everything off, a meter on ohms from each rail of the section to either rail outside must not read near 0"
	return m, true
}

// reach is where on a bus a reverser for a section begins, as near to its start as the first of the feeders that come to hang from it, and how long the bus from it is.
func reach(c *rule.Case, p *districts.Proposal, bus int32) (lo, length float64) {
	lo, hi := math.Inf(1), 0.0
	for _, f := range p.Feeders {
		if t := &c.L.Feeders[f].From[layout.B]; t.Bus == bus && t.At.Known() {
			lo, hi = math.Min(lo, t.At.Mid()), math.Max(hi, t.At.Mid())
		}
	}
	if math.IsInf(lo, 1) {
		lo = 0
		if near := nearestFeeder(c, p); near >= 0 && c.L.Feeders[near].From[layout.B].Bus == bus {
			lo = c.L.Feeders[near].From[layout.B].At.Mid()
		}
		hi = lo
	}
	return lo, c.L.Handy(math.Max(hi-lo, p.Length) + besideWork)
}

// ownBus lays a bus from a new reverser for the feeders of a section, and hangs them from it, all the same way round; where there is none it gets its first. fed is false where
// that finds no place.
func ownBus(c *rule.Case, p *districts.Proposal, bus int32, name, set string, lo, length float64, m *finding.Mend) (text string, fed bool) {
	value := "{from: reverser " + name
	if w := c.L.Buses[bus].Wire; w.Known() {
		value += ", wire: " + w.String()
	}
	if c.L.Buses[bus].Laid.Kind == layout.LaidTwisted {
		value += ", laid: twisted"
	}
	m.Changes = append(m.Changes, finding.Change{Op: finding.OpAdd, Section: "buses", Name: name, Value: value + ", length: " + c.L.Spell(length) + "}"})
	text = fmt.Sprintf("hang a reverser (%s) from bus %s @ %s, lay a bus %s of %s from it, and hang from that ",
		set, c.L.Buses[bus].Name, quantity.FormatLength(lo), name, quantity.FormatLength(length))
	if len(p.Feeders) == 0 {
		track, at, free := middleOf(c, p)
		if !free {
			return "", false
		}
		value := "{from: " + name + " @ " + c.L.Spell(c.L.Handy(length/2)) + ", A: left"
		if like := nearestFeeder(c, p); like >= 0 && c.L.Feeders[like].Wire.Known() {
			value += ", wire: " + c.L.Feeders[like].Wire.String()
			if c.L.Feeders[like].Length.Known() {
				value += ", length: " + c.L.Spell(c.L.Feeders[like].Length.Mid())
			}
		}
		m.Changes = append(m.Changes, finding.Change{Op: finding.OpPlace, Section: "feeders", Piece: c.L.Tracks[track].Name, Where: c.L.Spell(at), Value: value + "}"})
		m.Work.Wires += 2
		return text + "a new feeder at " + c.TrackPlace(track, at).Text, true
	}
	for _, f := range p.Feeders {
		at := lo
		if t := &c.L.Feeders[f].From[layout.B]; t.Bus == bus && t.At.Known() {
			at = t.At.Mid()
		}
		tap := name + " @ " + c.L.Spell(c.L.Handy(math.Min(at-lo, length)))
		keys := []finding.Key{{Name: "from", Value: tap}}
		if feeder := &c.L.Feeders[f]; feeder.From[layout.A].Text != feeder.From[layout.B].Text {
			keys = []finding.Key{{Name: "A-from", Value: tap}, {Name: "B-from", Value: tap}}
		}
		if slices.Contains(p.Against, f) {
			keys = append(keys, c.SwapFeeder(f).Keys...)
		}
		m.Changes = append(m.Changes, finding.Change{Op: finding.OpSetFeeder, Ref: f, Keys: keys})
	}
	m.Work.Wires += len(p.Feeders) + 1
	text += "the feeders at " + feedersText(c, p.Feeders)
	if len(p.Against) > 0 {
		text += ", with the two wires swapped of those at " + feedersText(c, p.Against)
	}
	return text, true
}

// middleOf is a free place near the middle of the longest track between the bounds of a section.
func middleOf(c *rule.Case, p *districts.Proposal) (track int32, at float64, ok bool) {
	best := 0.0
	for _, piece := range p.Pieces {
		if c.L.Pieces[piece].Kind != layout.TrackPiece {
			continue
		}
		t := c.L.Pieces[piece].Index
		lo, hi := p.On(c.C, t)
		if hi-lo <= best {
			continue
		}
		if x, free := c.FreePlace(t, (lo+hi)/2, lo, hi); free {
			track, at, ok, best = t, x, true, hi-lo
		}
	}
	return track, at, ok
}

// nearestFeeder is the feeder nearest to a section that no feeder is in, -1 for none.
func nearestFeeder(c *rule.Case, p *districts.Proposal) int32 {
	track, at, ok := middleOf(c, p)
	if !ok {
		return -1
	}
	for _, n := range c.FeedersNear(c.SpotNear(track, at)) {
		if c.L.Feeders[n.Feeder].From[layout.B].Bus >= 0 && c.L.Feeders[n.Feeder].From[layout.B].At.Known() {
			return n.Feeder
		}
	}
	return -1
}

// feedOf is the source that most of the feeders of a section hang from, or where it has none the nearest, and of its buses that with the most of them; -1 where there is none.
func feedOf(c *rule.Case, p *districts.Proposal) (source, bus int32) {
	feeders := p.Feeders
	if len(feeders) == 0 {
		if near := nearestFeeder(c, p); near >= 0 {
			feeders = []int32{near}
		}
	}
	most := func(of func(f int32) int32) int32 {
		best := int32(-1)
		count := map[int32]int{}
		for _, f := range feeders {
			if x := of(f); x >= 0 {
				if count[x]++; best < 0 || count[x] > count[best] {
					best = x
				}
			}
		}
		return best
	}
	source = most(func(f int32) int32 { return c.T.Feeds[f].Source() })
	bus = most(func(f int32) int32 {
		if c.T.Feeds[f].Source() != source {
			return -1
		}
		return c.L.Feeders[f].From[layout.B].Bus
	})
	return source, bus
}

// whole reports whether a bus of both legs feeds just these feeders, and nothing else hangs from it.
func whole(c *rule.Case, bus int32, feeders []int32) bool {
	b := &c.L.Buses[bus]
	if len(feeders) == 0 || b.Legs != layout.LegsBoth || b.Returns.Bus >= 0 || b.From.Kind == layout.FromTap {
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

// tiedSectionMends cut a reversing section off at all the places where nothing parts it from the track around: each as near to the section's own feeders
// as to the others, close to the others, or close to its own; alone, and with a feeder on that side.
func tiedSectionMends(c *rule.Case, ties []*districts.Tie) []finding.Mend {
	var out []finding.Mend
	for _, share := range [3]float64{1.0 / 8, 1.0 / 2, 7.0 / 8} { // of the way from the track around to the section
		plain, fed := finding.Mend{}, finding.Mend{}
		whole := true
		for _, t := range ties {
			track, _, lo, hi, ok := c.CutSpan(t)
			if !ok {
				whole = false
				break
			}
			at := lo + share*(hi-lo)
			if sectionLow(c, t, track, (lo+hi)/2) {
				at = hi - share*(hi-lo)
			}
			cuts := cutMends(c, track, at, lo, hi)
			if len(cuts) == 0 {
				whole = false
				break
			}
			plain, fed = joined(plain, cuts[0]), joined(fed, cuts[len(cuts)-1])
		}
		if whole && len(ties) > 0 {
			test := apartTest(c, [2]int32{freeFirst(c, ties[0].Classes), freeLast(c, ties[0].Classes)})
			plain.Text, fed.Text = plain.Text+test, fed.Text+test
			out = append(out, plain, fed)
		}
	}
	return out
}

// sectionLow reports whether the section of a tie lies below the middle of the stretch of a track where it is cut.
func sectionLow(c *rule.Case, t *districts.Tie, track int32, middle float64) bool {
	for side, near := range t.Near {
		if near >= 0 && c.L.Feeders[near].Place.Piece == c.L.Tracks[track].Piece {
			return c.Free(t.Classes[side]) == (c.L.Feeders[near].Place.At.Mid() <= middle)
		}
	}
	return false
}

// joined is a mend with another done besides.
func joined(m, more finding.Mend) finding.Mend {
	if len(m.Changes) == 0 {
		return more
	}
	return together(m, more)
}
