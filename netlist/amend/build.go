package amend

import (
	"bytes"
	"cmp"
	"slices"

	"gapwise/netlist/edit"
	"gapwise/netlist/source"
)

// build makes the changes of a writer, in passes: each works on the texts that the one
// before it left.
type build struct {
	w       *Writer
	files   []file
	units   []unit
	homes   []home // of the writer's placed changes
	refused []Refusal
}

// file is one file as changed so far. Dirty is what was written into it.
type file struct {
	source source.File
	doc    *document
	parsed bool
	edits  []edit.Edit
	dirty  []span
}

func newBuild(w *Writer) *build {
	b := &build{w: w, files: make([]file, len(w.lay.Files))}
	for i, f := range w.lay.Files {
		b.files[i].source = *f
	}
	b.units = b.findUnits()
	if len(b.files) > 0 {
		for _, c := range w.placed {
			b.homes = append(b.homes, b.homeOf(c))
		}
	}
	return b
}

// doc is a file taken apart; nil when there are mistakes in it.
func (b *build) doc(i int32) *document {
	f := &b.files[i]
	if !f.parsed {
		f.doc, f.parsed = newDocument(&f.source), true
	}
	return f.doc
}

func (b *build) change(i int32, edits []edit.Edit) {
	b.files[i].edits = append(b.files[i].edits, edits...)
}

func (b *build) refuse(change, why string) {
	b.refused = append(b.refused, Refusal{source.Safe(change), source.Safe(why)})
}

// flush makes the edits collected so far.
func (b *build) flush() {
	for i := range b.files {
		f := &b.files[i]
		if len(f.edits) == 0 {
			continue
		}
		text, err := edit.Apply(f.source.Text, f.edits)
		if err != nil {
			b.refuse("the changes to "+f.source.Name, "two of them are to one place")
		} else {
			f.dirty = carried(f.source.Text, f.edits, f.dirty)
			f.source.Text = text
		}
		f.edits, f.doc, f.parsed = nil, nil, false
	}
}

// carried is where what was written before, and what edits write, stands once they are made.
func carried(text []byte, edits []edit.Edit, before []span) []span {
	sorted := slices.Clone(edits)
	slices.SortStableFunc(sorted, func(a, b edit.Edit) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To))
	})
	moved := func(at int) int {
		by := 0
		for _, e := range sorted {
			if e.To > at {
				break
			}
			by += len(e.Text) - (e.To - e.From)
		}
		return at + by
	}
	var out []span
	for _, s := range before {
		out = append(out, span{moved(s.from), max(moved(s.from), moved(s.to))})
	}
	shift := 0
	for _, e := range sorted {
		from := e.From + shift
		to := from + len(e.Text)
		shift += len(e.Text) - (e.To - e.From)
		wholeLines := e.Text == "" && startsLine(text, e.From) && startsLine(text, e.To)
		if wholeLines {
			continue
		}
		out = append(out, span{from + lineEndLength(e.Text), to})
	}
	return out
}

// startsLine reports whether a line starts at a byte, or the text ends there.
func startsLine(text []byte, at int) bool {
	return at == 0 || at == len(text) || text[at-1] == '\n' || bytes.HasPrefix(text[at:], []byte("\n")) || bytes.HasPrefix(text[at:], []byte("\r\n"))
}

// lineEndLength is how long the line end is with which a text starts.
func lineEndLength(text string) int {
	switch {
	case len(text) > 1 && text[:2] == "\r\n":
		return 2
	case len(text) > 0 && text[0] == '\n':
		return 1
	}
	return 0
}

// check refuses texts that came out with mistakes.
func (b *build) check() {
	for i := range b.files {
		f := &b.files[i]
		if !bytes.Equal(f.source.Text, b.w.lay.Files[i].Text) && b.doc(int32(i)) == nil {
			b.refuse("the changes to "+f.source.Name, "the file would have mistakes in its text")
		}
	}
}
