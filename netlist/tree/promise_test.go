package tree

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// scraps are what texts for TestPromisesOnScraps are made of.
var scraps = []string{
	"a", "b", "M1", "é", "日", "12 ft", "3,8 m", "x y", "~", "null",
	": ", ": ", ":", ", ", ",", "{", "}", "[", "]", "- ", "-", "? ", "?", " ",
	"\n", "\n", "\n  ", "\n  ", "\n    ", "\n   ", "\n- ", "\n---\n", "\n...\n", "\r\n",
	"#", " # c", " #c", "\"", "'", "\"q\"", "'q'", "''", "\\", "\\\"", "|", ">-", "&x ", "*x", "!t ", "<<", "@", "%", "`",
	"\t", "\u00a0", "\u200b", "\u202e", "\u200d", "\x00", "\xff", "\ufeff", "\u2028", "\u0085", "\r",
	"a: b", "a: {b: c}", "a: [b, c]", "\na: b", "\nc: d", "\n  e: f", "\n    g: h", "\n  i:", "\nj:", "\n- k: l",
}

// TestPromisesOnScraps holds Parse to the promises of FuzzParse on texts that look more
// like layouts than random bytes do.
func TestPromisesOnScraps(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		words := rapid.SliceOfN(rapid.SampledFrom(scraps), 0, 30).Draw(r, "scraps")
		checkPromises(r, []byte(strings.Join(words, "")))
	})
}
