package edit

import (
	"errors"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestApply(t *testing.T) {
	const text = "length: 12ft"
	for _, c := range []struct {
		edits []Edit
		want  string
	}{
		{nil, text},
		{[]Edit{{10, 10, " "}}, "length: 12 ft"},
		{[]Edit{{10, 12, " in"}, {0, 6, "bridge"}}, "bridge: 12 in"},
		{[]Edit{{0, 0, "a"}, {0, 0, "b"}, {0, 6, "c"}}, "abc: 12ft"},
		{[]Edit{{0, 6, "c"}, {6, 6, "d"}, {6, 8, "e"}}, "cde12ft"},
		{[]Edit{{12, 12, "\n"}}, text + "\n"},
		{[]Edit{{0, 12, ""}}, ""},
	} {
		got, err := Apply([]byte(text), c.edits)
		if err != nil || string(got) != c.want {
			t.Errorf("%v: %q, %v; want %q", c.edits, got, err, c.want)
		}
	}
}

func TestRefused(t *testing.T) {
	const text = "length"
	for _, c := range []struct {
		edits   []Edit
		overlap bool
		message string
	}{
		{[]Edit{{0, 3, ""}, {2, 4, ""}}, true, "an edit of bytes 2 to 4 overlaps one of 0 to 3"},
		{[]Edit{{1, 1, "x"}, {0, 3, ""}}, true, "an edit of bytes 1 to 1 overlaps one of 0 to 3"},
		{[]Edit{{0, 3, "a"}, {0, 3, "b"}}, true, "an edit of bytes 0 to 3 overlaps one of 0 to 3"},
		{[]Edit{{-1, 0, ""}}, false, "an edit of bytes -1 to 0 lies outside the text"},
		{[]Edit{{0, 7, ""}}, false, "an edit of bytes 0 to 7 lies outside the text"},
		{[]Edit{{3, 2, ""}}, false, "an edit of bytes 3 to 2 lies outside the text"},
	} {
		got, err := Apply([]byte(text), c.edits)
		var refused *SpanError
		if !errors.As(err, &refused) || (refused.Against != nil) != c.overlap || err.Error() != c.message || got != nil {
			t.Errorf("%v: %q, %v", c.edits, got, err)
		}
	}
}

// Edits made from a text cut into pieces give the pieces' replacements, in whatever order
// the edits come.
func TestPieces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pieces := rapid.SliceOf(rapid.StringN(1, 5, -1)).Draw(t, "pieces")
		var text, want string
		var edits []Edit
		for _, p := range pieces {
			with := p
			if rapid.Bool().Draw(t, "edited") {
				with = rapid.StringN(0, 5, -1).Draw(t, "with")
				edits = append(edits, Edit{len(text), len(text) + len(p), with})
			}
			text += p
			want += with
		}
		edits = rapid.Permutation(edits).Draw(t, "order")
		before := slices.Clone(edits)
		got, err := Apply([]byte(text), edits)
		if err != nil || string(got) != want {
			t.Fatalf("%q %v: %q, %v; want %q", text, edits, got, err, want)
		}
		if !slices.Equal(before, edits) {
			t.Fatal("the edits given were changed")
		}
	})
}
