package tree

import "strings"

// hostile are texts made to break a reader, and some that once did.
var hostile = []string{
	"", "\n", "#", "\ufeff", "---", "--- a", "...", "%YAML 1.1\n---\n",
	"a: b: c: d", "a:b", "a :b", ": a", "?", "? a\n: b", "-", "- - - a", "-a",
	"[", "]", "{", "}", "[}", "{]", "[[", "{a", "{a: b", "{a: [b}", "a: {b}}", ",", "a: ,",
	"a: [b c: d, , e]", "{a b c}", "[a, b]: c", "{[a]: b}", "a: {? b}", "a: [?]", "a: {b: c?d}",
	"a: &b c\nd: *b", "a: *b", "<<: {a: b}", "a: !!int 3", "a: !<x> y", "&a b: c",
	"a: |\n b\n c", "a: >+2\n  b", "a: | b", "- |\n x\n- y",
	"a: \"b", "a: 'b", "a: \"b\" c", "a: 'b''c' d", "a: \"\\x41\\u202e\"", "\"a\": b", "'a' : b", "a: \"\\", "{\"a\":b}",
	"\ta: b", "a:\tb", "a: b\t# c", "a: \"\t\"", "a\u00a0: b", "a: \u3000b", "a: b\u200bc", "a: \u202eb", "a: '\u00a0'",
	"a: \x00", "\xff\xfea\x00", "a: \xc3", "a: \xed\xa0\x80", "a: \u2028b", "a: b\rc: d", "a: b\r\nc: d\r\n",
	"a:\n   b: c\n  d: e\n", "a:\n  b: c\n    d: e\n", "  a: b\nc: d\n", "a: b\n c\n", "a:\n- b\n- c\nd: e\n- f\n",
	"a: 3,8 m", "a: [1,2,3]", "a: {b: 1,200 ft, c: 0,8 m}", "a,b: c", "3,8 m: x",
	"a: #b", "a: b #c", "#a", "##", "a: {b: c #d}", "a: {b: c} # d\ne: f #g",
	"a: {b: c\nd: e\nf: g", "a: [b,\nc: {d: e}\n", "a: {\n}\n", "a:\n  {b: c}\nd: [\ne]\n",
	"0000000:00,", "{#", "a: \"q\": ", "{a\n: }", "a: {? b}",
	"a: ~\nb: null\n", "a: b\na: c\n", "a: {b: c, b: d}", "\"a\": b\na: c",
	strings.Repeat("[", 100), strings.Repeat("- ", 100), strings.Repeat("a: {", 70), strings.Repeat("{a: ", 10) + "}",
	strings.Repeat("x", 11000), "a: " + strings.Repeat("x", 11000), strings.Repeat("x", 1100) + ": a", "a: [" + strings.Repeat("b,", 500) + "]",
}
