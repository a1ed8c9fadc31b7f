package main

import (
	"bytes"
	"flag"
	"os"
	"regexp"
	"strings"
	"testing"

	"gapwise/netlist/reader"

	"gapwise/reports"
)

var updateReadme = flag.Bool("update-readme", false, "write README's sessions and tables anew")

// marked is a part of README that is made by the program: an HTML comment that says how,
// and one that ends it.
var marked = regexp.MustCompile(`(?s)<!-- (output: [^\n]*|rules|language|numbers) -->\n(.*?)<!-- end -->`)

// TestReadme runs every session of README and makes its tables, and compares.
func TestReadme(t *testing.T) {
	t.Chdir("../..")
	t.Setenv("COLUMNS", "80")
	text, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	parts := 0
	fresh := marked.ReplaceAllFunc(text, func(part []byte) []byte {
		parts++
		how := string(marked.FindSubmatch(part)[1])
		var b bytes.Buffer
		b.WriteString("<!-- " + how + " -->\n")
		switch how {
		case "rules":
			err = reports.RuleTable(&b)
		case "numbers":
			err = reports.NumbersPage(&b)
		case "language":
			err = reports.LanguageReference(&b)
		default:
			session(t, &b, strings.TrimPrefix(how, "output: "))
		}
		if err != nil {
			t.Fatal(err)
		}
		b.WriteString("<!-- end -->")
		return b.Bytes()
	})
	if parts < 7 {
		t.Errorf("README has %d parts made by the program, want at least 7", parts)
	}
	if *updateReadme {
		if err := os.WriteFile("README.md", fresh, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if !bytes.Equal(fresh, text) {
		t.Errorf("README differs from what the program prints; first difference:\n%s", difference(string(text), string(fresh)))
	}
}

// session runs a command line and writes it with what it printed.
func session(t *testing.T, b *bytes.Buffer, line string) {
	t.Helper()
	_, out, errText := run(words(line)...)
	if errText != "" {
		t.Errorf("gapwise %s says on stderr: %s", line, errText)
	}
	b.WriteString("\n```\n$ gapwise " + line + "\n" + out + "```\n\n")
}

// words parts a command line at blanks outside double quotes.
func words(line string) []string {
	var out []string
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			out = append(out, part)
			continue
		}
		out = append(out, strings.Fields(part)...)
	}
	return out
}

// difference shows the first line in which two texts differ.
func difference(old, fresh string) string {
	a, b := strings.Split(old, "\n"), strings.Split(fresh, "\n")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return "README:  " + a[i] + "\nprogram: " + b[i]
		}
	}
	return "one is longer than the other"
}

// TestReadmeCommands makes sure that the README's own commands are the ones that work, and
// that its example layout reads and is clean.
func TestReadmeCommands(t *testing.T) {
	t.Chdir("../..")
	text, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, command := range []string{"go run ./cmd/gapwise check testdata/tin-harbour/as-found.yaml\n", "go test ./...\n"} {
		if !strings.Contains(string(text), command) {
			t.Errorf("README does not have %q", command)
		}
	}
	_, after, found := strings.Cut(string(text), "```yaml\n")
	example, _, closed := strings.Cut(after, "```")
	if !found || !closed {
		t.Fatal("README has no example layout")
	}
	path := t.TempDir() + "/shelf.yaml"
	if err := os.WriteFile(path, []byte(example), 0o644); err != nil {
		t.Fatal(err)
	}
	if status, out, errText := run("check", "--strict", path); status != exitOK {
		t.Errorf("README's example ends with status %d:\n%s%s", status, out, errText)
	}
	for _, s := range reader.Reference() {
		if !strings.Contains(string(text), "#### "+s.Name+"\n") {
			t.Errorf("README does not document %s", s.Name)
		}
	}
}
