package source

import (
	"fmt"
	"strings"
	"testing"

	"github.com/clipperhouse/displaywidth"
	"pgregory.net/rapid"
)

// TestCaretUnderToken finds in the printed lines what stands above the carets.
func TestCaretUnderToken(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		// A token that starts or ends in letters, so that no mark joins its neighbours.
		before := anyText().Draw(r, "before") + "("
		token := "<" + anyText().Draw(r, "token") + ">"
		after := ")" + anyText().Draw(r, "after")
		line := strings.NewReplacer("\n", "", "\r", "").Replace
		before, token, after = line(before), line(token), line(after)
		if strings.HasPrefix(before, ByteOrderMark) {
			r.Skip("a byte order mark is no character of the line")
		}
		p := at(1, int32(len([]rune(before)))+1, len([]rune(token)), "m")
		var b strings.Builder
		if err := (Files{{Name: "f", Text: []byte(before + token + after)}}).Render(&b, []Problem{p}); err != nil {
			r.Fatal(err)
		}
		lines := strings.Split(b.String(), "\n")
		excerpt, carets := lines[1], lines[2]
		if w := displaywidth.String(excerpt); w > 100 {
			r.Fatalf("%d cells wide: %s", w, excerpt)
		}
		from := strings.IndexByte(carets, '^')
		to := from + strings.Count(carets, "^")
		want := Safe(token)
		if displaywidth.String(want) > maxCaret {
			want = displaywidth.TruncateString(want, maxCaret, cutMark)
		}
		if got := cut(excerpt, from, to); got != want {
			r.Fatalf("carets under %q, want %q in\n%s", got, want, strings.Join(lines, "\n"))
		}
	})
}

// cut returns what a terminal shows of s in the cells from..to.
func cut(s string, from, to int) string {
	var b strings.Builder
	g := displaywidth.StringGraphemes(s)
	for at := 0; g.Next(); at += g.Width() {
		if at >= from && at < to {
			b.WriteString(g.Value())
		}
	}
	return b.String()
}

func TestOffset(t *testing.T) {
	f := &File{Text: []byte(ByteOrderMark + "aé\r\n\n日b")}
	for _, tt := range []struct {
		line, col int32
		want      string // what stands from there on; "no" for a place outside
	}{
		{1, 1, "aé\r\n\n日b"},
		{1, 2, "é\r\n\n日b"},
		{1, 3, "\r\n\n日b"},
		{1, 4, "no"},
		{2, 1, "\n日b"},
		{2, 2, "no"},
		{3, 1, "日b"},
		{3, 2, "b"},
		{3, 3, ""},
		{3, 4, "no"},
		{4, 1, "no"},
		{0, 1, "no"},
		{1, 0, "no"},
	} {
		t.Run(fmt.Sprintf("%d:%d", tt.line, tt.col), func(t *testing.T) {
			got := "no"
			if offset, ok := f.Offset(Pos{Line: tt.line, Col: tt.col}); ok {
				got = string(f.Text[offset:])
			}
			if got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

func TestLine(t *testing.T) {
	f := &File{Text: []byte(ByteOrderMark + "a\r\n\nb")}
	for line, want := range map[int32]string{0: "", 1: "a", 2: "", 3: "b", 4: ""} {
		if got := string(f.Line(line)); got != want {
			t.Errorf("line %d is %q, want %q", line, got, want)
		}
	}
}
