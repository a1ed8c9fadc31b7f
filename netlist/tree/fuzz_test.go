package tree

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"gapwise/netlist/source"

	"gopkg.in/yaml.v3"
)

// FuzzParse holds Parse to its promises on any bytes: no panic, no hang, every position
// inside the file, the keys of a map distinct, a problem wherever there is no tree, and
// the library's own view of the text wherever there is no problem.
func FuzzParse(f *testing.F) {
	for _, text := range layouts(f) {
		f.Add(text)
	}
	for _, text := range hostile {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		checkPromises(t, text)
	})
}

// failer is what testing.T and rapid.T share.
type failer interface {
	Helper()
	Fatalf(format string, args ...any)
}

// layouts are the examples of the language's reference.
func layouts(t testing.TB) [][]byte {
	names, err := filepath.Glob("testdata/layouts/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if len(names) != 4 {
		t.Fatalf("%d example layouts, want 4", len(names))
	}
	var texts [][]byte
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		texts = append(texts, text)
	}
	return texts
}

func checkPromises(t failer, text []byte) {
	t.Helper()
	file := &source.File{Name: "fuzz.yaml", Text: text}
	start := time.Now()
	root, problems := Parse(0, file)
	if took := time.Since(start); took > 5*time.Second {
		t.Fatalf("%d bytes took %v", len(text), took)
	}
	if root == nil && len(problems) == 0 {
		t.Fatalf("no tree and no problem for %q", text)
	}
	inside := func(what string, p source.Pos, width int) {
		if _, ok := file.Offset(p); !ok || p.File != 0 || width < 1 {
			t.Fatalf("%s at %+v, %d wide, is not in %q", what, p, width, text)
		}
	}
	for _, p := range problems {
		inside("problem "+p.Message, p.Pos, p.Width)
		if strings.HasPrefix(p.Message, "not understood") {
			t.Fatalf("only the library saw: %s in %q", p.Message, text)
		}
	}
	visit(root, func(n *Node) {
		inside("value "+n.Text, n.Pos, n.Width)
		keys := map[string]bool{}
		for _, f := range n.Fields {
			inside("key "+f.Key, f.KeyPos, f.KeyWidth)
			if keys[f.Key] {
				t.Fatalf("key %q twice in %q", f.Key, text)
			}
			keys[f.Key] = true
		}
	})
	if len(problems) == 0 {
		compareWithLibrary(t, root, text)
	}
}

func visit(n *Node, see func(*Node)) {
	if n == nil {
		return
	}
	see(n)
	for _, f := range n.Fields {
		visit(f.Value, see)
	}
	for _, item := range n.Items {
		visit(item, see)
	}
}

// compareWithLibrary decodes the untouched text by the library alone. It misreads a
// question mark inside brackets; there is nothing to compare then.
func compareWithLibrary(t failer, root *Node, text []byte) {
	t.Helper()
	if bytes.ContainsRune(text, '?') {
		return
	}
	plain, err := decode(text)
	if err != nil {
		t.Fatalf("no problem, but the library says %v in %q", err, text)
	}
	same(t, root, plain, text)
}

func same(t failer, n *Node, y *yaml.Node, text []byte) {
	t.Helper()
	if !n.IsEmpty() && (int(n.Pos.Line) != y.Line || int(n.Pos.Col) != y.Column) {
		t.Fatalf("%q at %d:%d, the library says %d:%d in %q", n.Text, n.Pos.Line, n.Pos.Col, y.Line, y.Column, text)
	}
	switch n.Kind {
	case Map:
		if y.Kind != yaml.MappingNode || len(y.Content) != 2*len(n.Fields) {
			t.Fatalf("map of %d fields, the library says kind %d of %d in %q", len(n.Fields), y.Kind, len(y.Content), text)
		}
		for i, f := range n.Fields {
			k := y.Content[2*i]
			if f.Key != k.Value || int(f.KeyPos.Line) != k.Line || int(f.KeyPos.Col) != k.Column {
				t.Fatalf("key %q at %v, the library says %q at %d:%d in %q", f.Key, f.KeyPos, k.Value, k.Line, k.Column, text)
			}
			same(t, f.Value, y.Content[2*i+1], text)
		}
	case List:
		if y.Kind != yaml.SequenceNode || len(y.Content) != len(n.Items) {
			t.Fatalf("list of %d, the library says kind %d of %d in %q", len(n.Items), y.Kind, len(y.Content), text)
		}
		for i, item := range n.Items {
			same(t, item, y.Content[i], text)
		}
	default:
		if y.Kind != yaml.ScalarNode || n.Text != y.Value {
			t.Fatalf("text %q, the library says kind %d %q in %q", n.Text, y.Kind, y.Value, text)
		}
	}
}
