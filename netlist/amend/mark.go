package amend

import (
	"bytes"
	"strings"

	"gapwise/netlist/edit"
	"gapwise/netlist/source"
)

// mark puts the writer's mark behind the lines that were changed or added and have no
// comment.
func (b *build) mark() {
	text := strings.TrimSpace(source.Safe(b.w.Mark))
	if text == "" {
		return
	}
	for i := range b.files {
		f := &b.files[i]
		d := b.doc(int32(i))
		if d == nil || len(f.dirty) == 0 {
			continue
		}
		commented := map[int]bool{}
		for _, c := range d.comments(d.root, d.lines[0], len(d.text)) {
			commented[d.lineEnd(c.from)] = true
		}
		for _, end := range d.lineEnds(f.dirty) {
			if !commented[end] {
				f.edits = append(f.edits, edit.Edit{From: end, To: end, Text: "  # " + text})
			}
		}
	}
}

// lineEnds are the ends of the lines that spans touch and on which something stands.
func (d *document) lineEnds(spans []span) []int {
	var ends []int
	seen := map[int]bool{}
	for _, s := range spans {
		for at := min(s.from, len(d.text)); ; at = d.nextLine(at) {
			end := d.lineEnd(at)
			if len(bytes.TrimSpace(d.text[d.lineStart(at):end])) > 0 && !seen[end] {
				seen[end] = true
				ends = append(ends, end)
			}
			if d.nextLine(at) >= s.to || d.nextLine(at) == len(d.text) {
				break
			}
		}
	}
	return ends
}
