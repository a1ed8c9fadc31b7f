package amend

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gapwise/netlist/source"
	"gapwise/netlist/tree"

	"pgregory.net/rapid"
)

// styler writes a file down again in a mix of all styles that the language has.
type styler struct {
	rand     *rand.Rand
	b        strings.Builder
	comments int
}

// restyled is a file with the same meaning in another style.
func restyled(t *rapid.T, text []byte) string {
	root, problems := tree.Parse(0, &source.File{Text: text})
	if len(problems) > 0 {
		t.Fatalf("%v", problems)
	}
	s := &styler{rand: rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "style"), 0))}
	if s.oneIn(40) {
		s.inBrackets(root, "")
		s.b.WriteString("\n")
	} else {
		s.onLines(root, "", false)
	}
	out := s.b.String()
	if s.oneIn(4) {
		out = strings.TrimSuffix(out, "\n")
	}
	if s.oneIn(4) {
		out = strings.ReplaceAll(out, "\n", "\r\n")
	}
	if s.oneIn(10) {
		out = source.ByteOrderMark + out
	}
	return out
}

func (s *styler) oneIn(n int) bool { return s.rand.IntN(n) == 0 }

// lineEnd ends a line, perhaps with a comment, and perhaps with more lines of comments.
func (s *styler) lineEnd(indent string) {
	comment := func(before string) {
		s.comments++
		fmt.Fprintf(&s.b, "%s# it's {n: %d} \"é\"", before, s.comments)
	}
	if s.oneIn(6) {
		comment("  ")
	}
	s.b.WriteString("\n")
	if s.oneIn(12) {
		comment(indent)
		s.b.WriteString("\n")
	}
	if s.oneIn(20) {
		s.b.WriteString("\n")
	}
}

func (s *styler) key(f *tree.Field) {
	if s.oneIn(8) {
		s.b.WriteString(quoted(f.Key))
	} else {
		s.b.WriteString(f.Key)
	}
	s.b.WriteString(":")
}

func (s *styler) scalar(n *tree.Node, bracketed bool) {
	if n.Quoted || bracketed && strings.ContainsAny(n.Text, ",[]{}?") || s.oneIn(10) {
		s.b.WriteString(quoted(n.Text))
	} else {
		s.b.WriteString(n.Text)
	}
}

// inBrackets writes a value on one line or several.
func (s *styler) inBrackets(n *tree.Node, indent string) {
	if n.Kind == tree.Scalar {
		s.scalar(n, true)
		return
	}
	open, end, count := "{", "}", len(n.Fields)
	if n.Kind == tree.List {
		open, end, count = "[", "]", len(n.Items)
	}
	lines := s.oneIn(5)
	s.b.WriteString(open)
	for i := range count {
		if i > 0 {
			s.b.WriteString(",")
		}
		switch {
		case lines && (i > 0 || s.oneIn(2)):
			s.lineEnd(indent + "  ")
			s.b.WriteString(indent + "  ")
		case i > 0:
			s.b.WriteString(strings.Repeat(" ", 1+s.rand.IntN(2)))
		}
		if n.Kind == tree.List {
			s.inBrackets(n.Items[i], indent+"  ")
			continue
		}
		s.key(&n.Fields[i])
		s.b.WriteString(" ")
		s.inBrackets(n.Fields[i].Value, indent+"  ")
	}
	if count > 0 && s.oneIn(10) {
		s.b.WriteString(",")
	}
	if lines && count > 0 && s.oneIn(2) {
		s.lineEnd(indent + "  ")
		s.b.WriteString(indent + "  ")
	}
	s.b.WriteString(end)
}

// onLines writes a map or list by indentation. Started says that its first line has begun.
func (s *styler) onLines(n *tree.Node, indent string, started bool) {
	step := strings.Repeat(" ", 1+s.rand.IntN(4))
	for i := range n.Fields {
		if i > 0 || !started {
			s.b.WriteString(indent)
		}
		s.key(&n.Fields[i])
		s.value(n.Fields[i].Value, indent+step, false)
	}
	for i, item := range n.Items {
		if i > 0 || !started {
			s.b.WriteString(indent)
		}
		s.b.WriteString("-")
		s.value(item, indent+"  ", true)
	}
}

// value writes what stands behind a key or dash.
func (s *styler) value(n *tree.Node, indent string, dash bool) {
	switch {
	case n.Kind == tree.Scalar:
		s.b.WriteString(" ")
		s.scalar(n, false)
		s.lineEnd(indent)
	case len(n.Fields)+len(n.Items) == 0 || s.oneIn(2):
		s.b.WriteString(" ")
		s.inBrackets(n, indent)
		s.lineEnd(indent)
	case dash && n.Kind == tree.Map:
		s.b.WriteString(" ")
		s.onLines(n, indent, true)
	default:
		s.lineEnd(indent)
		s.onLines(n, indent, false)
	}
}

// TestRestyled tries the styles themselves.
func TestRestyled(t *testing.T) {
	files, _ := filepath.Glob("../../testdata/*/*.yaml")
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom(files).Draw(t, "file")
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		out := restyled(t, text)
		a, _ := tree.Parse(0, &source.File{Text: text})
		b, problems := tree.Parse(0, &source.File{Text: []byte(out)})
		if len(problems) > 0 {
			t.Fatalf("%v\n%s", problems, out)
		}
		if !same(a, b) {
			t.Fatalf("differs\n%s", out)
		}
	})
}
