package tree

import (
	"fmt"
	"strconv"
	"strings"

	"gapwise/netlist/source"

	"gopkg.in/yaml.v3"
)

// decode gives the library's tree of a text, nil for one without any value. Panics of
// the library come back as errors.
func decode(text []byte) (root *yaml.Node, err error) {
	defer func() {
		if r := recover(); r != nil {
			root, err = nil, fmt.Errorf("yaml: %v", r)
		}
	}()
	var doc yaml.Node
	if err := yaml.Unmarshal(text, &doc); err != nil {
		return nil, err
	}
	if len(doc.Content) == 0 {
		return nil, nil
	}
	return doc.Content[0], nil
}

// fromLibrary turns an error of the library into a problem. It names a line at best,
// and that may be the one before the culprit, so the place is told as near.
func (s *scanner) fromLibrary(err error) source.Problem {
	message := strings.TrimPrefix(err.Error(), "yaml: ")
	line := 1
	if rest, ok := strings.CutPrefix(message, "line "); ok {
		number, after, _ := strings.Cut(rest, ": ")
		if n, err := strconv.Atoi(number); err == nil {
			line, message = n, after
		}
	}
	p := source.Problem{
		Pos:   source.Pos{File: s.file, Line: int32(line), Col: 1},
		Width: 1, Message: "not understood, here or near: " + message,
	}
	text := (&source.File{Text: s.text}).Line(p.Pos.Line)
	if indent := blanks(text, 0); indent < len(text) {
		p.Pos.Col = int32(indent) + 1
		p.Width = wordEnd(text, indent) - indent
	}
	return p
}
