package reports

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/rules/gauge"
)

// wireTable is the table for a run of some volts, amperes and feet.
func wireTable(t *testing.T, volts, amps, feet float64, change func(*gauge.TableAsk)) *gauge.Table {
	t.Helper()
	a := gauge.TableAsk{Margin: gauge.DefaultMargin}
	a.Volts.Value, a.Amps.Value, a.Length.Value = quantity.Exact(volts), quantity.Exact(amps), quantity.Exact(feet*0.3048)
	if change != nil {
		change(&a)
	}
	x, err := gauge.NewTable(context.Background(), a)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// manyTables have a choice, none, an answer in one system only, and a trip time.
func manyTables(t *testing.T) map[string]*gauge.Table {
	return map[string]*gauge.Table{
		"choice":   wireTable(t, 15, 5, 40, nil),
		"none":     wireTable(t, 15, 5, 100, nil),
		"hopeless": wireTable(t, 8, 4, 30, func(a *gauge.TableAsk) { a.Trip.Value = quantity.Exact(8) }),
		"twisted": wireTable(t, 18, 8, 12, func(a *gauge.TableAsk) {
			a.Laid = layout.Laid{Kind: layout.LaidTwisted}
			a.Metric, a.Feeder, a.WireDrop, a.Relative = true, true, 0.1, true
			a.TripTime.Value = quantity.Exact(3)
		}),
	}
}

func tableText(t *testing.T, x *gauge.Table, width int) string {
	t.Helper()
	var b strings.Builder
	if err := (Text{Out: &b, Width: width}).GaugeTable(x); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestGaugeTableGolden compares the whole text of a run that has a choice and of one that has none.
func TestGaugeTableGolden(t *testing.T) {
	all := manyTables(t)
	golden(t, "testdata/gauge-table.txt", tableText(t, all["choice"], 80))
	golden(t, "testdata/gauge-table-none.txt", tableText(t, all["hopeless"], 80))
}

// TestGaugeTableWidths: every table fits the terminal, and is free of escape codes.
func TestGaugeTableWidths(t *testing.T) {
	for name, x := range manyTables(t) {
		for _, width := range []int{60, 80, 120} {
			for line := range strings.Lines(tableText(t, x, width)) {
				if cells(strings.TrimRight(line, "\n")) > width || strings.Contains(line, "\x1b") {
					t.Errorf("%s, width %d: %q", name, width, line)
				}
			}
		}
	}
}

// TestGaugeTableWords: what a shopper looks for is there.
func TestGaugeTableWords(t *testing.T) {
	all := manyTables(t)
	for _, c := range []struct{ table, want string }{
		{"choice", "Choose 12 AWG (3.31 mm²): the thinnest that meets every limit."},
		{"choice", "One size thinner, 14 AWG (2.08 mm²): loses 1.1 V, 97.4 mV too much"},
		{"choice", "trip: 5 A, the same as the trains draw"},
		{"choice", "Where wire is sold by mm²: 4 mm²"},
		{"choice", "one way"},
		{"none", "No size that shops keep meets every limit."},
		{"none", "What would have to give"},
		{"none", "no: loses 10 V too much"},
		{"twisted", "no: loses"},
		{"none", "edges of the signal ring"},
		{"hopeless", "short-margin: no size meets it; the best, 8 AWG"},
		{"twisted", "Feeder of two wires, twisted"},
		{"twisted", "0.5 mm² (NEM 933/1 CH, section 5)"},
		{"twisted", "10 % of 18 V (yours)"},
		{"twisted", "wire-energy-let-through: "},
		{"twisted", "a 100 m run"},
	} {
		if text := tableText(t, all[c.table], 200); !strings.Contains(text, c.want) {
			t.Errorf("%s lacks %q:\n%s", c.table, c.want, text)
		}
	}
}

// TestGaugeTableJSON holds the documents against their schema.
func TestGaugeTableJSON(t *testing.T) {
	file, err := os.ReadFile("gauge_table.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	var s schema
	if err := json.Unmarshal(file, &s); err != nil {
		t.Fatal(err)
	}
	for name, x := range manyTables(t) {
		d := tableJSON(t, x)
		for _, b := range s.breaches(&s, name, d) {
			t.Error(b)
		}
		if (d["choice"] == nil) != (x.Choice < 0) {
			t.Errorf("%s: choice %v", name, d["choice"])
		}
		if rows := d["rows"].([]any); len(rows) != len(x.Rows) {
			t.Errorf("%s: %d rows", name, len(rows))
		}
	}
}

// TestGaugeTableJSONValues: the figures are those of the table, in the units of their names.
func TestGaugeTableJSONValues(t *testing.T) {
	x := wireTable(t, 15, 5, 40, nil)
	d := tableJSON(t, x)
	choice := d["choice"].(map[string]any)
	if choice["size"] != "12 AWG" || choice["next_thinner"] != "14 AWG" {
		t.Errorf("choice %v", choice)
	}
	if other := d["choice_other_system"].(map[string]any); other["size"] != "4 mm²" {
		t.Errorf("other %v", other)
	}
	row, r := d["rows"].([]any)[x.Choice].(map[string]any), &x.Rows[x.Choice]
	for name, want := range map[string]float64{
		"area_mm2": 3.3088, "drop_V": r.Drop, "drop_percent": 100 * r.Drop / 15, "short_dc_A": r.Short, "short_dcc_mean_A": r.Pulsed.MeanAbs,
		"temperature_C": r.Celsius, "rise_K": r.Celsius - 35, "reach_one_way_m": r.Reach, "copper_kg": 2 * 12.192 * 8890 * 3.3088e-6,
	} {
		if got := row[name].(float64); math.Abs(got-want) > 1e-4*math.Abs(want) {
			t.Errorf("%s: %g, want %g", name, got, want)
		}
	}
}

func tableJSON(t *testing.T, x *gauge.Table) map[string]any {
	t.Helper()
	var b strings.Builder
	if err := WriteGaugeTableJSON(&b, x); err != nil {
		t.Fatal(err)
	}
	var d map[string]any
	if err := json.Unmarshal([]byte(b.String()), &d); err != nil {
		t.Fatal(err)
	}
	return d
}
