package difference

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// record is an entry as the layouts are compared by: its keys, in words both share, and where it stands.
type record struct {
	side   *side
	fields []field
	places []spot
	refs   []ref
}

// field is one key. Two fields are alike when their words are the same and their numbers agree.
type field struct {
	key     string
	words   string
	numbers []float64
	text    string // for people, with units
	loose   bool   // numbers are places, which sums of lengths may lose a little of
}

// ref is another entry that one names, under a key.
type ref struct {
	kind Kind
	i    int32
	key  string
}

// alike reports whether two fields say the same.
func (f *field) alike(g *field) bool {
	if f.words != g.words || len(f.numbers) != len(g.numbers) {
		return false
	}
	for i, x := range f.numbers {
		y := g.numbers[i]
		if math.IsNaN(x) || math.IsNaN(y) {
			continue // the end of a track of unknown length: its own entry tells that
		}
		near := 1e-9 * max(math.Abs(x), math.Abs(y))
		if f.loose {
			near = samePlace
		}
		if !(math.Abs(x-y) <= near) && x != y {
			return false
		}
	}
	return true
}

// differ lists the keys in which two records differ. A key that only one of them has is unsaid in the other.
func differ(old, now *record) []Change {
	var out []Change
	unsaid := &field{text: "not said"}
	seen := make([]bool, len(now.fields))
	for i := range old.fields {
		x, y := &old.fields[i], unsaid
		if j := now.find(x.key, i, seen); j >= 0 {
			seen[j] = true
			y = &now.fields[j]
		}
		if !x.alike(y) {
			out = append(out, Change{Key: x.key, From: x.text, To: y.text})
		}
	}
	for j := range now.fields {
		if y := &now.fields[j]; !seen[j] && !unsaid.alike(y) {
			out = append(out, Change{Key: y.key, From: unsaid.text, To: y.text})
		}
	}
	return out
}

// find is the first field of a key that is not seen yet, most often that at index i; -1 for none.
func (r *record) find(key string, i int, seen []bool) int {
	if i < len(r.fields) && r.fields[i].key == key && !seen[i] {
		return i
	}
	for j := range r.fields {
		if r.fields[j].key == key && !seen[j] {
			return j
		}
	}
	return -1
}

func (r *record) word(key, word string) {
	text := word
	if word == "" {
		text = "not said"
	}
	r.fields = append(r.fields, field{key: key, words: word, text: text})
}

func (r *record) yesNo(key string, y layout.YesNo) {
	r.word(key, [...]string{"", "yes", "no", "unknown"}[y])
}

func (r *record) count(key string, n int) {
	text := strconv.Itoa(n)
	r.fields = append(r.fields, field{key: key, words: text, text: text})
}

// value is a quantity in SI units; text is it in words.
func (r *record) value(key string, v quantity.Value, text string) {
	f := field{key: key, words: strconv.Itoa(int(v.State)), text: text}
	if v.Known() {
		f.numbers = []float64{v.Lo, v.Hi}
	}
	r.fields = append(r.fields, f)
}

func (r *record) length(key string, v quantity.Length) { r.value(key, v.Value, v.Both()) }

func (r *record) wire(key string, w quantity.Wire) {
	r.value(key, w.Value, w.Both())
	if w.HasGauge {
		r.fields[len(r.fields)-1].words += " AWG" // the same copper, but not the same spread of strands
	}
}

// entry names another entry.
func (r *record) entry(key string, k Kind, i int32) {
	text := "none"
	if i >= 0 {
		text = r.side.entry(k, i).Name
		r.refs = append(r.refs, ref{k, i, key})
	}
	r.fields = append(r.fields, field{key: key, words: r.side.token(k, i), text: text})
}

// entries names several, in any order.
func (r *record) entries(key string, k Kind, is []int32) {
	words, texts := make([]string, len(is)), make([]string, len(is))
	for n, i := range is {
		words[n], texts[n] = r.side.token(k, i), r.side.entry(k, i).Name
		r.refs = append(r.refs, ref{k, i, key})
	}
	slices.Sort(words)
	r.fields = append(r.fields, field{key: key, words: strings.Join(words, " "), text: listText(texts)})
}

func listText(texts []string) string {
	if len(texts) == 0 {
		return "none"
	}
	return strings.Join(texts, ", ")
}

// tap is a place on a bus.
func (r *record) tap(key string, t layout.Tap) {
	f := field{key: key, words: "unsaid", text: "not said"}
	switch {
	case t.Unknown:
		f.words, f.text = "unknown", "unknown"
	case t.Bus >= 0:
		r.refs = append(r.refs, ref{KindBus, t.Bus, key})
		f.words = r.side.token(KindBus, t.Bus) + " " + strconv.Itoa(int(t.At.State))
		f.text = r.side.l.Buses[t.Bus].Name + " @ " + t.At.Both()
		if t.At.Known() {
			f.numbers = []float64{t.At.Lo, t.At.Hi}
		} else {
			f.text = t.Text
		}
	}
	r.fields = append(r.fields, f)
}

// sourceKinds are what the index of a source points into, by its kind.
var sourceKinds = map[layout.SourceKind]Kind{
	layout.FromBooster: KindBooster, layout.FromBreaker: KindBreaker, layout.FromReverser: KindReverser,
	layout.FromDetector: KindDetector, layout.FromInLine: KindInLine, layout.FromChangeover: KindChangeover,
	layout.FromPlug: KindPlug, layout.FromSupply: KindSupply, layout.FromCab: KindCab,
}

// from is what a wire or device hangs from.
func (r *record) from(key string, s layout.Source) {
	if s.Kind == layout.FromTap {
		r.tap(key, s.Tap)
		return
	}
	f := field{key: key, words: strconv.Itoa(int(s.Kind)), text: "not said"}
	switch k, device := sourceKinds[s.Kind]; {
	case device:
		r.refs = append(r.refs, ref{k, s.Index, key})
		f.words, f.text = r.side.token(k, s.Index), k.String()+" "+r.side.entry(k, s.Index).Name
	case s.Kind == layout.FromNothing:
		f.text = "nothing"
	case s.Kind == layout.FromUnknown:
		f.text = "unknown"
	}
	r.fields = append(r.fields, f)
}

// place is where the entry itself stands.
func (r *record) place(p layout.Place) spot {
	s := r.side.spotOf(p)
	r.places = append(r.places, s)
	return s
}

// stretches are parts of track and track work, in any order and however they are cut up.
func (r *record) stretches(key string, ss []layout.Stretch) {
	f := field{key: key, loose: true}
	words, numbers := r.side.covered(false, layout.CommonRail{Of: ss})
	f.words, f.numbers = strings.Join(words, " "), numbers
	texts := make([]string, len(ss))
	for i := range ss {
		texts[i] = ss[i].Text
	}
	f.text = listText(texts)
	r.fields = append(r.fields, f)
}

// run is part of a line.
type run struct {
	token  string
	lo, hi float64
}

// covered says what some stretches cover, in words and numbers that both layouts share: all of them together, and
// with rails which rail of each is meant.
func (s *side) covered(rails bool, parts ...layout.CommonRail) (words []string, numbers []float64) {
	var runs []run
	for _, part := range parts {
		for i := range part.Of {
			word, along := s.cover(&part.Of[i], rails, part.Rail)
			if word != "" {
				words = append(words, word)
			}
			runs = append(runs, along...)
		}
	}
	slices.SortFunc(runs, func(x, y run) int {
		return cmp.Or(cmp.Compare(x.token, y.token), cmp.Compare(x.lo, y.lo), cmp.Compare(x.hi, y.hi))
	})
	slices.Sort(words)
	for i := 0; i < len(runs); {
		x := runs[i]
		for i++; i < len(runs) && runs[i].token == x.token && runs[i].lo <= x.hi+samePlace; i++ {
			x.hi = max(x.hi, runs[i].hi) // not a number stays that
		}
		words, numbers = append(words, x.token), append(numbers, x.lo, x.hi)
	}
	return words, numbers
}

// cover says what one stretch covers: a word for what is covered whole, else parts of a line.
func (s *side) cover(x *layout.Stretch, rails bool, rail layout.Rail) (word string, parts []run) {
	p := &s.l.Pieces[x.Piece]
	if p.Kind != layout.TrackPiece {
		word = s.token(KindPiece, int32(x.Piece))
		if !x.Whole && x.RouteFrom >= 0 && x.RouteTo >= 0 {
			word += " " + strconv.Itoa(int(min(x.RouteFrom, x.RouteTo))) + "-" + strconv.Itoa(int(max(x.RouteFrom, x.RouteTo)))
		}
		return word, nil
	}
	length := s.l.Tracks[p.Index].Length
	lo, hi := x.From.Mid(), x.To.Mid()
	if x.Whole {
		lo, hi = 0, length.Mid()
	}
	if x.Whole && !length.Known() {
		return "", []run{{s.lineToken(p.Index), s.on[p.Index].offset, math.NaN()}}
	}
	past := lo > hi
	if past && s.on[p.Index].round > 0 {
		return "", append(s.runs(p.Index, lo, length.Mid(), rails, rail), s.runs(p.Index, 0, hi, rails, rail)...)
	}
	parts = s.runs(p.Index, min(lo, hi), max(lo, hi), rails, rail)
	if past {
		parts[0].token += " past the start"
	}
	return "", parts
}

// runs is a stretch of track along its line: two where that comes back to its start in it.
func (s *side) runs(track int32, lo, hi float64, rails bool, rail layout.Rail) []run {
	at := s.trackSpot(track, lo, hi)
	token := at.token
	if rails {
		token += " " + strconv.Itoa(int(at.rail(rail)))
	}
	if at.round > 0 && at.hi > at.round+samePlace {
		return []run{{token, at.lo, at.round}, {token, 0, at.hi - at.round}}
	}
	return []run{{token, at.lo, at.hi}}
}
