package source

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func TestSafe(t *testing.T) {
	for _, tt := range []struct{ in, want string }{
		{"", ""},
		{"M1 @ 4 ft", "M1 @ 4 ft"},
		{`C:\yard`, `C:\yard`},
		{"57' 6½\" 10 kΩ 35 °C mm² 鉄道", "57' 6½\" 10 kΩ 35 °C mm² 鉄道"},
		{"a\tb\nc\rd", `a\tb\nc\rd`},
		{"\x00\x1b[31m\x7f\u009b", `\x00\x1b[31m\x7f\u009b`},
		{"\u202e\u2066\u200b\u200d\ufeff\u00ad", `\u202e\u2066\u200b\u200d\ufeff\u00ad`},
		{"a\u00a0b\u3000c", `a\u00a0b\u3000c`},
		{"\u3164\u2800", `\u3164\u2800`},
		{"\U000e0041\ue000\U0010ffff", `\U000e0041\ue000\U0010ffff`},
		{"\xff\xc3(", `\xff\xc3(`},
		{"\ufffd", "\ufffd"},
		{"o\u0308", "o\u0308"},
		{"o" + strings.Repeat("\u0308", 5), "o" + strings.Repeat("\u0308", 3) + `\u0308\u0308`},
	} {
		if got := Safe(tt.in); got != tt.want {
			t.Errorf("Safe(%q) is %q, want %q", tt.in, got, tt.want)
		}
	}
}

// anyText draws texts with many of the characters that do harm.
func anyText() *rapid.Generator[string] {
	return rapid.StringOf(rapid.OneOf(
		rapid.RuneFrom([]rune("ab: {é½日\t\x1b\x07\u0308\u0308\u202e\u200b\u00a0\ufeff\U0001f682")),
		rapid.Rune(),
	))
}

func TestSafeIsSafe(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		raw := anyText().Draw(r, "text") + string(rapid.SliceOfN(rapid.Byte(), 0, 5).Draw(r, "bytes"))
		safe := Safe(raw)
		if !utf8.ValidString(safe) {
			r.Fatalf("%q is no UTF-8", safe)
		}
		for _, c := range safe {
			if !unicode.IsPrint(c) {
				r.Fatalf("%q has %U", safe, c)
			}
		}
		if again := Safe(safe); again != safe {
			r.Fatalf("%q becomes %q", safe, again)
		}
	})
}
