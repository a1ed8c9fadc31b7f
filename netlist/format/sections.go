package format

import (
	"cmp"
	"slices"

	"gapwise/netlist/edit"
	"gapwise/netlist/reader"
)

// emptyLines keeps at most one empty line in a row, and puts one between sections of which
// one is more than a line long.
func (l *layouter) emptyLines() {
	for n := range l.lines {
		l.lines[n].empty = min(l.lines[n].empty, 1)
	}
	l.lines[0].empty = 0
	if l.d.inBrackets(l.d.root) {
		return
	}
	lineOf := map[int]int{}
	for n, this := range l.lines {
		lineOf[this.from] = n
	}
	long := false // the section above is more than a line long
	for i := range l.d.root.Fields {
		f := &l.d.root.Fields[i]
		head := lineOf[l.d.key(f)]
		above := long
		if long = !l.d.oneLine(f); i == 0 || !above && !long {
			continue
		}
		for head > 0 && l.lines[head].empty == 0 && l.lines[head-1].alone && l.before[l.lines[head-1].from] == 0 {
			head--
		}
		l.lines[head].empty = 1
	}
}

// pieceSections are the sections that number tracks and track work together, in the order in
// which they stand.
var pieceSections = []string{"tracks", "turnouts", "three-ways", "crossings", "slips", "turntables", "transfer-tables"}

// sectionRank is where a key at the left margin stands. The keys of the file itself come
// first, but for those that the language's description has among the last sections.
var sectionRank = func() map[string]int {
	before := map[string]string{"stock": "limits", "accept": "practice"}
	rank := map[string]int{}
	put := func(name string) { rank[name] = len(rank) }
	for i, s := range reader.Reference() {
		if i == 0 {
			for _, k := range s.Keys {
				if k.Name != "limits" && k.Name != "practice" {
					put(k.Name)
				}
			}
			continue
		}
		if shapes[s.Name] == notASection {
			continue
		}
		if first := before[s.Name]; first != "" {
			put(first)
		}
		put(s.Name)
	}
	return rank
}()

// orderSections puts the sections of a file that is laid out into the order of the reference,
// or leaves all where they are.
func orderSections(d *document) []edit.Edit {
	parts, movable := d.parts()
	if !movable {
		return nil
	}
	order := make([]int, len(parts))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(parts[a].rank, parts[b].rank) })
	if parts[0].headed && order[0] != 0 {
		return nil
	}
	var edits []edit.Edit
	for i, from := range order {
		if i != from {
			edits = append(edits, edit.Edit{From: parts[i].from, To: parts[i].to, Text: string(d.text[parts[from].from:parts[from].to])})
		}
	}
	return edits
}

// part is one key at the left margin with all that goes with it: text[from:to]. The empty
// lines between parts are of none.
type part struct {
	from, to int
	rank     int
	headed   bool // comments stand above it
}

// parts takes a file apart at the left margin. It reports false where the parts must not
// move.
func (d *document) parts() ([]part, bool) {
	if d.inBrackets(d.root) {
		return nil, false
	}
	var parts []part
	lastPiece := -1
	for i := range d.root.Fields {
		f := &d.root.Fields[i]
		rank, known := sectionRank[f.Key]
		if piece := slices.Index(pieceSections, f.Key); piece >= 0 {
			known = known && piece > lastPiece
			lastPiece = piece
		}
		if !known {
			return nil, false
		}
		key := d.key(f)
		head := key
		for head > 0 && d.atMargin(head-1) && d.tokens[head-1].line == d.tokens[head].line-1 {
			head--
		}
		if i > 0 {
			if d.comments(head) {
				return nil, false
			}
			parts[i-1].to = d.tokens[head-1].to
		}
		parts = append(parts, part{from: d.tokens[head].from, to: d.tokens[len(d.tokens)-1].to, rank: rank, headed: head < key})
	}
	return parts, len(parts) > 0 && !d.comments(len(d.tokens))
}

// atMargin reports a comment at the left margin.
func (d *document) atMargin(i int) bool {
	return d.tokens[i].kind == commentToken && d.tokens[i].col == 0
}

// comments reports whether among the comments right before a token one stands at the left
// margin.
func (d *document) comments(i int) bool {
	for i--; i >= 0 && d.tokens[i].kind == commentToken; i-- {
		if d.tokens[i].col == 0 {
			return true
		}
	}
	return false
}
