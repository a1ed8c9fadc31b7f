package reports

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"gapwise/netlist/source"

	"gapwise/rules"
)

// hostile has what does harm on a terminal or in a document: escape sequences, a bell, a
// C1 control, direction marks, tags, markup, ends of lines, bytes that are no UTF-8.
const hostile = "\x1b[31m\x1b]0;owned\x07 \u009b2J \u202egnp\u2066 \U000e0041 <script>alert(1)</script> \"'& | \r\n\t\x7f\xff\xc3 end"

// fill puts a text into every string below a value, and one element into every slice.
func fill(v reflect.Value, text string) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(text)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		for i := range v.Len() {
			fill(v.Index(i), text)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				fill(v.Field(i), text)
			}
		}
	case reflect.Int32:
		v.SetInt(7)
	}
}

func hostileView(verdict Verdict) *View {
	v := &View{}
	fill(reflect.ValueOf(v).Elem(), hostile)
	v.Verdict = verdict
	v.Findings[1].Accepted = true
	v.files = source.Files{{Name: hostile, Text: []byte(hostile)}}
	v.problems = []source.Problem{{Pos: source.Pos{Line: 1, Col: 1}, Width: 3, Message: hostile, Expected: hostile, Nearest: hostile}}
	v.questions = v.problems
	return v
}

// TestHostileText: whatever a layout says, a terminal gets letters, signs and ends of lines.
func TestHostileText(t *testing.T) {
	for _, verdict := range verdicts {
		var b strings.Builder
		text := Text{Out: &b, Width: 80}
		v := hostileView(verdict)
		if err := text.Check(v, true); err != nil {
			t.Fatal(err)
		}
		if err := text.Recap([]*View{v}); err != nil {
			t.Fatal(err)
		}
		seen(t, b.String())
		if n := strings.Count(unspaced(strings.ReplaceAll(b.String(), "\n", "")), `\x1b]0;owned\x07`); n < 3 {
			t.Errorf("%s: the names are shown %d times", verdict, n)
		}
	}
}

func seen(t *testing.T, text string) {
	t.Helper()
	for _, r := range text {
		if r != '\n' && !unicode.IsPrint(r) {
			t.Fatalf("%U reaches the terminal", r)
		}
	}
}

// TestHostileJSON: in JSON the same text is data; nothing that shows nothing is in it raw.
func TestHostileJSON(t *testing.T) {
	var b bytes.Buffer
	if err := WriteJSON(&b, []*View{hostileView(Faults)}); err != nil {
		t.Fatal(err)
	}
	seen(t, b.String())
	if strings.Contains(b.String(), "<script>") {
		t.Error("markup is not escaped")
	}
	var d document
	if err := json.Unmarshal(b.Bytes(), &d); err != nil {
		t.Fatal(err)
	}
	want := strings.ToValidUTF8(hostile, "\ufffd")
	if !utf8.ValidString(want) || d.Findings[0].Message != strings.ReplaceAll(hostile, "\xff\xc3", "\ufffd\ufffd") {
		t.Errorf("message is %q", d.Findings[0].Message)
	}
}

// TestHostileLayout sends hostile words through the reader and the whole check: what a layout
// may say freely (its name, labels, reasons, colours) comes out escaped or not at all.
func TestHostileLayout(t *testing.T) {
	word := `"\e[31mred\a \u202egnp <b>& | \x9b2J"`
	layouts := map[string]string{
		"labels": `
gapwise: 1
layout: ` + word + `
label: ` + word + `
wire-colours: {A: ` + word + `, B: ` + word + `}
rail-names: {left: ` + word + `, right: ` + word + `}
tracks:
  M1: {from: start, to: end, length: 6 ft, use: main, label: ` + word + `}
supplies:
  front: {volts: 18 V, rating: 6 A, listed: no, label: ` + word + `}
boosters:
  front: {supply: front, volts: 15 V, trips-at: 5 A, signal: ` + word + `}
buses:
  main: {from: booster front, wire: 14 AWG, length: 20 ft, label: ` + word + `}
feeders:
  M1: {2 ft: {from: main @ 2 ft, A: left}, 4 ft: {from: main @ 4 ft, A: right}}
accept:
  - {finding: feeder-crossed, at: M1 @ 4 ft, because: ` + word + `}
`,
		"names": `
gapwise: 1
layout: yard
tracks:
  ` + word + `: {from: start, to: ` + word + `, length: ` + word + `, ` + word + `: 1}
`,
	}
	for name, text := range layouts {
		t.Run(name, func(t *testing.T) {
			v := viewOfText(t, text, rules.Options{})
			var b, j strings.Builder
			if err := (Text{Out: &b, Width: 80}).Check(v, true); err != nil {
				t.Fatal(err)
			}
			seen(t, b.String())
			if err := WriteJSON(&j, []*View{v}); err != nil {
				t.Fatal(err)
			}
			seen(t, j.String())
			if !json.Valid([]byte(j.String())) {
				t.Error("this is no JSON")
			}
		})
	}
}
