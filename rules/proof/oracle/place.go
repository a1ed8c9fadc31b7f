package oracle

import (
	"fmt"
	"math"
	"strings"
)

// spot is a resolved place: inside a run, or a joint or bare end seen from an end.
type spot struct {
	run int     // -1 at an end
	at  float64 // on the track's ruler
	end int     // -1 inside a run
}

// trackSpot finds what lies at a measure of a track. At a track's own end the
// spot's end is the track's.
func (b *builder) trackSpot(t int, at float64) (spot, error) {
	tr := b.tracks[t]
	same := func(x float64) bool { return math.Abs(x-at) <= tiny }
	if same(0) && b.outer[t][0] >= 0 {
		return spot{-1, at, b.outer[t][0]}, nil
	}
	if same(tr.length) && b.outer[t][1] >= 0 {
		return spot{-1, at, b.outer[t][1]}, nil
	}
	for _, bd := range tr.bodies {
		for _, shift := range []float64{0, tr.length} {
			x := at + shift
			if math.Abs(x-bd.at) <= tiny {
				return spot{-1, at, bd.ends[0]}, nil
			}
			if math.Abs(x-bd.at-bd.length) <= tiny {
				return spot{-1, at, bd.ends[1]}, nil
			}
			if x > bd.at && x < bd.at+bd.length {
				return spot{}, fmt.Errorf("%s @ %.2f m is inside %s", tr.name, at, b.pieces[bd.piece].name)
			}
		}
	}
	for _, r := range tr.runs {
		if b.runs[r].s0 < at && at < b.runs[r].s1 {
			return spot{r, at, -1}, nil
		}
	}
	return spot{}, fmt.Errorf("%s @ %.2f m is nowhere", tr.name, at)
}

// groupSpot resolves a place typed under a piece's or track's name.
func (b *builder) groupSpot(name, where string) (spot, error) {
	if t := b.trackNamed(name); t >= 0 {
		at, err := b.measure(t, where)
		if err != nil {
			return spot{}, err
		}
		return b.trackSpot(t, at)
	}
	if p := b.pieceNamed(name); p >= 0 {
		if e := b.pieceEnd(p, strings.TrimSpace(where)); e >= 0 {
			return spot{-1, 0, e}, nil
		}
	}
	return spot{}, fmt.Errorf("no place %s %s", name, where)
}

// freeSpot resolves `M1 @ 4 ft` or `T3 points`.
func (b *builder) freeSpot(text string) (spot, error) {
	if name, where, ok := strings.Cut(text, "@"); ok {
		return b.groupSpot(strings.TrimSpace(name), where)
	}
	name, where, _ := strings.Cut(strings.TrimSpace(text), " ")
	return b.groupSpot(name, where)
}

// label names a spot for a reader.
func (l *Layout) label(s spot) string {
	if s.run >= 0 {
		return place(l.tracks[l.runs[s.run].track].name, s.at)
	}
	e := l.ends[s.end]
	if e.run >= 0 {
		r := l.runs[e.run]
		return place(l.tracks[r.track].name, []float64{r.s0, r.s1}[side(e)])
	}
	if o, _ := l.other(s.end); o >= 0 && l.ends[o].run >= 0 {
		return l.label(spot{-1, 0, o})
	}
	return pieceplace(l.pieces[e.piece].name)
}

func place(name string, at float64) string { return fmt.Sprintf("%s @ %.2f m", name, at) }

// railNode is the node of a rail at a spot; inside a run a cut there has no side.
func (b *builder) railNode(s spot, rail int) (int, error) {
	if s.run < 0 {
		return b.ends[s.end].rails[rail], nil
	}
	r := b.runs[s.run]
	for i, c := range r.cuts[rail] {
		if math.Abs(c.at-s.at) <= tiny {
			if c.conducts == sure {
				return r.nodes[rail][i], nil
			}
			return -1, fmt.Errorf("%s: on which side of the gap?", b.label(s))
		}
		if c.at > s.at {
			return r.nodes[rail][i], nil
		}
	}
	return r.nodes[rail][len(r.cuts[rail])], nil
}

// mostInRow bounds what one line of text may make.
const mostInRow = 10000

// row lists the measures of `2 .. 34 ft` every so often, or a single one.
func (b *builder) row(t int, where, every string) ([]float64, error) {
	if every == "" {
		at, err := b.measure(t, where)
		return []float64{at}, err
	}
	from, to, ok := strings.Cut(where, "..")
	if !ok {
		return nil, fmt.Errorf("a row needs a range: %q", where)
	}
	step, _, err := lengthRange(every)
	if err != nil || step <= 0 {
		return nil, fmt.Errorf("no step %q", every)
	}
	lo, hi, err := b.bounds(t, from, to)
	if err != nil {
		return nil, err
	}
	if (hi-lo)/step > mostInRow {
		return nil, fmt.Errorf("a row of more than %d", mostInRow)
	}
	var out []float64
	for i := 0; lo+float64(i)*step <= hi+tiny; i++ {
		out = append(out, lo+float64(i)*step)
	}
	return out, nil
}

// bounds reads two measures; a bare left number takes the right one's unit.
func (b *builder) bounds(t int, from, to string) (float64, float64, error) {
	from, to = strings.TrimSpace(from), strings.TrimSpace(to)
	hi, err := b.measure(t, to)
	if err != nil {
		return 0, 0, err
	}
	if ls, err := scanTerms(from); err == nil && len(ls) == 1 && ls[0].unit == "" {
		if rs, err := scanTerms(strings.TrimSuffix(to, "from end")); err == nil && len(rs) == 1 {
			from += " " + rs[0].unit
		}
	}
	lo, err := b.measure(t, from)
	return lo, hi, err
}
