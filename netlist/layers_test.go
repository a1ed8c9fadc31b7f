package netlist_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// ranks are the packages of the module from the lowest up. A package imports only from
// lower lines; packages on one line do not know each other.
var ranks = [][]string{
	{"netlist/source", "netlist/edit", "netlist/solve", "netlist/dcc", "rules/proof/oracle"}, // the oracle knows nothing of the rest
	{"netlist/quantity"},
	{"netlist/tree"},
	{"netlist/layout"},
	{"netlist/reader", "netlist/circuit", "netlist/generate", "netlist/conductor"},
	{"netlist/format", "netlist/network", "netlist/amend"},
	{"districts/partition", "districts/settings"},
	{"districts"},
	{"districts/power", "districts/difference"},
	{"rules/finding"},
	{"rules/rule"},
	{"rules/catalogue"},
	{"rules"},
	{"rules/gauge", "rules/split", "rules/audit", "rules/fixes"},
	{"reports", "rules/proof"},
	{"cmd/gapwise"},
}

// forTests are packages that only tests, and each other, may import.
var forTests = []string{"netlist/generate", "rules/proof", "rules/proof/oracle"}

// module is the module's path with a slash, which package paths here leave out.
const module = "gapwise/"

// importLine is one import of one file.
type importLine struct {
	file     string // with its folder, from the module's root
	from, to string
	test     bool
}

// TestImportsPointDown reads the imports of every Go file of the module.
func TestImportsPointDown(t *testing.T) {
	lines := readImports(t, "..")
	for _, l := range lines {
		if wrong := wrongImport(l); wrong != "" {
			t.Errorf("%s imports %s: %s", l.file, l.to, wrong)
		}
	}
	if len(lines) < 20 {
		t.Errorf("only %d imports between packages seen", len(lines))
	}
}

// wrongImport says what is wrong with an import, "" if nothing is.
func wrongImport(l importLine) string {
	from, to := rank(l.from), rank(l.to)
	switch {
	case from < 0:
		return l.from + " has no line in ranks"
	case to < 0:
		return l.to + " has no line in ranks"
	case l.test && (layer(l.from) == layer(l.to) || to < from):
		return "" // a test may look around in its own layer
	case l.test:
		return "a test of " + layer(l.from) + " knows nothing of " + layer(l.to)
	case slices.Contains(forTests, l.to) && !slices.Contains(forTests, l.from):
		return "only tests may"
	case to >= from:
		return "imports point down, and " + l.to + " is not below " + l.from
	default:
		return ""
	}
}

func rank(pkg string) int {
	return slices.IndexFunc(ranks, func(line []string) bool { return slices.Contains(line, pkg) })
}

// layer is the first folder of a package.
func layer(pkg string) string {
	first, _, _ := strings.Cut(pkg, "/")
	return first
}

// readImports lists the imports of one package of the module by another, below root.
func readImports(t *testing.T, root string) []importLine {
	t.Helper()
	var lines []importLine
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		name := d.Name()
		switch {
		case err != nil:
			return err
		case d.IsDir() && path != root && (strings.HasPrefix(name, ".") || name == "testdata"):
			return filepath.SkipDir
		case d.IsDir() || !strings.HasSuffix(name, ".go"):
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		file, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		from := filepath.ToSlash(filepath.Dir(file))
		for _, spec := range f.Imports {
			to, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return err
			}
			if pkg, ours := strings.CutPrefix(to, module); ours && pkg != from {
				lines = append(lines, importLine{filepath.ToSlash(file), from, pkg, strings.HasSuffix(name, "_test.go")})
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return lines
}

// TestWrongImports tries the rule itself.
func TestWrongImports(t *testing.T) {
	for _, c := range []struct {
		from, to string
		test     bool
		right    bool
	}{
		{"netlist/reader", "netlist/layout", false, true},
		{"cmd/gapwise", "netlist/source", false, true},
		{"netlist/layout", "netlist/reader", false, false},
		{"netlist/circuit", "netlist/reader", false, false},
		{"netlist/circuit", "netlist/circuit", false, false},
		{"districts", "rules/finding", false, false},
		{"rules/finding", "rules", false, false},
		{"rules", "netlist/generate", false, false},
		{"rules", "netlist/generate", true, true},
		{"netlist/layout", "netlist/reader", true, true},
		{"netlist/reader", "districts", true, false},
		{"reports", "cmd/gapwise", true, false},
		{"rules/proof", "netlist/generate", false, true},
		{"rules/proof/oracle", "netlist/quantity", false, false},
		{"reports", "rules/proof", false, false},
		{"netlist/nowhere", "netlist/source", false, false},
		{"reports", "netlist/nowhere", true, false},
	} {
		wrong := wrongImport(importLine{from: c.from, to: c.to, test: c.test})
		if (wrong == "") != c.right {
			t.Errorf("%s importing %s (test %t): %q", c.from, c.to, c.test, wrong)
		}
	}
}
