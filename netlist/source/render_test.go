package source

import (
	"errors"
	"strings"
	"testing"
)

// render prints problems about one file.
func render(t *testing.T, text string, ps ...Problem) string {
	t.Helper()
	var b strings.Builder
	if err := (Files{{Name: "yard.yaml", Text: []byte(text)}}).Render(&b, ps); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func at(line, col int32, width int, message string) Problem {
	return Problem{Pos: Pos{Line: line, Col: col}, Width: width, Message: message}
}

func TestRenderForm(t *testing.T) {
	p := at(12, 8, 6, "unknown key in a track")
	p.Expected = "from, to, length, rail, use"
	p.Nearest = "length"
	got := render(t, strings.Repeat("\n", 11)+"  M1: {lenght: 3 ft}\n", p)
	want := `yard.yaml:12:8: unknown key in a track
   12 |   M1: {lenght: 3 ft}
      |        ^^^^^^
  expected: from, to, length, rail, use
  nearest: length
`
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestRenderOrder(t *testing.T) {
	files := Files{{Name: "a.yaml", Text: []byte("x: 1\ny: 2\n")}, {Name: "b.yaml", Text: []byte("z: 3\n")}}
	ps := []Problem{
		{Pos: Pos{File: 1, Line: 1, Col: 1}, Width: 1, Message: "in b"},
		{Pos: Pos{Line: 2, Col: 1}, Width: 1, Message: "second"},
		{Pos: Pos{Line: 1, Col: 4}, Width: 1, Message: "later in the line"},
		{Pos: Pos{Line: 1, Col: 1}, Width: 1, Message: "typed first"},
		{Pos: Pos{Line: 1, Col: 1}, Width: 1, Message: "and this at one place"},
		{Pos: Pos{Line: 1, Col: 1}, Width: 1, Message: "typed first"},
		{Pos: Pos{}, Message: "of the whole file"},
		{Pos: Pos{File: 9}, Message: "of no file", Expected: "one"},
	}
	before := ps[0]
	var b strings.Builder
	if err := files.Render(&b, ps); err != nil {
		t.Fatal(err)
	}
	want := `a.yaml: of the whole file
a.yaml:1:1: typed first
    1 | x: 1
      | ^
a.yaml:1:1: and this at one place
    1 | x: 1
      | ^
a.yaml:1:4: later in the line
    1 | x: 1
      |    ^
a.yaml:2:1: second
    2 | y: 2
      | ^
b.yaml:1:1: in b
    1 | z: 3
      | ^
of no file
  expected: one
`
	if b.String() != want {
		t.Errorf("got\n%s\nwant\n%s", b.String(), want)
	}
	if ps[0] != before {
		t.Error("the caller's list was sorted")
	}
}

func TestRenderExcerpts(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{
			"no such line", "a\n", "yard.yaml:3:4: m\n",
		}, {
			"last line without its end", "a\nb\nabcdef", `
yard.yaml:3:4: m
    3 | abcdef
      |    ^^
`,
		}, {
			"carriage returns", "a\r\nb\r\nabcdef\r\n", `
yard.yaml:3:4: m
    3 | abcdef
      |    ^^
`,
		}, {
			"behind the end", "\n\nab\n", `
yard.yaml:3:4: m
    3 | ab
      |   ^
`,
		}, {
			"wide characters", "\n\n日本語鉄道\n", `
yard.yaml:3:4: m
    3 | 日本語鉄道
      |       ^^^^
`,
		}, {
			"combining characters", "\n\nae\u0301e\u0301fg\n", `
yard.yaml:3:4: m
    3 | ae` + "\u0301" + `e` + "\u0301" + `fg
      |   ^
`,
		}, {
			"tabs", "\n\n\ta\tbcd\n", `
yard.yaml:3:4: m
    3 | \ta\tbcd
      |      ^^
`,
		}, {
			"escapes and direction marks", "\n\n\x1b[3\u202em\x07\u200bx\n", `
yard.yaml:3:4: m
    3 | \x1b[3\u202em\x07\u200bx
      |       ^^^^^^^
`,
		}, {
			"no UTF-8", "\n\n\xff\xc3a\xe2\x28b\n", `
yard.yaml:3:4: m
    3 | \xff\xc3a\xe2(b
      |          ^^^^^
`,
		}, {
			"a byte order mark", ByteOrderMark + "\n\nabcdef\n", `
yard.yaml:3:4: m
    3 | abcdef
      |    ^^
`,
		},
	} {
		t.Run(tt.name, func(t *testing.T) {
			want := strings.TrimPrefix(tt.want, "\n")
			if got := render(t, tt.text, at(3, 4, 2, "m")); got != want {
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
		})
	}
}

func TestRenderLineNumbers(t *testing.T) {
	got := render(t, strings.Repeat("\n", 1234567)+"ab\n", at(1234568, 2, 1, "m"))
	want := `yard.yaml:1234568:2: m
1234568 | ab
        |  ^
`
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// TestRenderLongLines cuts a line of 1000 characters around carets at its start, in
// its middle and at its end.
func TestRenderLongLines(t *testing.T) {
	line := strings.Repeat("0123456789", 100)
	for _, tt := range []struct {
		col   int32
		width int
		want  string
	}{
		{1, 3, `yard.yaml:1:1: m
    1 | 01234567890123456789012345678901234567890123456789012345678901234567890123456789012345678...
      | ^^^
`},
		{501, 3, `yard.yaml:1:501: m
    1 | ...89012345678901234567890123456789012345678901234567890123456789012345678901234567890123...
      |                                              ^^^
`},
		{998, 3, `yard.yaml:1:998: m
    1 | ...12345678901234567890123456789012345678901234567890123456789012345678901234567890123456789
      |                                                                                          ^^^
`},
		{1, 900, `yard.yaml:1:1: m
    1 | 0123456789012345678901234567890123456...0123456789012345678901234567890123456789012345678...
      | ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
`},
	} {
		if got := render(t, line, at(1, tt.col, tt.width, "m")); got != tt.want {
			t.Errorf("got\n%s\nwant\n%s", got, tt.want)
		}
	}
}

func TestRenderHostileNames(t *testing.T) {
	p := at(1, 1, 1, "no piece \x1b]0;owned\x07; \u202enearest\n\ttwo")
	p.Expected = "a\u2066b\r"
	p.Nearest = strings.Repeat("x", 9000)
	var b strings.Builder
	if err := (Files{{Name: "ya\x1b[2Jrd.yaml", Text: []byte("a\n")}}).Render(&b, []Problem{p}); err != nil {
		t.Fatal(err)
	}
	want := `ya\x1b[2Jrd.yaml:1:1: no piece \x1b]0;owned\x07; \u202enearest\n\ttwo
    1 | a
      | ^
  expected: a\u2066b\r
  nearest: ` + strings.Repeat("x", 397) + "...\n"
	if b.String() != want {
		t.Errorf("got\n%s\nwant\n%s", b.String(), want)
	}
}

type full struct{}

var errFull = errors.New("no room")

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestRenderSaysWhenItCannotWrite(t *testing.T) {
	err := (Files{{Name: "a", Text: []byte("b")}}).Render(full{}, []Problem{at(1, 1, 1, "m")})
	if !errors.Is(err, errFull) {
		t.Errorf("error is %v, want %v", err, errFull)
	}
}
