package reports

import (
	"encoding/json"
	"io"
)

// gaugeVersion counts the forms of the JSON of a choice of wire, as jsonVersion does those of a check.
const gaugeVersion = 1

// gaugeDocument is what WriteGaugeJSON writes.
type gaugeDocument struct {
	Version int          `json:"version"`
	Layout  string       `json:"layout"`
	Name    string       `json:"name"`
	By      string       `json:"by"`
	Found   bool         `json:"found"`
	Met     bool         `json:"every_limit_met"`
	Notes   []string     `json:"notes"`
	Limits  []GaugeLimit `json:"limits"`
	Sources []GaugeHead  `json:"sources"`
	Open    []string     `json:"not_decided"`
	Brought []string     `json:"brought"`
	Safety  string       `json:"safety"`
}

// WriteGaugeJSON writes a choice of wire as one JSON document, made as WriteJSON does. The error is the writer's.
func WriteGaugeJSON(w io.Writer, v *GaugeView) error {
	text, err := json.MarshalIndent(gaugeDocument{gaugeVersion, v.File, v.Name, v.By, v.Found, v.Met, v.Notes, v.Limits, v.Heads, v.Undecided, v.Brought, safety}, "", "  ")
	if err != nil {
		return err
	}
	_, err = w.Write(append(escapeUnseen(text), '\n'))
	return err
}
