package tree

import "gapwise/netlist/source"

// Limits of one file. A layout of a few hundred pieces stays far below each of them.
const (
	maxBytes    = 8 << 20 // of a file
	maxDepth    = 64      // maps and lists inside one another
	maxIndent   = 1000    // blanks before a line
	maxText     = 10000   // characters of one value
	maxKey      = 1000    // characters of one key
	maxProblems = 1000    // told about one file
)

// Parse reads one layout file. It returns every mistake it finds, each once, and the
// tree as far as it could be understood; values with a mistake are marked Bad. The root
// is nil when there is no tree at all, and then there is a problem too. file is the
// index that positions carry. Parse never panics and takes time in proportion to the
// file.
func Parse(file int32, f *source.File) (*Node, []source.Problem) {
	if len(f.Text) > maxBytes {
		return nil, []source.Problem{{
			Pos: source.Pos{File: file, Line: 1, Col: 1}, Width: 1,
			Message: "over the bound, a layout file of 8 MiB",
		}}
	}
	s := newScanner(file, f.Text)
	s.scan()
	if s.stopped {
		return nil, s.told()
	}
	doc, err := decode(s.out)
	switch {
	case err != nil && s.clean():
		s.add(s.fromLibrary(err))
		return nil, s.told()
	case doc == nil && s.clean():
		s.add(source.Problem{
			Pos: source.Pos{File: file, Line: 1, Col: 1}, Width: 1,
			Message:  "nothing in this file",
			Expected: "`gapwise: 1` and `layout:` or `module:`",
		})
		return nil, s.told()
	case err != nil || doc == nil:
		return nil, s.told()
	}
	root := newWalker(s).root(doc)
	if s.stopped {
		return nil, s.told()
	}
	return root, s.told()
}
