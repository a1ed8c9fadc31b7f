package reports

import (
	"encoding/json"
	"io"
)

// splitVersion counts the forms of the JSON of a division, as jsonVersion does those of a check.
const splitVersion = 1

// splitDocument is what WriteSplitJSON writes.
type splitDocument struct {
	Version   int             `json:"version"`
	Layout    string          `json:"layout"`
	Name      string          `json:"name"`
	Outcome   string          `json:"outcome"`
	With      string          `json:"with"`
	From      string          `json:"power_from"`
	Margin    float64         `json:"margin"`
	TotalA    float64         `json:"total_a"`
	Most      int             `json:"districts_allowed"`
	Fewest    bool            `json:"fewer_proved_impossible"`
	Why       []string        `json:"why"`
	Give      []string        `json:"what_would_do"`
	Terms     []SplitTerm     `json:"terms"`
	Districts []SplitDistrict `json:"districts"`
	Cuts      []SplitCut      `json:"cuts"`
	Devices   []string        `json:"devices"`
	Buses     []SplitBus      `json:"buses"`
	Feeders   []SplitFeeder   `json:"new_feeders"`
	Moves     []SplitMove     `json:"moves"`
	LeftOut   []SplitLeftOut  `json:"left_out"`
	Notes     []string        `json:"notes"`
	Refused   []string        `json:"cannot_be_written"`
	Checked   bool            `json:"checked"`
	Brought   []SplitFinding  `json:"brought"`
	Gone      int             `json:"gone"`
	Stay      int             `json:"as_before"`
	Nodes     int             `json:"pieces"`
	Work      int64           `json:"work"`
	Safety    string          `json:"safety"`
}

// WriteSplitJSON writes a division as one JSON document, made as WriteJSON does. The error is the writer's.
func WriteSplitJSON(w io.Writer, v *SplitView) error {
	text, err := json.MarshalIndent(splitDocument{
		splitVersion, v.File, v.Name, v.Outcome, v.With, v.From, v.Margin, v.Total, v.Most, v.Fewest, v.Why, v.Give, v.Terms, v.Districts, v.Cuts, v.Devices,
		v.Buses, v.Feeders, v.Moves, v.LeftOut, v.Notes, v.Refused, v.Checked, v.Brought, v.Gone, v.Stay, v.Nodes, v.Work, safety,
	}, "", "  ")
	if err != nil {
		return err
	}
	_, err = w.Write(append(escapeUnseen(text), '\n'))
	return err
}
