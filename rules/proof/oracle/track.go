package oracle

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

const (
	tiny    = 1e-6       // metres: two measures are one place
	stub    = 6 * 0.0254 // metres: a stub shorter than this joins its neighbour
	deadMin = 0.1        // metres: dead rail shorter than this is no hazard
)

// How a cut or a joint conducts.
const (
	open = iota
	maybe
	sure
)

// cut is a place in one rail of a run where it may not go on.
type cut struct {
	at        float64
	conducts  int
	insulated bool
}

// run is track between bodies or ends, with its own ruler's measures.
type run struct {
	track  int
	s0, s1 float64
	ends   [2]int // at s0 and s1
	cuts   [2][]cut
	nodes  [2][]int // one more than cuts
}

type track struct {
	name   string
	file   int
	length float64
	doubt  float64 // half the range of its length
	closed bool
	lift   bool
	runs   []int
	bodies []body
	marks  []mark
	legA   []legA
}

// body is a piece standing on a track.
type body struct {
	at, length float64
	piece      int
	ends       [2]int // met first, met last
}

// mark is a measure and how far off it may be.
type mark struct{ at, doubt float64 }

// legA says which rail a feeder gives leg A.
type legA struct {
	at   float64
	rail int
}

// joint is where two ends meet. Rails are those of the first end.
type joint struct {
	ends   [2]int
	turned bool // left meets right
	rails  [2]cut
	typed  [2]bool
	lift   bool
}

func (l *Layout) trackNamed(name string) int {
	return slices.IndexFunc(l.tracks, func(t track) bool { return t.name == name })
}

func (b *builder) readTracks() error {
	for _, e := range b.doc.sections["tracks"] {
		f, err := b.doc.fields("tracks", "track", e)
		if err != nil {
			return err
		}
		lo, hi, err := lengthRange(f.text("length"))
		if err != nil || lo <= 0 {
			return fmt.Errorf("track %s: its length is not known", e.name)
		}
		if b.trackNamed(e.name) >= 0 || b.pieceNamed(e.name) >= 0 {
			return fmt.Errorf("%s again", e.name)
		}
		b.tracks = append(b.tracks, track{
			name: e.name, file: e.file, length: (lo + hi) / 2, doubt: (hi - lo) / 2,
			closed: f.text("closed") == "yes", lift: f.text("lift-out") == "yes",
		})
		b.trackFields = append(b.trackFields, f)
	}
	for p := range b.pieces {
		if err := b.stand(p); err != nil {
			return fmt.Errorf("%s: %w", b.pieces[p].name, err)
		}
	}
	for t := range b.tracks {
		if err := b.layRuns(t); err != nil {
			return err
		}
	}
	return b.meet()
}

// stand puts a piece on the track or tracks that its `at` names.
func (b *builder) stand(p int) error {
	f := b.pieceFields[p]
	at, via := words(f.node("at")), words(f.node("via"))
	if len(at) == 0 {
		return nil
	}
	if len(at) != len(via) || b.pieces[p].length <= 0 {
		return fmt.Errorf("standing on a track it needs `via` and a length")
	}
	for i := range at {
		name, where, ok := strings.Cut(at[i], "@")
		t := b.trackNamed(strings.TrimSpace(name))
		if !ok || t < 0 {
			return fmt.Errorf("no track for %q", at[i])
		}
		m, err := b.measure(t, where)
		if err != nil {
			return err
		}
		first, last, ok := strings.Cut(via[i], " to ")
		e0, e1 := b.pieceEnd(p, strings.TrimSpace(first)), b.pieceEnd(p, strings.TrimSpace(last))
		if !ok || e0 < 0 || e1 < 0 {
			return fmt.Errorf("no way %q", via[i])
		}
		b.tracks[t].bodies = append(b.tracks[t].bodies, body{m, b.pieces[p].length, p, [2]int{e0, e1}})
	}
	return nil
}

func (l *Layout) pieceEnd(p int, name string) int {
	for _, e := range l.pieces[p].ends {
		if l.ends[e].name == name {
			return e
		}
	}
	return -1
}

// measure reads a place on a track's ruler.
func (b *builder) measure(t int, text string) (float64, error) {
	tr := &b.tracks[t]
	text = strings.TrimSpace(text)
	switch text {
	case "start":
		return 0, nil
	case "end":
		return tr.length, nil
	}
	from, back := strings.CutSuffix(text, "from end")
	lo, hi, err := lengthRange(from)
	if err != nil {
		return 0, err
	}
	m := mark{(lo + hi) / 2, (hi - lo) / 2}
	if back {
		m.at = tr.length - m.at
		m.doubt += tr.doubt
	}
	if m.at < -tiny || m.at > tr.length+tiny {
		return 0, fmt.Errorf("%s @ %s is not on it", tr.name, text)
	}
	tr.marks = append(tr.marks, m)
	return m.at, nil
}

// settled refuses a layout where ranges leave the order of two places open.
func (b *builder) settled() error {
	for _, t := range b.tracks {
		for i, m := range t.marks {
			for _, o := range t.marks[:i] {
				if d := m.doubt + o.doubt; d > tiny && math.Abs(m.at-o.at) <= d && m != o {
					return fmt.Errorf("%s: the order of its places is open, which is not modelled", t.name)
				}
			}
		}
	}
	return nil
}

// layRuns cuts a track into runs between bodies and joins what follows what.
func (b *builder) layRuns(t int) error {
	tr := &b.tracks[t]
	slices.SortFunc(tr.bodies, func(x, y body) int {
		if x.at < y.at {
			return -1
		}
		return 1
	})
	at := 0.0
	last := -1 // the end that waits for its neighbour
	if n := len(tr.bodies); n > 0 && tr.closed {
		if over := tr.bodies[n-1].at + tr.bodies[n-1].length - tr.length; over > tiny {
			at = over
			last = tr.bodies[n-1].ends[1]
		}
	}
	first := -1
	if last >= 0 {
		first = -2 // the ring's start is inside a body, so nothing waits there
	}
	put := func(e0, e1 int) {
		if last >= 0 {
			b.meetEnds(last, e0, tr.file, tr.file)
		} else if first == -1 {
			first = e0
		}
		last = e1
	}
	lay := func(to float64) {
		if to-at <= tiny {
			return
		}
		r := len(b.runs)
		b.runs = append(b.runs, run{track: t, s0: at, s1: to})
		for side := range 2 {
			b.ends = append(b.ends, end{name: []string{"start", "end"}[side], start: side == 0, piece: -1, run: r, joint: -1, inner: -1})
			b.runs[r].ends[side] = len(b.ends) - 1
		}
		tr.runs = append(tr.runs, r)
		put(b.runs[r].ends[0], b.runs[r].ends[1])
	}
	for _, bd := range tr.bodies {
		if bd.at < at-tiny {
			return fmt.Errorf("%s: bodies overlap", tr.name)
		}
		lay(bd.at)
		over := bd.at+bd.length > tr.length+tiny
		if over && !tr.closed {
			return fmt.Errorf("%s: a body passes its end", tr.name)
		}
		put(bd.ends[0], bd.ends[1])
		at = bd.at + bd.length
		if over {
			last = -1
		}
	}
	lay(tr.length)
	b.outer = append(b.outer, [2]int{first, last})
	if tr.closed && first >= 0 && last >= 0 {
		b.meetEnds(last, first, tr.file, tr.file)
	}
	return nil
}

// meet joins track ends to what they name.
func (b *builder) meet() error {
	for t := range b.tracks {
		if b.tracks[t].closed {
			continue
		}
		for side, key := range []string{"from", "to"} {
			text := b.trackFields[t].text(key)
			if text == "end" || text == "bumper" {
				continue
			}
			other, file, err := b.namedEnd(text)
			if err != nil {
				return fmt.Errorf("track %s: %w", b.tracks[t].name, err)
			}
			if err := b.meetEnds(b.outer[t][side], other, b.tracks[t].file, file); err != nil {
				return fmt.Errorf("track %s: %w", b.tracks[t].name, err)
			}
		}
	}
	for t := range b.tracks {
		for _, e := range b.outer[t] {
			if b.tracks[t].lift && e >= 0 && b.ends[e].joint >= 0 {
				b.joints[b.ends[e].joint].lift = true
			}
		}
	}
	for _, e := range b.doc.sections["joins"] {
		two := words(e.node)
		if len(two) != 2 {
			return fmt.Errorf("joins: two ends meet")
		}
		var ends, files [2]int
		for i := range two {
			var err error
			if ends[i], files[i], err = b.namedEnd(two[i]); err != nil {
				return err
			}
		}
		if err := b.meetEnds(ends[0], ends[1], files[0], files[1]); err != nil {
			return err
		}
	}
	return nil
}

// namedEnd resolves `T1 straight` or `U2 start`.
func (b *builder) namedEnd(text string) (e, file int, err error) {
	name, word, ok := strings.Cut(strings.TrimSpace(text), " ")
	if ok {
		if p := b.pieceNamed(name); p >= 0 {
			if e := b.pieceEnd(p, word); e >= 0 {
				return e, b.pieceFile(name), nil
			}
		}
		if t := b.trackNamed(name); t >= 0 {
			switch word {
			case "start":
				return b.outer[t][0], b.tracks[t].file, nil
			case "end":
				return b.outer[t][1], b.tracks[t].file, nil
			}
		}
	}
	return -1, 0, fmt.Errorf("no end %q", text)
}

func (b *builder) pieceFile(name string) int {
	for _, section := range []string{"turnouts", "three-ways", "crossings", "slips", "turntables", "transfer-tables"} {
		if e, ok := b.doc.find(section, name); ok {
			return e.file
		}
	}
	return 0
}

// meetEnds makes the joint of two ends. Both sides may say it.
func (b *builder) meetEnds(x, y, fileX, fileY int) error {
	if x < 0 || y < 0 {
		return fmt.Errorf("no such end")
	}
	if j := b.ends[x].joint; j >= 0 && b.ends[y].joint == j {
		return nil
	}
	if b.ends[x].joint >= 0 || b.ends[y].joint >= 0 {
		return fmt.Errorf("%s is joined twice", b.ends[x].name)
	}
	state := min(b.jointKind(fileX), b.jointKind(fileY))
	j := joint{ends: [2]int{x, y}, turned: b.ends[x].start == b.ends[y].start}
	j.rails = [2]cut{{conducts: state}, {conducts: state}}
	b.joints = append(b.joints, j)
	b.ends[x].joint, b.ends[y].joint = len(b.joints)-1, len(b.joints)-1
	return nil
}

func side(e end) int {
	if e.start {
		return 0
	}
	return 1
}

// jointKind is how a joint conducts by its file's defaults.
func (b *builder) jointKind(file int) int {
	n := field(b.doc.defaults[file]["joint"], "kind")
	if n == nil {
		return maybe
	}
	return b.jointWord(n.Value)
}

func (b *builder) jointWord(kind string) int {
	if kind == "soldered" || kind == "plain" && !slices.Contains(b.doc.practice, "joiners-not-trusted") {
		return sure
	}
	return maybe
}

// other is the end that meets an end, -1 for none, and whether left meets right.
func (l *Layout) other(e int) (int, bool) {
	j := l.ends[e].joint
	if j < 0 {
		return -1, false
	}
	return l.joints[j].ends[0] + l.joints[j].ends[1] - e, l.joints[j].turned
}
