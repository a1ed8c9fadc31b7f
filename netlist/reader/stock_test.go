package reader

import (
	"math"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
)

// Sizes stand alone or with a price, in a list or without brackets.
func TestStock(t *testing.T) {
	l := sound(t, header+`stock:
  bus: [14 AWG, {wire: 12 AWG, price: 18.50, per: 100 ft}, {wire: 2.5 mm², price: 0, per: 10 m}]
  feeder: {wire: 22 .. 20 AWG, price: 7, per: 1 m}
`)
	bus, feeder := l.Stock.Bus, l.Stock.Feeder
	if len(bus) != 3 || len(feeder) != 1 {
		t.Fatalf("bus %v, feeder %v", bus, feeder)
	}
	if w := bus[0]; w.Wire.Gauge != 14 || w.Priced() || w.PerMetre() != 0 {
		t.Errorf("without a price: %+v", w)
	}
	if w := bus[1]; w.Wire.Gauge != 12 || !w.Priced() || w.Price != 18.5 || math.Abs(w.PerMetre()-18.5/30.48) > 1e-12 {
		t.Errorf("with a price: %+v", w)
	}
	if w := bus[2]; !w.Priced() || w.PerMetre() != 0 {
		t.Errorf("wire that was a gift: %+v", w)
	}
	if w := feeder[0]; w.Pos.Line == 0 || w.PerMetre() != 7 {
		t.Errorf("feeder: %+v", w)
	}
}

// Wire that two files list alike is one; a module read twice lists its wire once; two prices for one size are a mistake.
func TestStockOfSeveralFiles(t *testing.T) {
	const yard = `
-- layout.yaml --
gapwise: 1
layout: Test
include: [{file: yard.yaml, as: east}, {file: yard.yaml, as: west}]
stock: {bus: [14 AWG, {wire: 12 AWG, price: 2, per: 1 m}]}
-- yard.yaml --
gapwise: 1
module: yard
stock: {bus: [14 AWG, {wire: 12 AWG, price: `
	if got := rendered(t, txtar.Parse([]byte(yard+"4, per: 2 m}]}\n"))); got != "" {
		t.Errorf("alike: %s", got)
	}
	const want = `yard.yaml:3:30: 12 AWG again; first at layout.yaml:4
    3 | stock: {bus: [14 AWG, {wire: 12 AWG, price: 5, per: 2 m}]}
      |                              ^^^^^^
`
	if got := rendered(t, txtar.Parse([]byte(yard+"5, per: 2 m}]}\n"))); got != want {
		t.Errorf("two prices:\n%s\nwant:\n%s", got, want)
	}
}
