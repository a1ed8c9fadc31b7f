package reports

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"unicode"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"

	"gapwise/rules"
	"gapwise/rules/gauge"
)

// gaugeOf chooses wire for a demo layout; change alters the text before.
func gaugeOf(t *testing.T, path string, a gauge.Ask, change func(string) string) *GaugeView {
	t.Helper()
	open := func(name string) ([]byte, error) {
		text, err := os.ReadFile(filepath.Join("..", name))
		if err == nil && change != nil {
			text = []byte(change(string(text)))
		}
		return text, err
	}
	l, ps, err := reader.Read(context.Background(), open, path, rules.ReaderOptions())
	if err != nil || len(ps) > 0 {
		t.Fatal(err, ps)
	}
	r, err := rules.Check(context.Background(), l, rules.Options{})
	if err != nil {
		t.Fatal(err)
	}
	c, err := gauge.Choose(context.Background(), r, a)
	if err != nil {
		t.Fatal(err)
	}
	return NewGaugeView(path, c)
}

func gaugeText(t *testing.T, v *GaugeView, width int) string {
	t.Helper()
	var b strings.Builder
	if err := (Text{Out: &b, Width: width}).Gauge(v); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// usual is what the command asks for by itself.
var usual = gauge.Ask{WireDrop: gauge.DefaultWireDrop, Margin: gauge.DefaultMargin}

// TestGaugeGolden compares the whole text about the wire of the Tin Harbour demo, at three widths that all fit.
func TestGaugeGolden(t *testing.T) {
	v := gaugeOf(t, "testdata/tin-harbour/sound.yaml", usual, nil)
	golden(t, "testdata/gauge-sound.txt", gaugeText(t, v, 80))
	for _, width := range []int{60, 80, 120} {
		for line := range strings.Lines(gaugeText(t, v, width)) {
			if cells(strings.TrimRight(line, "\n")) > width || strings.Contains(line, "\x1b") {
				t.Errorf("width %d: %q", width, line)
			}
		}
	}
}

// TestGaugeImpossible: a demand that no size meets is told with what else mends it, and the rest is chosen all the same.
func TestGaugeImpossible(t *testing.T) {
	a := usual
	a.WireDrop = 0.01
	v := gaugeOf(t, "testdata/tin-harbour/sound.yaml", a, nil)
	text := gaugeText(t, v, 80)
	if v.Met || !v.Found || !strings.Contains(text, "No size meets, and those chosen neither\n- wire-drop: buses and feeders alone lose") {
		t.Errorf("met %v, found %v:\n%s", v.Met, v.Found, text)
	}
}

// TestGaugeByPrice chooses by the owner's money, and says in what the sums are.
func TestGaugeByPrice(t *testing.T) {
	a := usual
	a.ByPrice = true
	priced := func(s string) string {
		return s + "\nstock: {bus: [{wire: 14 AWG, price: 20, per: 100 ft}, {wire: 12 AWG, price: 18, per: 100 ft}], feeder: [{wire: 20 AWG, price: 9.5, per: 100 ft}, 22 AWG]}\n"
	}
	v := gaugeOf(t, "testdata/sallow-wharf/sound.yaml", a, priced)
	for i := range v.Heads {
		for _, w := range v.Heads[i].Wires {
			if want := map[bool]string{true: "12 AWG (3.31 mm²)", false: "20 AWG (0.518 mm²)"}[strings.HasPrefix(w.Wire, "bus ")]; w.Choice != want {
				t.Errorf("%s: %s, want %s", w.Wire, w.Choice, want)
			}
		}
	}
	if v.By != "price" || v.Heads[0].Cost == nil || *v.Heads[0].Cost <= 0 {
		t.Errorf("by %s, costs %v", v.By, v.Heads[0].Cost)
	}
}

// TestGaugeJSON holds the document against its schema, and keeps unseen characters out of it.
func TestGaugeJSON(t *testing.T) {
	file, err := os.ReadFile("gauge.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	var s schema
	if err := json.Unmarshal(file, &s); err != nil {
		t.Fatal(err)
	}
	a := usual
	a.WireDrop = 0.01
	for _, ask := range []gauge.Ask{usual, a} {
		var b strings.Builder
		if err := WriteGaugeJSON(&b, gaugeOf(t, "testdata/tin-harbour/sound.yaml", ask, nil)); err != nil {
			t.Fatal(err)
		}
		var d any
		if err := json.Unmarshal([]byte(b.String()), &d); err != nil {
			t.Fatal(err)
		}
		for _, x := range s.breaches(&s, "", d) {
			t.Error(x)
		}
	}
	v := &GaugeView{}
	fill(reflect.ValueOf(v).Elem(), hostile)
	var b strings.Builder
	if err := WriteGaugeJSON(&b, v); err != nil {
		t.Fatal(err)
	}
	for _, r := range b.String() {
		if r != '\n' && (!unicode.IsPrint(r)) {
			t.Errorf("%U is written as it is", r)
		}
	}
	for _, r := range gaugeText(t, v, 80) {
		if r != '\n' && !unicode.IsPrint(r) {
			t.Errorf("text: %U is written as it is", r)
		}
	}
}

// TestGaugeNothing: a layout without wire says so.
func TestGaugeNothing(t *testing.T) {
	l := &layout.Layout{Name: "Bare"}
	r, err := rules.Check(context.Background(), l, rules.Options{})
	if err != nil {
		t.Fatal(err)
	}
	c, err := gauge.Choose(context.Background(), r, usual)
	if err != nil {
		t.Fatal(err)
	}
	if v := NewGaugeView("bare.yaml", c); len(v.Heads) != 0 || !v.Met {
		t.Errorf("%+v", v)
	}
}
