package reports

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"
)

// jsonVersion counts the forms of the JSON document. A field may be added within one; none
// is renamed or taken away.
const jsonVersion = 1

// document is what WriteJSON writes: every list holds the entries of all layouts, each with
// the layout it belongs to.
type document struct {
	Version    int           `json:"version"`
	Verdict    Verdict       `json:"verdict"`
	Complete   bool          `json:"complete"` // no check gave up
	Counts     Counts        `json:"counts"`
	Layouts    []layoutEntry `json:"layouts"`
	Problems   []Problem     `json:"problems"`
	Questions  []Problem     `json:"questions"`
	Findings   []Finding     `json:"findings"`
	NotChecked []NotChecked  `json:"not_checked"`
	Districts  []District    `json:"districts"`
	Blocks     []Block       `json:"blocks"`
	Power      []Power       `json:"power"`
	FixPlans   []FixPlan     `json:"fix_plans"`
	Safety     string        `json:"safety"`
}

// layoutEntry is one layout file that was checked.
type layoutEntry struct {
	Layout   string  `json:"layout"`
	Name     string  `json:"name"`
	Verdict  Verdict `json:"verdict"`
	Complete bool    `json:"complete"`
	RulesRun int     `json:"rules_run"`
	RulesAll int     `json:"rules_all"`
	Counts   Counts  `json:"counts"`
}

// WriteJSON writes some views as one JSON document. It is UTF-8; what cannot be seen in it
// is escaped, so that a name in it does no harm to a terminal. The error is the writer's.
func WriteJSON(w io.Writer, views []*View) error {
	d := document{
		Version: jsonVersion, Verdict: Worst(views), Complete: true, Layouts: []layoutEntry{},
		Problems: []Problem{}, Questions: []Problem{}, Findings: []Finding{}, NotChecked: []NotChecked{},
		Districts: []District{}, Blocks: []Block{}, Power: []Power{}, FixPlans: []FixPlan{}, Safety: safety,
	}
	for _, v := range views {
		d.Complete = d.Complete && v.Complete
		d.Counts.add(v.Counts)
		d.Layouts = append(d.Layouts, layoutEntry{v.File, v.Name, v.Verdict, v.Complete, v.Rules[0], v.Rules[1], v.Counts})
		d.Problems = append(d.Problems, v.Problems...)
		d.Questions = append(d.Questions, v.Questions...)
		d.Findings = append(d.Findings, v.Findings...)
		d.NotChecked = append(d.NotChecked, v.NotChecked...)
		d.Districts = append(d.Districts, v.Districts...)
		d.Blocks = append(d.Blocks, v.Blocks...)
		d.Power = append(d.Power, v.Power...)
		if v.Plan != nil {
			d.FixPlans = append(d.FixPlans, *v.Plan)
		}
	}
	text, err := json.MarshalIndent(d, "", "  ")
	if err != nil {
		return err
	}
	_, err = w.Write(append(escapeUnseen(text), '\n'))
	return err
}

// escapeUnseen writes every character of a JSON text that shows nothing, or that turns the
// direction of what follows, as its escape. Such characters stand inside strings only; the
// ends of lines between them stay.
func escapeUnseen(text []byte) []byte {
	var out bytes.Buffer
	for len(text) > 0 {
		r, n := utf8.DecodeRune(text)
		switch {
		case r < ' ' || unicode.IsPrint(r):
			out.Write(text[:n])
		case r > 0xffff:
			hi, lo := utf16.EncodeRune(r)
			fmt.Fprintf(&out, `\u%04x\u%04x`, hi, lo)
		default:
			fmt.Fprintf(&out, `\u%04x`, r)
		}
		text = text[n:]
	}
	return out.Bytes()
}
