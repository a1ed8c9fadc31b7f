package reports

import (
	"strings"

	"gapwise/rules/finding"
	"gapwise/rules/fixes"
)

// FixPlan is what to do with a layout, all of it tried together.
type FixPlan struct {
	Layout   string    `json:"layout"`
	Complete bool      `json:"complete"` // the bound on work was not reached
	Steps    []FixStep `json:"steps"`    // in working order
	Work     FixWork   `json:"work"`
	Faults   int       `json:"faults_after"`
	Cautions int       `json:"cautions_after"`
	Left     []FixLeft `json:"left"`
}

// FixStep is one thing to do; Mends are the findings that go with it.
type FixStep struct {
	Step  int      `json:"step"`
	Text  string   `json:"text"`
	Rule  string   `json:"rule"`
	Place Place    `json:"place"`
	Mends []string `json:"mends"`
	Work  FixWork  `json:"work"`
}

// FixWork is what work costs whoever does it.
type FixWork struct {
	Cuts     int `json:"cuts"`
	Wires    int `json:"wires"`
	Devices  int `json:"devices"`
	Settings int `json:"settings"`
}

func (w *FixWork) add(x FixWork) {
	w.Cuts += x.Cuts
	w.Wires += x.Wires
	w.Devices += x.Devices
	w.Settings += x.Settings
}

// text says what work costs in words: "2 cuts, 1 wire".
func (w *FixWork) text() string {
	var parts []string
	add := func(n int, one, several string) {
		if n > 0 {
			parts = append(parts, counted(n, one, several))
		}
	}
	add(w.Settings, "setting", "settings")
	add(w.Wires, "wire", "wires")
	add(w.Devices, "device", "devices")
	add(w.Cuts, "cut", "cuts")
	return strings.Join(parts, ", ")
}

// FixLeft is a finding that stays, and why.
type FixLeft struct {
	Rule     string `json:"rule"`
	Severity string `json:"severity"`
	Place    Place  `json:"place"`
	Message  string `json:"message"`
	Why      string `json:"why"`
}

// Fixes puts a plan into a view.
func (v *View) Fixes(p *fixes.Plan) {
	out := &FixPlan{
		Layout: v.File, Complete: p.All, Steps: []FixStep{}, Left: []FixLeft{},
		Faults: p.After.Count(finding.Fault), Cautions: p.After.Count(finding.Caution),
	}
	for i := range p.Steps {
		s := &p.Steps[i]
		step := FixStep{Step: i + 1, Text: s.Text, Rule: s.Rule, Place: placeOf(&s.For), Mends: some(s.Mended), Work: FixWork(s.Work)}
		out.Work.add(step.Work)
		out.Steps = append(out.Steps, step)
	}
	for i := range p.Left {
		f := &p.Left[i].Finding
		out.Left = append(out.Left, FixLeft{Rule: f.Rule, Severity: f.Severity.String(), Place: placeOf(&f.Place), Message: f.Message, Why: p.Left[i].Why})
	}
	v.Plan = out
	v.Complete = v.Complete && p.All
	if v.Verdict != Faults && !v.Complete {
		v.Verdict = Incomplete
	}
}

func placeOf(p *finding.Place) Place {
	out := Place{Piece: p.Piece, Text: p.Text}
	if p.HasAt {
		out.AtM = finite(p.AtM)
	}
	return out
}
