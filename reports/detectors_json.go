package reports

import (
	"encoding/json"
	"io"
)

// detectorsVersion counts the forms of the JSON of detectors, as jsonVersion does those of a check.
const detectorsVersion = 1

// detectorsDocument is what WriteDetectorsJSON writes.
type detectorsDocument struct {
	Version  int       `json:"version"`
	Layout   string    `json:"layout"`
	Name     string    `json:"name"`
	Complete bool      `json:"complete"`
	OneM     float64   `json:"one_m"`
	SeveralM float64   `json:"several_m"`
	PartM    float64   `json:"part_m"`
	NoneM    float64   `json:"none_m"`
	Track    []Watched `json:"track"`
	Work     []Watched `json:"track_work"`
	Safety   string    `json:"safety"`
}

// WriteDetectorsJSON writes which detectors see a train as one JSON document, made as WriteJSON does. The error is the writer's.
func WriteDetectorsJSON(w io.Writer, v *DetectorsView) error {
	text, err := json.MarshalIndent(detectorsDocument{detectorsVersion, v.File, v.Name, v.Complete, v.One, v.Several, v.Part, v.None, v.Track, v.Work, safety}, "", "  ")
	if err != nil {
		return err
	}
	_, err = w.Write(append(escapeUnseen(text), '\n'))
	return err
}
