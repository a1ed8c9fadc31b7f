package reports

import (
	"encoding/json"
	"io"
)

// auditVersion counts the forms of the JSON of audit, as jsonVersion does those of a check.
const auditVersion = 1

// auditDocument is what WriteAuditJSON writes.
type auditDocument struct {
	Version    int             `json:"version"`
	Verdict    Verdict         `json:"verdict"`
	Complete   bool            `json:"complete"`
	Before     auditFile       `json:"before"`
	After      auditFile       `json:"after"`
	Counts     AuditCounts     `json:"counts"`
	Problems   []Problem       `json:"problems"`
	Changes    []AuditChange   `json:"changes"`
	Findings   []AuditFinding  `json:"findings"`
	NotChecked []AuditOpen     `json:"not_checked"`
	Districts  []AuditDistrict `json:"districts"`
	Sections   []AuditSection  `json:"reversing_sections"`
	Blocks     []AuditBlock    `json:"blocks"`
	Steps      []AuditStep     `json:"steps"`
	Measure    *AuditMeasure   `json:"measurement"`
	Unknown    []AuditUnknown  `json:"unknown"`
	Emptied    bool            `json:"most_taken_away"`
	Safety     string          `json:"safety"`
}

// auditFile is one of the two layout files.
type auditFile struct {
	Layout string `json:"layout"`
	Name   string `json:"name"`
}

// WriteAuditJSON writes an audit as one JSON document, made as WriteJSON does. The error is the writer's.
func WriteAuditJSON(w io.Writer, v *AuditView) error {
	return writeAudit(w, auditDocument{
		Version: auditVersion, Verdict: v.Verdict, Complete: v.Complete,
		Before: auditFile{v.Files[0], v.Names[0]}, After: auditFile{v.Files[1], v.Names[1]},
		Counts: v.Counts, Problems: []Problem{}, Changes: v.Changes, Findings: v.Findings, NotChecked: v.NotChecked,
		Districts: v.Districts, Sections: v.Sections, Blocks: v.Blocks, Steps: v.Steps, Measure: v.Measure, Unknown: v.Unknown, Emptied: v.Emptied, Safety: safety,
	})
}

// WriteAuditProblems writes, in the same form, why two files could not be compared: the problems of their views, which are in
// the order before, after. The error is the writer's.
func WriteAuditProblems(w io.Writer, views [2]*View) error {
	d := auditDocument{
		Version: auditVersion, Verdict: CannotRead,
		Before: auditFile{views[0].File, views[0].Name}, After: auditFile{views[1].File, views[1].Name},
		Problems: []Problem{}, Changes: []AuditChange{}, Findings: []AuditFinding{}, NotChecked: []AuditOpen{},
		Districts: []AuditDistrict{}, Sections: []AuditSection{}, Blocks: []AuditBlock{}, Steps: []AuditStep{}, Unknown: []AuditUnknown{}, Safety: safety,
	}
	for _, v := range views {
		d.Problems = append(d.Problems, v.Problems...)
	}
	return writeAudit(w, d)
}

func writeAudit(w io.Writer, d auditDocument) error {
	text, err := json.MarshalIndent(d, "", "  ")
	if err != nil {
		return err
	}
	_, err = w.Write(append(escapeUnseen(text), '\n'))
	return err
}
