package rules_test

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// A want is a finding that a layout expects on a line, said in a comment there:
//
//   - 12 ft   # want gap-one-rail "is cut in the left rail only"
//
// One finding may be wanted more than once, to hold it to several pieces of its text:
// two wants of one rule on one line may be met by one finding. `# accepted` in place of
// `# want` is met by an accepted finding only. The severity does not matter: a note must
// be wanted as a fault must.
type want struct {
	line     int32
	rule     string
	text     string
	accepted bool
}

func (w want) String() string {
	return fmt.Sprintf("line %d: %s %q", w.line, w.rule, w.text)
}

var wantForm = regexp.MustCompile(`^(want|accepted) ([a-z0-9-]+) ("(?:[^"\\]|\\.)*")\s*`)

// readWants reads the wants of a layout from its source lines.
func readWants(source string) ([]want, error) {
	var out []want
	for i, line := range strings.Split(source, "\n") {
		comment, found := commentOf(line)
		if !found {
			continue
		}
		ws, err := wantsIn(comment)
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", i+1, err)
		}
		for _, w := range ws {
			w.line = int32(i + 1)
			out = append(out, w)
		}
	}
	return out, nil
}

// commentOf is what follows the # of a line that starts a comment: one at the start of the
// line or after a blank, and not inside quotes.
func commentOf(line string) (string, bool) {
	quote := byte(0)
	for i := range len(line) {
		c := line[i]
		blank := i == 0 || line[i-1] == ' ' || line[i-1] == '\t'
		switch {
		case quote == '"' && c == '\\':
			return commentAfterEscapes(line, i)
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '#' && blank:
			return line[i+1:], true
		case (c == '"' || c == '\'') && (blank || strings.IndexByte("[{,:", line[i-1]) >= 0):
			quote = c
		}
	}
	return "", false
}

// commentAfterEscapes goes on inside a double-quoted text that has escapes.
func commentAfterEscapes(line string, from int) (string, bool) {
	for i := from; i < len(line); i++ {
		switch line[i] {
		case '\\':
			i++
		case '"':
			return commentOf(line[i+1:])
		}
	}
	return "", false
}

// wantsIn reads the wants of one comment. A comment without the word is no want; one that
// starts a want and does not end it is a mistake.
func wantsIn(comment string) ([]want, error) {
	var out []want
	rest := strings.TrimSpace(comment)
	for strings.HasPrefix(rest, "want ") || strings.HasPrefix(rest, "accepted ") {
		m := wantForm.FindStringSubmatch(rest)
		if m == nil {
			return nil, fmt.Errorf("a want is `# want RULE \"text\"`, not %q", rest)
		}
		text, err := strconv.Unquote(m[3])
		if err != nil || text == "" {
			return nil, fmt.Errorf("the text of a want is one quoted string: %s", m[3])
		}
		out = append(out, want{rule: m[2], text: text, accepted: m[1] == "accepted"})
		rest = strings.TrimPrefix(rest[len(m[0]):], "# ")
	}
	if len(out) > 0 && rest != "" {
		return nil, fmt.Errorf("after a want comes another want, not %q", rest)
	}
	return out, nil
}

func TestReadWants(t *testing.T) {
	for _, c := range []struct {
		line string
		want string // rules and texts, or the mistake
	}{
		{`plain: text`, ""},
		{`- 12 ft   # an ordinary remark`, ""},
		{`- 12 ft   # want gap-one-rail "cut"`, `gap-one-rail "cut"`},
		{`# want gap-one-rail "cut"`, `gap-one-rail "cut"`},
		{`- 12 ft # want a "x" # want b "y"`, `a "x", b "y"`},
		{`- 12 ft # want a "x # want b" # want b "y"`, `a "x # want b", b "y"`},
		{`- 12 ft # want a "say \"so\""`, `a "say \"so\""`},
		{`- {label: "bay # want a \"x\""}`, ""},
		{`- {label: "a \" b", at: 2 ft} # want a "x"`, `a "x"`},
		{`- {label: 'bay # want'} # want a "x"`, `a "x"`},
		{`- 12' 6" # want a "x"`, `a "x"`},
		{`- 12 ft#want a "x"`, ""},
		{`- 12 ft # accepted a "x"`, `accepted a "x"`},
		{`- 12 ft # want a`, "error"},
		{`- 12 ft # want a x`, "error"},
		{`- 12 ft # want a ""`, "error"},
		{`- 12 ft # want a "x" and more`, "error"},
		{`- 12 ft # want A "x"`, "error"},
	} {
		ws, err := readWants(c.line)
		var got []string
		for _, w := range ws {
			text := fmt.Sprintf("%s %q", w.rule, w.text)
			if w.accepted {
				text = "accepted " + text
			}
			got = append(got, text)
		}
		text := strings.Join(got, ", ")
		if err != nil {
			text = "error"
		}
		if text != c.want {
			t.Errorf("%s: read %s (%v), want %s", c.line, text, err, c.want)
		}
	}
}
