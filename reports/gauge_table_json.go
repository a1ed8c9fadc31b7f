package reports

import (
	"encoding/json"
	"io"

	"gapwise/netlist/layout"

	"gapwise/rules/gauge"
)

// gaugeTableVersion counts the forms of the JSON of a table of wire, as jsonVersion does those of a check.
const gaugeTableVersion = 1

type gaugeTableDocument struct {
	Version    int              `json:"version"`
	Ask        tableAskJSON     `json:"ask"`
	Taken      []takenJSON      `json:"taken"`
	Limits     []GaugeLimit     `json:"limits"`
	Rows       []tableRowJSON   `json:"rows"`
	Choice     *tableChoiceJSON `json:"choice"`
	Other      *tableChoiceJSON `json:"choice_other_system"`
	Impossible []impossibleJSON `json:"no_size_meets"`
	Remedies   []remedyJSON     `json:"remedies"`
	Ringing    *ringingJSON     `json:"ringing"`
	Safety     string           `json:"safety"`
}

type tableAskJSON struct {
	Volts   rangeJSON `json:"volts_V"`
	Amps    rangeJSON `json:"amps_A"`
	Length  rangeJSON `json:"length_one_way_m"`
	Trip    float64   `json:"trip_A"`
	Need    float64   `json:"short_has_to_draw_A"`
	Twisted bool      `json:"twisted"`
	Spacing *float64  `json:"spacing_m"`
	Feeder  bool      `json:"feeder"`
}

type rangeJSON struct {
	Lo float64 `json:"lo"`
	Hi float64 `json:"hi"`
}

type takenJSON struct {
	Name   string `json:"name"`
	Text   string `json:"text"`
	Source string `json:"source"`
}

type tableRowJSON struct {
	Size        string          `json:"size"`
	AreaMM2     float64         `json:"area_mm2"`
	Loop        rangeJSON       `json:"out_and_back_ohm"`
	Henries     float64         `json:"out_and_back_H"`
	Drop        float64         `json:"drop_V"`
	DropPercent float64         `json:"drop_percent"`
	Short       float64         `json:"short_dc_A"`
	Mean        float64         `json:"short_dcc_mean_A"`
	RMS         float64         `json:"short_dcc_rms_A"`
	Peak        float64         `json:"short_dcc_peak_A"`
	Celsius     float64         `json:"temperature_C"`
	Rise        float64         `json:"rise_K"`
	Sudden      float64         `json:"dead_short_A"`
	Stands      *float64        `json:"stands_dead_short_s"` // null past the 5 s that the formula holds for
	Kilograms   float64         `json:"copper_kg"`
	PerMetre    float64         `json:"copper_kg_per_m_of_run"`
	Passes      bool            `json:"passes"`
	Misses      []tableMissJSON `json:"does_not_meet"`
	Reach       float64         `json:"reach_one_way_m"`
	ReachBy     string          `json:"reach_ends_by"`
}

type tableMissJSON struct {
	Limit string  `json:"limit"`
	Text  string  `json:"text"`
	Value float64 `json:"value"`
	Bound float64 `json:"bound"`
}

type tableChoiceJSON struct {
	Size          string          `json:"size"`
	AreaMM2       float64         `json:"area_mm2"`
	Thinner       string          `json:"next_thinner"`
	ThinnerMisses []tableMissJSON `json:"next_thinner_does_not_meet"`
}

type impossibleJSON struct {
	Limit string `json:"limit"`
	Text  string `json:"text"`
}

type remedyJSON struct {
	Text string `json:"text"`
	Then string `json:"then"`
	Met  bool   `json:"every_limit_met"`
	Size string `json:"size"`
}

type ringingJSON struct {
	From   float64  `json:"from_m"`
	Ohms   float64  `json:"resistor_ohm"`
	Farads float64  `json:"capacitor_F"`
	Watts  float64  `json:"resistor_heat_W"`
	Rating *float64 `json:"resistor_rating_W"`
}

// WriteGaugeTableJSON writes a table of wire as one JSON document, made as WriteJSON does. The error is the writer's.
func WriteGaugeTableJSON(w io.Writer, x *gauge.Table) error {
	text, err := json.MarshalIndent(gaugeTableDocumentOf(x), "", "  ")
	if err != nil {
		return err
	}
	_, err = w.Write(append(escapeUnseen(text), '\n'))
	return err
}

func gaugeTableDocumentOf(x *gauge.Table) gaugeTableDocument {
	d := gaugeTableDocument{
		Version: gaugeTableVersion, Taken: []takenJSON{}, Limits: []GaugeLimit{}, Rows: []tableRowJSON{},
		Choice: tableChoiceOf(x, x.Choice), Other: tableChoiceOf(x, x.Other),
		Impossible: []impossibleJSON{}, Remedies: []remedyJSON{}, Safety: tableSafety,
		Ask: tableAskJSON{
			Volts: rangeJSON{x.Ask.Volts.Lo, x.Ask.Volts.Hi}, Amps: rangeJSON{x.Ask.Amps.Lo, x.Ask.Amps.Hi}, Length: rangeJSON{x.Ask.Length.Lo, x.Ask.Length.Hi},
			Trip: x.Trip, Need: x.Need, Twisted: x.Ask.Laid.Kind == layout.LaidTwisted, Feeder: x.Ask.Feeder,
		},
	}
	if !d.Ask.Twisted {
		d.Ask.Spacing = finite(x.Ask.Laid.Spacing.Hi)
	}
	for _, k := range x.Taken {
		d.Taken = append(d.Taken, takenJSON(k))
	}
	for _, l := range x.Limits {
		d.Limits = append(d.Limits, GaugeLimit{l.Name, l.Text, l.Source})
	}
	for i := range x.Rows {
		d.Rows = append(d.Rows, tableRowOf(&x.Rows[i]))
	}
	for _, i := range x.Impossible {
		d.Impossible = append(d.Impossible, impossibleJSON(i))
	}
	for _, r := range x.Remedies {
		size := ""
		if r.Wire.Known() {
			size = r.Wire.String()
		}
		d.Remedies = append(d.Remedies, remedyJSON{r.Text, r.Then, r.Met, size})
	}
	if r := x.Ringing; r != nil {
		d.Ringing = &ringingJSON{r.From, r.Ohms, r.Farads, r.Watts, finite(r.Rating)}
	}
	return d
}

func tableRowOf(r *gauge.Row) tableRowJSON {
	out := tableRowJSON{
		Size: r.Wire.String(), AreaMM2: r.Wire.Lo * 1e6, Loop: rangeJSON{r.Loop.Lo, r.Loop.Hi}, Henries: r.Henries,
		Drop: r.Drop, DropPercent: 100 * r.DropPart, Short: r.Short, Mean: r.Pulsed.MeanAbs, RMS: r.Pulsed.RMS, Peak: r.Pulsed.Peak,
		Celsius: r.Celsius, Rise: r.Rise, Sudden: r.Sudden, Kilograms: r.Kilograms, PerMetre: r.PerMetre,
		Passes: r.Passes(), Misses: tableMisses(r), Reach: r.Reach, ReachBy: r.ReachBy,
	}
	if r.Valid {
		out.Stands = finite(r.Stands)
	}
	return out
}

func tableMisses(r *gauge.Row) []tableMissJSON {
	out := []tableMissJSON{}
	for i := range r.Misses {
		m := &r.Misses[i]
		out = append(out, tableMissJSON{m.Limit, m.Text(), m.Value, m.Bound})
	}
	return out
}

func tableChoiceOf(x *gauge.Table, i int) *tableChoiceJSON {
	if i < 0 {
		return nil
	}
	w := x.Rows[i].Wire
	out := &tableChoiceJSON{Size: w.String(), AreaMM2: w.Lo * 1e6, ThinnerMisses: []tableMissJSON{}}
	if k := x.Thinner(i); k >= 0 {
		out.Thinner, out.ThinnerMisses = x.Rows[k].Wire.String(), tableMisses(&x.Rows[k])
	}
	return out
}
