package reports

import (
	"encoding/json"
	"io"
)

// gapsVersion counts the forms of the JSON of gaps, as jsonVersion does those of a check.
const gapsVersion = 1

// gapsDocument is what WriteGapsJSON writes. Gaps are in walking order of their tracks.
type gapsDocument struct {
	Version  int    `json:"version"`
	Layout   string `json:"layout"`
	Name     string `json:"name"`
	Complete bool   `json:"complete"`
	Faulty   bool   `json:"faults_taken_as_put_right"`
	Orders   int    `json:"uncertain_orders"`
	Gaps     []Gap  `json:"gaps"`
	Safety   string `json:"safety"`
}

// WriteGapsJSON writes the gaps of a layout as one JSON document, made as WriteJSON does. The
// error is the writer's.
func WriteGapsJSON(w io.Writer, v *GapsView) error {
	text, err := json.MarshalIndent(gapsDocument{gapsVersion, v.File, v.Name, v.Complete, v.Faulty, v.Orders, v.Gaps, safety}, "", "  ")
	if err != nil {
		return err
	}
	_, err = w.Write(append(escapeUnseen(text), '\n'))
	return err
}
