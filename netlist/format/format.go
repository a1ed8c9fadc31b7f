// Package format brings the text of one layout file into its canonical form, by edits of the
// owner's own text: comments, quotes, the order of lists and of names stay.
//
// The canonical form:
//
//   - Sections stand in the order of the language reference. They are moved only where every
//     comment at the left margin stands directly above a section (and so goes with it), where
//     what heads the file stays at its head, and where the sections of track and track work
//     keep the order they have among themselves, by which a report lists them.
//   - The keys of an entry written in braces on one line stand in the documented order, `like`
//     first. Words of the owner's own keep their order: places behind the keys of a feeder
//     group, pieces before the keys of a never-together entry.
//   - Plain quantities have a blank between number and unit, round `..` and round `@`. Number and
//     unit stay as typed, and so does whatever stands in quotes.
//   - Two blanks indent a level; a list is indented below its key; a line inside brackets is
//     indented by the brackets open before it.
//   - One blank stands behind a colon, a comma and the dash of a list. Where every entry of a
//     section is on one line, the values start in one column. Columns inside the braces are
//     made only for an owner who made some, that is where a comma of the section has more than
//     one blank behind it, up to where the entries' keys begin to differ.
//   - One empty line parts sections of which one is more than a line long; elsewhere an empty
//     line stays, and several become one.
//   - A comment has the indentation of what it was indented with. Behind a value it keeps its
//     distance, and comments in one column on lines in a row stay in one column.
//   - No blanks end a line, one line end ends the file, and all are like the file's first.
package format

import (
	"fmt"

	"gapwise/netlist/edit"
	"gapwise/netlist/source"
)

// Format returns the canonical text of a layout file. Mistakes in the text, as far as they
// show without reading what it means, are problems, and there is then no text. The error is
// for an edit that went wrong; then, too, there is none. Format never panics and does not
// change f.
func Format(f *source.File) ([]byte, []source.Problem, error) {
	d, problems := newDocument(f)
	if len(problems) > 0 {
		return nil, problems, nil
	}
	for _, pass := range []func(*document) []edit.Edit{orderKeys, spaceQuantities, layOut, orderSections, layOut} {
		edits := pass(d)
		if len(edits) == 0 {
			continue
		}
		text, err := edit.Apply(d.text, edits)
		if err != nil {
			return nil, nil, fmt.Errorf("cannot format %s: %w", source.Safe(f.Name), err)
		}
		if d, problems = newDocument(&source.File{Name: f.Name, Text: text}); len(problems) > 0 {
			return nil, nil, fmt.Errorf("cannot format %s: %s", source.Safe(f.Name), problems[0].Message)
		}
	}
	return d.text, nil, nil
}
