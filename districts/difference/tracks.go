package difference

import (
	"fmt"
	"math"
	"slices"

	"gapwise/netlist/layout"
)

// placed is a track of a chain on the chain's ruler: from at to at + length.
type placed struct {
	link
	at, length float64
}

// matchTracks finds which track is which: those between the same track work, then those whose chain runs through
// track work that only one layout has, then rings, then those of one name, then those alike in where they begin and how long they are.
func (d *Difference) matchTracks() {
	d.matchChains()
	d.matchThrough(d.old, d.new, func(a, b []placed) { d.lay(a, b) })
	d.matchThrough(d.new, d.old, func(a, b []placed) { d.lay(b, a) })
	d.matchRings(d.old, d.new, d.layRing)
	d.matchRings(d.new, d.old, func(a, b []placed, spans [2]float64) { d.layRing(b, a, [2]float64{spans[1], spans[0]}) })
	d.matchLoose()
	d.matchTrackNames()
	d.matchLooks()
	d.matchTracksAlike()
}

// matchChains lays chains between the same two ends on one another.
func (d *Difference) matchChains() {
	at := map[string]int{}
	for i, c := range d.new.chains {
		if key, ok := d.new.chainKey(c); ok {
			at[key] = i
		}
	}
	for _, c := range d.old.chains {
		for _, way := range [2]chain{c, c.turnedRound()} {
			key, ok := d.old.chainKey(way)
			j, found := at[key]
			if ok && found {
				d.lay(d.old.ruler(way.links), d.new.ruler(d.new.chains[j].links))
				break
			}
		}
	}
}

// chainKey names a chain by its two ends, in walking order; ok is false unless one of them is track work that both
// layouts have.
func (s *side) chainKey(c chain) (key string, ok bool) {
	if c.ring {
		return "", false
	}
	x, known := s.terminalToken(c.ends[0])
	y, alsoKnown := s.terminalToken(c.ends[1])
	return x + " - " + y, known || alsoKnown
}

// ruler lays the links of a chain end to end.
func (s *side) ruler(links []link) []placed {
	out := make([]placed, len(links))
	at := 0.0
	for i, k := range links {
		m := s.l.Tracks[k.track].Length.Mid()
		out[i] = placed{k, at, m}
		at += m
	}
	return out
}

// looseChain reports whether none of a chain's tracks has been found in the other layout.
func (s *side) looseChain(links []link) bool {
	return !slices.ContainsFunc(links, func(k link) bool { return s.on[k.track].line >= 0 })
}

// mostWays bounds the ways that are tried through track work of one layout only.
const mostWays = 64

// matchThrough finds, for a chain of one layout, a way of the other through track work that the first does not have:
// a turnout put into a track leaves the track what it was.
func (d *Difference) matchThrough(from, to *side, lay func(a, b []placed)) {
	for _, c := range from.chains {
		if c.ring || !from.looseChain(c.links) {
			continue
		}
		if _, known := from.terminalToken(c.ends[0]); !known {
			c = c.turnedRound()
		}
		start, known := from.terminalToken(c.ends[0])
		if !known {
			continue
		}
		goal, _ := from.terminalToken(c.ends[1])
		p := from.pair[KindPiece][c.ends[0].at.Piece]
		e := to.endLike(layout.PieceID(p), from.endKey(c.ends[0].at))
		if e < 0 || start == goal {
			continue
		}
		w := newThrough(from, to, c.links)
		w.goal = goal
		w.walk(to.l.Pieces[p].Ends[e].Joint, nil, 0, map[layout.PieceID]bool{})
		if w.best != nil {
			lay(from.ruler(c.links), w.best)
		}
	}
}

func namesOf(s *side, links []link) map[string]bool {
	out := map[string]bool{}
	for _, k := range links {
		out[s.l.Tracks[k.track].Name] = true
	}
	return out
}

// through searches the way that fits a chain best.
type through struct {
	from   *side
	to     *side
	tracks map[layout.PieceID]bool // of the chain
	goal   string
	names  map[string]bool
	length float64
	tries  int
	best   []placed
	off    float64 // metres by which the best differs in length
}

func newThrough(from, to *side, links []link) *through {
	w := &through{from: from, to: to, tracks: map[layout.PieceID]bool{}, names: namesOf(from, links)}
	w.length, _ = from.length(links)
	for _, k := range links {
		w.tracks[from.l.Tracks[k.track].Piece] = true
	}
	return w
}

// passes reports whether a way may go through track work: only its layout has it, or it stands on the chain in the other.
func (w *through) passes(p layout.PieceID) bool {
	i := w.to.pair[KindPiece][p]
	return i < 0 || w.tracks[w.from.stand[i]]
}

// named reports whether a track of a way has a name of the chain.
func (w *through) named(way []placed) bool {
	return slices.ContainsFunc(way, func(k placed) bool { return w.names[w.to.l.Tracks[k.track].Name] })
}

// chainFrom is the chain that begins at an end of a track, as it is walked from there.
func (s *side) chainFrom(at layout.EndRef) chain {
	c := s.chains[s.chainOf[s.l.Pieces[at.Piece].Index]]
	if first := c.links[0]; s.l.Tracks[first.track].Piece != at.Piece || first.backwards != (at.End == 1) {
		return c.turnedRound()
	}
	return c
}

// walk goes on from a joint: along a chain, then through track work that only this layout has.
func (w *through) walk(at layout.EndRef, way []placed, metres float64, seen map[layout.PieceID]bool) {
	if w.tries++; w.tries > mostWays || at.Piece < 0 {
		return
	}
	end := terminal{at: at}
	if w.to.isTrack(at.Piece) {
		c := w.to.chainFrom(at)
		if c.ring || !w.to.looseChain(c.links) {
			return
		}
		way = append(slices.Clip(way), moved(w.to.ruler(c.links), metres)...)
		m, _ := w.to.length(c.links)
		metres += m
		end = c.ends[1]
	}
	token, _ := w.to.terminalToken(end)
	if token == w.goal {
		w.take(way, metres)
	}
	if end.at.Piece < 0 || !w.passes(end.at.Piece) || seen[end.at.Piece] {
		return
	}
	seen[end.at.Piece] = true
	for _, out := range w.to.routes(end.at) {
		w.walk(w.to.l.Pieces[out.Piece].Ends[out.End].Joint, way, metres+w.to.body(out.Piece), seen)
	}
	delete(seen, end.at.Piece)
}

// nearLength is by how much a track may have been measured anew when something was put into it, in metres: 1 in.
// Common practice, no source.
const nearLength = 0.0254

// take keeps a way if it fits better: in length, or by a name.
func (w *through) take(way []placed, metres float64) {
	off := math.Abs(metres - w.length)
	if len(way) == 0 || off > nearLength && !w.named(way) {
		return
	}
	if w.best == nil || off < w.off-sameTrack || off < w.off+sameTrack && len(way) < len(w.best) {
		w.best, w.off = way, off
	}
}

// lay puts the tracks of two chains on lines. Tracks of one name and length are one; what lies between those is laid
// by its bounds.
func (d *Difference) lay(old, now []placed) {
	i, j := 0, 0
	for n := range old {
		m := slices.IndexFunc(now[j:], func(k placed) bool {
			return d.old.l.Tracks[old[n].track].Name == d.new.l.Tracks[k.track].Name && math.Abs(old[n].length-k.length) < sameTrack
		})
		if m < 0 {
			continue
		}
		d.layBetween(old[i:n], now[j:j+m])
		d.layGroup(old[n:n+1], now[j+m:j+m+1])
		i, j = n+1, j+m+1
	}
	d.layBetween(old[i:], now[j:])
}

// layBetween puts tracks on lines: as many on both sides are one by one the same; else they are taken apart where
// a bound of the one is a bound of the other. What the longer of two rows has beyond the end of the other is left.
func (d *Difference) layBetween(old, now []placed) {
	if len(old) == len(now) {
		for i := range old {
			d.layGroup(old[i:i+1], now[i:i+1])
		}
		return
	}
	i, j := 0, 0
	for a, b := 1, 1; a <= len(old) && b <= len(now); {
		x, y := bound(old, a)-old[0].at, bound(now, b)-now[0].at
		switch {
		case math.Abs(x-y) < sameTrack, a == len(old) && b == len(now):
			d.layGroup(old[i:a], now[j:b])
			i, j, a, b = a, b, a+1, b+1
		case b == len(now), x < y && a < len(old):
			a++
		default:
			b++
		}
	}
}

// bound is where the track before index i ends on its chain's ruler.
func bound(p []placed, i int) float64 { return p[i-1].at + p[i-1].length }

// layRing puts the tracks of two rings on lines: on one that comes back to its start after as many metres as the longer of
// them is, or on several when no lengths are given.
func (d *Difference) layRing(old, now []placed, spans [2]float64) {
	round := max(spans[0], spans[1])
	if round == 0 {
		d.lay(old, now)
		return
	}
	for _, g := range [...]struct {
		s *side
		p []placed
	}{{d.old, old}, {d.new, now}} {
		for _, k := range g.p {
			g.s.on[k.track] = laid{line: d.lines, offset: k.at, length: k.length, backwards: k.backwards, round: round}
		}
	}
	d.lines++
	d.spans = append(d.spans, spans)
	d.pairTracks(old, now)
}

// layGroup puts tracks that are one stretch on a line of their own.
func (d *Difference) layGroup(old, now []placed) {
	line := d.lines
	d.lines++
	d.spans = append(d.spans, [2]float64{bound(old, len(old)) - old[0].at, bound(now, len(now)) - now[0].at})
	if len(old) == 1 && len(now) == 1 {
		longest := max(old[0].length, now[0].length)
		d.old.on[old[0].track] = laid{line: line, length: longest}
		d.new.on[now[0].track] = laid{line: line, length: longest, backwards: old[0].backwards != now[0].backwards}
	} else {
		for _, g := range [...]struct {
			s *side
			p []placed
		}{{d.old, old}, {d.new, now}} {
			for _, k := range g.p {
				g.s.on[k.track] = laid{line: line, offset: k.at - g.p[0].at, length: k.length, backwards: k.backwards}
			}
		}
	}
	d.pairTracks(old, now)
}

// pairTracks makes tracks of one line one.
func (d *Difference) pairTracks(old, now []placed) {
	for _, k := range old {
		d.old.pair[KindPiece][d.old.l.Tracks[k.track].Piece] = int32(d.new.l.Tracks[now[0].track].Piece)
	}
	for _, k := range now {
		d.new.pair[KindPiece][d.new.l.Tracks[k.track].Piece] = int32(d.old.l.Tracks[old[0].track].Piece)
	}
}

// matchLoose lays rings, and track that ends at no track work, on those of the other layout that share a name.
func (d *Difference) matchLoose() {
	type seat struct{ chain, index int }
	at := map[string]seat{}
	for j, c := range d.new.chains {
		if !d.new.looseChain(c.links) || d.new.fixed(c) {
			continue
		}
		for n, k := range c.links {
			at[d.new.l.Tracks[k.track].Name] = seat{j, n}
		}
	}
	for _, c := range d.old.chains {
		if !d.old.looseChain(c.links) || d.old.fixed(c) {
			continue
		}
		for n, k := range c.links {
			hit, found := at[d.old.l.Tracks[k.track].Name]
			if !found {
				continue
			}
			other, m := d.new.chains[hit.chain], hit.index
			if other.ring != c.ring || !d.new.looseChain(other.links) {
				continue
			}
			old, now, back := c, other, other.turnedRound()
			if c.ring {
				old.links, now.links, back.links = rotated(old.links, n), rotated(now.links, m), rotated(back.links, len(back.links)-1-m)
			}
			if d.fits(old, back) > d.fits(old, now) {
				now = back
			}
			d.lay(d.old.ruler(old.links), d.new.ruler(now.links))
			break
		}
	}
}

// fixed reports whether a chain begins or ends at track work that both layouts have.
func (s *side) fixed(c chain) bool {
	_, ok := s.chainKey(c)
	return ok
}

func rotated(links []link, n int) []link { return append(slices.Clone(links[n:]), links[:n]...) }

// matchTrackNames makes tracks of one name one, whatever they join now.
func (d *Difference) matchTrackNames() {
	at := map[string]int32{}
	for t := range d.new.l.Tracks {
		if d.new.on[t].line < 0 {
			at[d.new.l.Tracks[t].Name] = int32(t)
		}
	}
	for t := range d.old.l.Tracks {
		if u, found := at[d.old.l.Tracks[t].Name]; found && d.old.on[t].line < 0 {
			d.layOne(int32(t), u)
		}
	}
}

// layOne lays one track on one, turned where its ends say so.
func (d *Difference) layOne(old, now int32) {
	x, y := d.old.joined(old), d.new.joined(now)
	straight, turned := 0, 0
	for e := range 2 {
		if x[e] != "" && x[e] == y[e] {
			straight++
		}
		if x[e] != "" && x[e] == y[1-e] {
			turned++
		}
	}
	one := chain{links: []link{{old, false}}}
	other := chain{links: []link{{now, false}}}
	if turned > straight || turned == straight && d.fits(one, other.turnedRound()) > d.fits(one, other) {
		other = other.turnedRound()
	}
	d.layGroup(d.old.ruler(one.links), d.new.ruler(other.links))
}

// joined names what the two ends of a track meet, "" for nothing that the other layout has.
func (s *side) joined(track int32) (out [2]string) {
	for e := range 2 {
		at := s.l.Pieces[s.l.Tracks[track].Piece].Ends[e].Joint
		switch {
		case at.Piece < 0 || s.pair[KindPiece][at.Piece] < 0:
		case s.isTrack(at.Piece):
			out[e] = s.lineToken(s.l.Pieces[at.Piece].Index)
		default:
			out[e] = s.endToken(at)
		}
	}
	return out
}

// matchTracksAlike makes one what begins at the same place and is as long, or else is alone in its length on both sides.
func (d *Difference) matchTracksAlike() {
	for _, joint := range [2]bool{true, false} {
		key := func(s *side, t int32) []string {
			v := s.l.Tracks[t].Length
			if s.on[t].line >= 0 || !v.Known() {
				return nil
			}
			if !joint {
				return []string{fmt.Sprintf("%.4f %d", v.Mid(), s.l.Tracks[t].Rail.Code)}
			}
			var out []string
			for _, at := range s.joined(t) {
				if at != "" {
					out = append(out, fmt.Sprintf("%s %.4f", at, v.Mid()))
				}
			}
			return out
		}
		index := func(s *side) map[string][]int32 {
			out := map[string][]int32{}
			for t := range s.l.Tracks {
				for _, k := range key(s, int32(t)) {
					out[k] = append(out[k], int32(t))
				}
			}
			return out
		}
		old, now := index(d.old), index(d.new)
		for t := range d.old.l.Tracks {
			for _, k := range key(d.old, int32(t)) {
				if js := now[k]; len(old[k]) == 1 && len(js) == 1 && d.new.on[js[0]].line < 0 {
					d.layOne(int32(t), js[0])
					break
				}
			}
		}
	}
}
