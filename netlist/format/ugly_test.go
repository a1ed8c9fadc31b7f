package format

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/generate"
	"gapwise/netlist/source"
	"gapwise/netlist/tree"

	"pgregory.net/rapid"
)

// unit is a number and a unit as the layouts here type them.
var unit = regexp.MustCompile(`(\d) (ft|in|mm|cm|m|A|V|s|ms|mA|mΩ|kΩ|Ω|AWG)\b`)

// plainEntry is an entry in braces with nothing in brackets inside, and no places for keys.
var plainEntry = regexp.MustCompile(`\{[a-z-]+: [^{}\[\],]*(, [a-z-]+: [^{}\[\],]*)*\}`)

// uglify changes what a formatter puts right: blanks, empty lines, indentation, the order of
// keys; and adds comments.
func uglify(r *rand.Rand, text string) string {
	var b strings.Builder
	blanks := func(least int) string { return strings.Repeat(" ", least+r.IntN(3)) }
	wide := 1 + r.IntN(4)
	comments := 0
	comment := func() string {
		comments++
		return fmt.Sprintf("# no. %d", comments)
	}
	shuffle := func(entry string) string {
		fields := strings.Split(entry[1:len(entry)-1], ", ")
		r.Shuffle(len(fields), func(i, j int) { fields[i], fields[j] = fields[j], fields[i] })
		return "{" + strings.Join(fields, ", ") + "}"
	}
	for line := range strings.Lines(text) {
		line = strings.TrimRight(line, "\n")
		body := strings.TrimLeft(line, " ")
		if body == "" {
			continue
		}
		indent := strings.Repeat(" ", (len(line)-len(body))*wide)
		switch r.IntN(10) {
		case 0:
			b.WriteString("\n" + blanks(0) + "\n")
		case 1:
			b.WriteString(indent + comment() + blanks(0) + "\n")
		}
		ownWords := strings.Contains(body, "label") || strings.Contains(body, "because")
		if !strings.ContainsAny(body, `"'#`) && !ownWords && r.IntN(2) == 0 {
			body = plainEntry.ReplaceAllStringFunc(body, shuffle)
			body = strings.ReplaceAll(body, ", ", ","+blanks(1))
			body = strings.ReplaceAll(body, ": ", ":"+blanks(1))
			body = strings.ReplaceAll(body, "{", "{"+blanks(0))
			body = strings.ReplaceAll(body, "]", blanks(0)+"]")
			body = strings.ReplaceAll(body, " @ ", blanks(0)+"@"+blanks(0))
			body = strings.ReplaceAll(body, " .. ", blanks(0)+".."+blanks(0))
			body = unit.ReplaceAllString(body, "$1"+blanks(0)+"$2")
		}
		b.WriteString(indent + body)
		if r.IntN(10) == 0 && !strings.Contains(body, "#") {
			b.WriteString(blanks(1) + comment())
		}
		b.WriteString(blanks(0) + "\n")
	}
	b.WriteString(strings.Repeat("\n", r.IntN(4)))
	return b.String()
}

// TestUgly takes layouts apart and formats them: the same layout comes out, once and for all,
// with every comment on its entry.
func TestUgly(t *testing.T) {
	files, err := filepath.Glob("../../testdata/tin-harbour/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal("no layouts", err)
	}
	texts := []string{string(generate.YAML(generate.Layout(1, 7)))}
	for _, file := range files {
		texts = append(texts, readText(t, file))
	}
	rapid.Check(t, func(t *rapid.T) {
		text := texts[rapid.IntRange(0, len(texts)-1).Draw(t, "layout")]
		ugly := uglify(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0)), text)
		once := formatted(t, ugly)
		if twice := formatted(t, once); twice != once {
			t.Errorf("formatted again it is another text:\n%s", twice)
		}
		sameLayout(t, readOne(t, text), readOne(t, once))
		sameComments(t, ugly, once)
	})
}

// FuzzFormat: no text makes Format panic or fail. Where it gives one, that is canonical, and
// its values are those of the text it was made from.
func FuzzFormat(f *testing.F) {
	for _, why := range slices.Sorted(maps.Keys(stays)) {
		f.Add([]byte(stays[why]))
	}
	f.Add([]byte(readText(f, "testdata/before.yaml")))
	f.Add([]byte("gaps:\n    00: [0in]# \n    0: [{at: 1 in}] #\n"))
	f.Add([]byte("feeders:\n- {1ft: , a: [b,],}\n# c\n-\n  - x:\n     y # d\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > 20000 {
			return
		}
		in := &source.File{Text: text}
		once, problems, err := Format(in)
		if err != nil {
			t.Fatal(err)
		}
		if len(problems) > 0 {
			return
		}
		twice, problems, err := Format(&source.File{Text: once})
		if err != nil || len(problems) > 0 || string(twice) != string(once) {
			t.Fatalf("%q\nbecame %q\nand then %q, %v, %v", text, once, twice, problems, err)
		}
		was, _ := tree.Parse(0, in)
		is, _ := tree.Parse(0, &source.File{Text: once})
		if !sameTree(was, is) {
			t.Fatalf("%q\nbecame %q", text, once)
		}
	})
}
