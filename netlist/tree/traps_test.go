package tree

import (
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gapwise/netlist/source"

	"github.com/rogpeppe/go-internal/txtar"
)

var update = flag.Bool("update", false, "rewrite the wanted texts of testdata/traps")

// TestTraps compares the whole of what is told about each mistake, and the tree that
// readers get all the same. In the layouts <U+00A0> stands for that character and
// <byte ff> for that byte; in the trees ! marks what is Bad.
func TestTraps(t *testing.T) {
	names, err := filepath.Glob("testdata/traps/*.txtar")
	if err != nil || len(names) == 0 {
		t.Fatal("no traps", err)
	}
	for _, name := range names {
		archive, err := txtar.ParseFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if len(archive.Files)%3 != 0 {
			t.Fatalf("%s: want layout, told and tree of each trap", name)
		}
		for i := 0; i < len(archive.Files); i += 3 {
			layout, told, tree := &archive.Files[i], &archive.Files[i+1], &archive.Files[i+2]
			t.Run(layout.Name, func(t *testing.T) {
				gotTold, gotTree := tell(t, string(layout.Data))
				if *update {
					told.Data, tree.Data = []byte(gotTold), []byte(gotTree)
					return
				}
				if gotTold != string(told.Data) {
					t.Errorf("told:\n%s\nwant:\n%s", gotTold, told.Data)
				}
				if gotTree != string(tree.Data) {
					t.Errorf("tree:\n%s\nwant:\n%s", gotTree, tree.Data)
				}
			})
		}
		if *update {
			if err := os.WriteFile(name, txtar.Format(archive), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// tell parses a layout and returns what is told and the tree.
func tell(t *testing.T, layout string) (told, tree string) {
	t.Helper()
	file := &source.File{Name: "yard.yaml", Text: []byte(unescape(t, layout))}
	root, problems := Parse(0, file)
	var b strings.Builder
	if err := (source.Files{file}).Render(&b, problems); err != nil {
		t.Fatal(err)
	}
	return b.String(), outline(root) + "\n"
}

var escaped = regexp.MustCompile(`<(U\+|byte )([0-9A-Fa-f]+)>`)

func unescape(t *testing.T, s string) string {
	t.Helper()
	return escaped.ReplaceAllStringFunc(s, func(m string) string {
		parts := escaped.FindStringSubmatch(m)
		n, err := strconv.ParseUint(parts[2], 16, 21)
		if err != nil {
			t.Fatal(err)
		}
		if parts[1] == "byte " {
			return string([]byte{byte(n)})
		}
		return string(rune(n))
	})
}

func outline(n *Node) string {
	if n == nil {
		return "none"
	}
	bad := ""
	if n.Bad {
		bad = "!"
	}
	var parts []string
	switch n.Kind {
	case Map:
		for _, f := range n.Fields {
			parts = append(parts, f.Key+": "+outline(f.Value))
		}
		return bad + "{" + strings.Join(parts, ", ") + "}"
	case List:
		for _, item := range n.Items {
			parts = append(parts, outline(item))
		}
		return bad + "[" + strings.Join(parts, ", ") + "]"
	}
	if n.Quoted {
		return bad + strconv.Quote(n.Text)
	}
	return bad + n.Text
}
