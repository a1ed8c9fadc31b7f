package tree

import (
	"fmt"
	"strings"
	"testing"

	"gapwise/netlist/source"
)

func parse(text string) (*Node, []source.Problem) {
	return Parse(0, &source.File{Name: "yard.yaml", Text: []byte(text)})
}

// TestLimits takes each limit exactly and then exceeds it by one.
func TestLimits(t *testing.T) {
	comment := "# " + strings.Repeat("x", 1000) + "\n"
	for _, tt := range []struct {
		name, fits, over string
		line, col        int32
		message          string
	}{
		{
			"bytes of a file", fill("a: b\n", comment, maxBytes), fill("a: b\n", comment, maxBytes+1),
			1, 1, "over the bound, a layout file of 8 MiB",
		}, {
			"brackets", "a: " + nest("[", "]", 63), "a: " + nest("[", "]", 64),
			1, 67, "over the bound, 64 levels of maps and lists",
		}, {
			"dashes", strings.Repeat("- ", 64) + "a", strings.Repeat("- ", 65) + "a",
			1, 129, "over the bound, 64 levels of maps and lists",
		}, {
			"indents", indents(64), indents(65),
			65, 65, "over the bound, 64 levels of maps and lists",
		}, {
			"blanks before a line", fill("", " ", maxIndent) + "a: b", fill("", " ", maxIndent+1) + "a: b",
			1, 1002, "over the bound, 1000 blanks before a line",
		}, {
			"characters of a text with question marks", "a: [" + strings.Repeat("?", maxText) + "]", "a: [" + strings.Repeat("?", maxText+1) + "]",
			1, 5, "over the bound, a text of 10,000 characters",
		}, {
			"characters of a text", "a: " + strings.Repeat("½", maxText), "a: " + strings.Repeat("½", maxText+1),
			1, 4, "over the bound, a text of 10,000 characters",
		}, {
			"characters of a quoted text", "a: '" + strings.Repeat("x", maxText-2) + "'", "a: '" + strings.Repeat("x", maxText-1) + "'",
			1, 4, "over the bound, a text of 10,000 characters",
		}, {
			"characters of a key", strings.Repeat("x", maxKey) + ": a", strings.Repeat("x", maxKey+1) + ": a",
			1, 1, "over the bound, a key of 1000 characters",
		},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if root, problems := parse(tt.fits); root == nil || len(problems) > 0 {
				t.Errorf("what fits is refused: %v", problems)
			}
			_, problems := parse(tt.over)
			want := source.Problem{Pos: source.Pos{Line: tt.line, Col: tt.col}, Width: 1, Message: tt.message}
			if len(problems) != 1 || problems[0] != want {
				t.Errorf("told %v, want %v", problems, want)
			}
		})
	}
}

// fill returns start and then more again and again, cut to size bytes.
func fill(start, more string, size int) string {
	return (start + strings.Repeat(more, size/len(more)+1))[:size]
}

func nest(open, shut string, depth int) string {
	return strings.Repeat(open, depth) + strings.Repeat(shut, depth)
}

func indents(depth int) string {
	var b strings.Builder
	for i := range depth {
		fmt.Fprintf(&b, "%*sa:\n", i, "")
	}
	return b.String()
}

func TestTooManyProblems(t *testing.T) {
	for name, line := range map[string]string{"found by the scan": "a%d: *x\n", "found in the tree": "a%d: null\n"} {
		var b strings.Builder
		for i := range maxProblems + 1 {
			fmt.Fprintf(&b, line, i)
		}
		root, problems := parse(b.String())
		if root != nil || len(problems) != maxProblems+1 {
			t.Fatalf("%s: %d problems, tree %v", name, len(problems), root)
		}
		last := problems[maxProblems]
		if last.Message != "over 1000 mistakes; the rest is not shown" || last.Pos.Line != maxProblems {
			t.Errorf("%s: the last is %v", name, last)
		}
	}
}

func TestUTF16(t *testing.T) {
	root, problems := parse("\xff\xfea\x00:\x00 \x00b\x00")
	want := source.Problem{Pos: source.Pos{Line: 1, Col: 1}, Width: 1, Message: "not UTF-8 text but UTF-16; save it as UTF-8"}
	if root != nil || len(problems) != 1 || problems[0] != want {
		t.Errorf("told %v, tree %v", problems, root)
	}
}

// TestOnlyTheLibrarySees is the way of last resort: a colon so far behind its key that
// the library no longer connects them.
func TestOnlyTheLibrarySees(t *testing.T) {
	root, problems := parse("a: b\n  \n# c\nkey" + strings.Repeat(" ", 1100) + ": d\n")
	want := source.Problem{
		Pos: source.Pos{Line: 4, Col: 1}, Width: 3,
		Message: "not understood, here or near: could not find expected ':'",
	}
	if root != nil || len(problems) != 1 || problems[0] != want {
		t.Errorf("told %v, tree %v", problems, root)
	}
}

// TestOddCharactersOfALine takes as many in a comment, where they do no harm, as are
// remembered until the comment is known, and then one more.
func TestOddCharactersOfALine(t *testing.T) {
	line := "a: b # " + strings.Repeat("\u200b", maxOddities)
	if _, problems := parse(line); len(problems) > 0 {
		t.Errorf("told %v", problems)
	}
	_, problems := parse(line + "\u200b")
	want := source.Problem{
		Pos: source.Pos{Line: 1, Col: 8 + maxOddities}, Width: 1,
		Message: "an invisible character (U+200B); delete it",
	}
	if len(problems) != 1 || problems[0] != want {
		t.Errorf("told %v, want %v", problems, want)
	}
}
