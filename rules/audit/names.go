package audit

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts/difference"
	"gapwise/rules/finding"
)

// names finds what a finding is about in both layouts alike, whatever things are called there.
type names struct {
	d      *difference.Difference
	pieces [2]map[string]int32
	things [2]map[string]string // "bus mine": its token
	words  [2]map[string]string // names that differ: the token of what they name
}

func newNames(d *difference.Difference) *names {
	n := &names{d: d}
	for side, l := range [2]*layout.Layout{d.Before, d.After} {
		n.pieces[side], n.things[side], n.words[side] = map[string]int32{}, map[string]string{}, map[string]string{}
		for i := range l.Pieces {
			n.pieces[side][l.Pieces[i].Name] = int32(i)
		}
		for k := difference.KindGap; k <= difference.KindTrain; k++ {
			for i, name := range namesOf(l, k) {
				if name != "" {
					n.things[side][k.String()+" "+name] = d.Token(difference.Side(side), k, int32(i))
				}
			}
		}
	}
	for i := range d.Entries {
		e := &d.Entries[i]
		if !e.Renamed && e.Fate != difference.Split && e.Fate != difference.Joined || len(e.Before) == 0 || len(e.After) == 0 {
			continue
		}
		for side, is := range [2][]int32{e.Before, e.After} {
			l := [2]*layout.Layout{d.Before, d.After}[side]
			for _, i := range is {
				if name := difference.EntryOf(l, e.Kind, i).Name; name != "" {
					n.words[side][name] = d.Token(difference.Side(side), e.Kind, i)
				}
			}
		}
	}
	return n
}

// namesOf lists the names of all entries of a kind, "" where one has none.
func namesOf(l *layout.Layout, k difference.Kind) []string {
	out := make([]string, difference.Count(l, k))
	for i := range out {
		out[i] = difference.EntryOf(l, k, int32(i)).Name
	}
	return out
}

var (
	measured = regexp.MustCompile(` @ [^()]*\([^()]*\)`)
	numbers  = regexp.MustCompile(`(^|[\s(])[0-9][0-9./]*`)
)

// same is a text with names that differ replaced by what they name, and without places and measured values: what a
// line is about. Parts of one track that are told one after the other are one.
func (n *names) same(s difference.Side, text string) string {
	text = numbers.ReplaceAllString(measured.ReplaceAllString(text, " @"), "$1#")
	words := strings.Split(text, " ")
	out := make([]string, 0, len(words))
	for i, w := range words {
		bare := strings.Trim(w, ",.;:()`")
		before := ""
		if i > 0 {
			before = words[i-1]
		}
		w = strings.Replace(w, bare, n.word(s, before, bare), 1)
		if len(out) == 0 || out[len(out)-1] != w || !strings.HasSuffix(w, ",") {
			out = append(out, w)
		}
	}
	for i := 1; i+2 < len(out); i++ { // a stretch over two parts of one track
		if out[i] == "@," && out[i-1] == out[i+1] && strings.HasPrefix(out[i+2], "@") {
			out = slices.Delete(out, i, i+2)
			i--
		}
	}
	return strings.Join(out, " ")
}

// word is a word of a text as both layouts say it.
func (n *names) word(s difference.Side, before, word string) string {
	if token, found := n.things[s][before+" "+word]; found {
		return token
	}
	if i, found := n.pieces[s][before]; found && (word == "start" || word == "end") {
		token, metres := n.d.Where(s, layout.Place{Piece: layout.PieceID(i), End: map[string]int32{"start": 0, "end": 1}[word]})
		return fmt.Sprintf("%s %.2f", token, metres)
	}
	if token, found := n.words[s][word]; found {
		return token
	}
	return word
}

// about is what a finding is at: a token both layouts share, and, where it is on track, where on its line: at a place, and
// on a stretch from lo to hi about it.
type about struct {
	token      string
	at, lo, hi float64
	along      bool
}

// stretch finds a stretch of track in words: "M1 @ 8 ft .. 14 ft (2.44 m to 4.27 m)".
var stretch = regexp.MustCompile(`(\S+) @ [^()]*\(([0-9.]+) (m|mm) to ([0-9.]+) (m|mm)\)`)

// roundedBy is what a length told in metres is rounded by.
const roundedBy = 0.0051

// extent is the part of a line that a finding is about: one place, unless its words give stretches of that line and the
// place lies in one.
func (n *names) extent(s difference.Side, f *finding.Finding, at func(piece int32, m float64) (string, float64)) about {
	token, metres := at(n.pieces[s][f.Place.Piece], f.Place.AtM)
	for _, text := range []string{f.Place.Text, f.Message} {
		lo, hi, inside := math.Inf(1), math.Inf(-1), false
		for _, m := range stretch.FindAllStringSubmatch(text, -1) {
			piece, known := n.pieces[s][m[1]]
			if !known {
				continue
			}
			x, from := at(piece, metresOf(m[2], m[3]))
			if _, to := at(piece, metresOf(m[4], m[5])); x == token {
				lo, hi = min(lo, from, to), max(hi, from, to)
				inside = inside || min(from, to) < metres+roundedBy && max(from, to) > metres-roundedBy
			}
		}
		if inside {
			return about{token, metres, lo, hi, true}
		}
	}
	return about{token, metres, metres, metres, true}
}

func metresOf(number, unit string) float64 {
	x, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return math.NaN()
	}
	if unit == "mm" {
		return x / 1000
	}
	return x
}

// where is what a finding is at.
func (n *names) where(s difference.Side, f *finding.Finding) about {
	p := &f.Place
	i, known := n.pieces[s][p.Piece]
	if p.Piece != "" && known {
		l := [2]*layout.Layout{n.d.Before, n.d.After}[s]
		if p.HasAt {
			return n.extent(s, f, func(piece int32, m float64) (string, float64) {
				return n.d.Where(s, layout.Place{Piece: layout.PieceID(piece), End: -1, At: quantity.Length{Value: quantity.Exact(m)}})
			})
		}
		for e := range l.Pieces[i].Ends {
			if p.Text == p.Piece+" "+l.Pieces[i].Ends[e].Name {
				token, metres := n.d.Where(s, layout.Place{Piece: layout.PieceID(i), End: int32(e)})
				return about{token, metres, metres, metres, true}
			}
		}
		return about{token: n.d.Token(s, difference.KindPiece, i)}
	}
	text, _, _ := strings.Cut(p.Text, " @ ")
	if token, found := n.things[s][text]; found {
		return about{token: token}
	}
	return about{token: n.same(s, p.Text)}
}
