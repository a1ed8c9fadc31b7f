package reports

import (
	"gapwise/netlist/source"

	"gapwise/rules/finding"
)

// Finding is one thing that is wrong.
type Finding struct {
	Layout   string `json:"layout"`
	Rule     string `json:"rule"`
	Severity string `json:"severity"`
	Accepted bool   `json:"accepted"`
	Because  string `json:"because"`
	Spot
	Place      Place    `json:"place"`
	Message    string   `json:"message"`
	Why        string   `json:"why"`
	Settings   []string `json:"settings"`
	Train      string   `json:"train"`
	Assumed    string   `json:"assumed"`
	Numbers    []Number `json:"numbers"`
	Witness    []Step   `json:"witness"`
	Also       []string `json:"also"`
	Candidates []string `json:"candidates"`
	Fix        string   `json:"fix"`
	FixChecked bool     `json:"fix_checked"`
	FixAlso    []string `json:"fix_also"`
}

// Place is where a finding is on the layout: AtM is metres from the start of Piece, nil
// where the finding is about no one reading of it.
type Place struct {
	Piece string   `json:"piece"`
	AtM   *float64 `json:"at_m"`
	Text  string   `json:"text"`
}

// Number is one figure with its limit: Value is in Unit, Text says it for a reader.
type Number struct {
	Name   string   `json:"name"`
	Text   string   `json:"text"`
	Value  *float64 `json:"value"`
	Unit   string   `json:"unit"`
	Limit  string   `json:"limit"`
	Source string   `json:"source"`
}

// Step is one conductor of the path that a finger follows.
type Step struct {
	Text string `json:"text"`
	Spot
}

// NotChecked is what a check left open. Incomplete says that it gave up on it.
type NotChecked struct {
	Layout string `json:"layout"`
	Rule   string `json:"rule"`
	What   string `json:"what"`
	Why    string `json:"why"`
	Spot
	Incomplete bool `json:"incomplete"`
}

func newFinding(file string, files source.Files, f *finding.Finding) Finding {
	out := Finding{
		Layout: file, Rule: f.Rule, Severity: f.Severity.String(), Accepted: f.Accepted, Because: f.Because,
		Spot: spotOf(files, f.Pos), Place: placeOf(&f.Place),
		Message: f.Message, Why: f.Why, Settings: some(f.Settings), Train: f.Train, Assumed: f.Assumed,
		Numbers: []Number{}, Witness: []Step{},
		Also: some(f.Also), Candidates: some(f.Candidates), Fix: f.Fix, FixChecked: f.FixChecked, FixAlso: some(f.FixAlso),
	}
	for _, n := range f.Numbers {
		out.Numbers = append(out.Numbers, Number{Name: n.Name, Text: n.Text, Value: finite(n.SI), Unit: n.Unit, Limit: n.Limit, Source: n.Source})
	}
	for _, s := range f.Witness {
		out.Witness = append(out.Witness, Step{Text: s.Text, Spot: spotOf(files, s.Pos)})
	}
	return out
}

func newNotChecked(file string, files source.Files, n *finding.NotChecked) NotChecked {
	return NotChecked{Layout: file, Rule: n.Rule, What: n.What, Why: n.Why, Spot: spotOf(files, n.Pos), Incomplete: n.Incomplete}
}
