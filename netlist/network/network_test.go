package network_test

import (
	"context"
	"io/fs"
	"math"
	"strings"
	"testing"

	"gapwise/netlist/circuit"
	"gapwise/netlist/conductor"
	"gapwise/netlist/layout"
	"gapwise/netlist/network"
	"gapwise/netlist/quantity"
	"gapwise/netlist/reader"
	"gapwise/netlist/solve"
)

// spur is one track on two feeders, a breaker and a detector between them and the booster.
const spur = `
gapwise: 1
layout: a spur
scale: HO
defaults:
  track:  {rail: code 83 nickel silver}
  joint:  {kind: soldered}
  feeder: {wire: 20 AWG, length: 10 in}
  bus:    {laid: twisted}
tracks:
  line: {from: end, to: end, length: 12 ft}
gaps:
  line: [{at: 6 ft, rails: both, kind: insulated, fill: styrene}]
supplies:
  brick: {volts: 18 V, rating: 6 A, listed: yes}
boosters:
  one: {supply: brick, volts: 15 V, inside: 0.1 Ω, trips-at: 5 A, trip-time: 40 ms}
breakers:
  two: {from: main @ 2 ft, trips-at: 3 A, trip-time: 10 ms, resistance: 60 mΩ, opens: both}
detectors:
  eye: {from: near @ 1 ft, leg: A, drop: 0.7 V, sees: 12 kΩ}
buses:
  main: {from: booster one, wire: 14 AWG, length: 10 ft}
  near: {from: breaker two, wire: 16 AWG, length: 8 ft}
  own:  {from: detector eye, legs: A, wire: 16 AWG, length: 4 ft}
feeders:
  line: {A: left, 3 ft: {from: near @ 3 ft, A-from: own @ 2 ft}, 9 ft: near @ 6 ft}
`

func circuitOf(t *testing.T, text string) *circuit.Circuit {
	t.Helper()
	open := func(name string) ([]byte, error) {
		if name != "layout.yaml" {
			return nil, fs.ErrNotExist
		}
		return []byte(text), nil
	}
	l, problems, err := reader.Read(context.Background(), open, "layout.yaml", reader.Options{LimitNames: []string{"temperature"}})
	if err != nil {
		t.Fatal(err)
	}
	if len(problems) > 0 {
		var b strings.Builder
		if err := l.Files.Render(&b, problems); err != nil {
			t.Fatal(err)
		}
		t.Fatal(b.String())
	}
	c, err := circuit.Build(context.Background(), l, circuit.OptionsFor(l))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func build(t *testing.T, c *circuit.Circuit, corner network.Corner, without []bool) *network.District {
	t.Helper()
	b := network.NewBuilder(c, without)
	d, err := b.Build(context.Background(), b.NewScratch(), network.HeadsOf(c)[0], corner, nil)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// TestElements holds what conductors are electrically against the tables of package conductor.
func TestElements(t *testing.T) {
	c := circuitOf(t, spur)
	e := network.NewElements(c)
	room := conductor.RoomTemperature.Range
	awg := func(n int) quantity.Wire {
		return quantity.Wire{Value: quantity.Exact(quantity.AWGArea(n)), Gauge: n, HasGauge: true}
	}
	inch := 0.0254
	rail, _ := conductor.RailOhms(83, "nickel silver", room)
	want := map[circuit.Kind]func(k *circuit.Conductor) conductor.Range{
		circuit.RailLength: func(k *circuit.Conductor) conductor.Range { return rail.Times(k.Length()) },
		circuit.FeederWire: func(*circuit.Conductor) conductor.Range {
			return conductor.WireOhms(awg(20), room).Times(10 * inch).Plus(conductor.Splice.Times(2))
		},
		circuit.BusSpan: func(k *circuit.Conductor) conductor.Range {
			size := 16
			if c.Layout.Buses[k.Ref].Name == "main" {
				size = 14
			}
			return conductor.WireOhms(awg(size), room).Times(k.Length())
		},
		circuit.WireEnd:     func(*circuit.Conductor) conductor.Range { return conductor.BusSplice.Range },
		circuit.BreakerLeg:  func(*circuit.Conductor) conductor.Range { return conductor.Exact(30e-3) },
		circuit.DetectorLeg: func(*circuit.Conductor) conductor.Range { return conductor.DetectorSeries.Range },
	}
	seen := map[circuit.Kind]bool{}
	for i := range c.Conductors {
		k := &c.Conductors[i]
		f, known := want[k.Kind]
		if !known {
			continue
		}
		seen[k.Kind] = true
		x := e.Of(int32(i))
		w := f(k)
		w.Lo, w.Hi = max(w.Lo, 1e-7), max(w.Hi, 1e-7) // no conductor has less
		if math.Abs(x.Ohms.Lo-w.Lo) > 1e-12 || math.Abs(x.Ohms.Hi-w.Hi) > 1e-12 {
			t.Errorf("conductor of kind %d has %v Ω, want %v", k.Kind, x.Ohms, w)
		}
		if k.Kind == circuit.DetectorLeg && x.Volts != conductor.Exact(0.7) {
			t.Errorf("the detector drops %v", x.Volts)
		}
	}
	if len(seen) != len(want) {
		t.Errorf("only kinds %v seen", seen)
	}
}

// TestNets looks at what belongs to each leg, what stands before it and what detectors drop.
func TestNets(t *testing.T) {
	c := circuitOf(t, spur)
	d := build(t, c, network.Weak, nil)
	if d.Meet >= 0 {
		t.Fatal("the legs of a sound spur meet")
	}
	if len(d.Guards) != 2 || d.Guards[0].Name != "booster one" || d.Guards[1].Name != "breaker two" || d.Guards[1].Parent != 0 {
		t.Fatalf("guards are %+v", d.Guards)
	}
	if len(d.Rails) != 4 {
		t.Errorf("%d lengths of track, want 4", len(d.Rails))
	}
	behind := 0
	for _, p := range d.Rails {
		for leg := range d.Legs {
			e := &d.Legs[leg].Edges[p.Edge[leg]]
			if g := d.Legs[leg].Guard[e.I]; d.Guards[g].Name != "breaker two" {
				t.Errorf("a rail is guarded by %s", d.Guards[g].Name)
			}
			if d.Legs[leg].Volts[e.I] > 0 {
				behind++
			}
		}
	}
	if behind != 2 {
		t.Errorf("%d rails lie behind the detector, want 2: its leg of the first block", behind)
	}
	for leg := range d.Legs {
		for _, e := range d.Legs[leg].Edges {
			if e.I == e.J || e.Ohms <= 0 || e.I < solve.Ground || e.J < solve.Ground {
				t.Errorf("edge %+v", e)
			}
		}
	}
}

// TestLegsMeet wires a rail to both legs.
func TestLegsMeet(t *testing.T) {
	c := circuitOf(t, strings.Replace(spur, "9 ft: near @ 6 ft", "9 ft: near @ 6 ft, 10 ft: {from: near @ 7 ft, A: right}", 1))
	if d := build(t, c, network.Weak, nil); d.Meet < 0 {
		t.Error("a crossed feeder makes the legs meet")
	}
	without := make([]bool, len(c.Conductors))
	for i := range c.Conductors {
		if k := &c.Conductors[i]; k.Kind == circuit.FeederWire && c.Layout.Feeders[k.Ref].ARail == layout.Right {
			without[i] = true
		}
	}
	if d := build(t, c, network.Weak, without); d.Meet >= 0 {
		t.Error("without it they do not")
	}
}

// TestCorners compares the two corners: the strong one has no more ohms anywhere, and joints nobody vouches for.
func TestCorners(t *testing.T) {
	c := circuitOf(t, strings.Replace(spur, "gaps:\n  line: [{at: 6 ft, rails: both, kind: insulated, fill: styrene}]", "joints:\n  line: [{at: 6 ft, kind: unknown}]", 1))
	weak, strong := build(t, c, network.Weak, nil), build(t, c, network.Strong, nil)
	for leg := range weak.Legs {
		if got, want := len(strong.Legs[leg].Edges), len(weak.Legs[leg].Edges)+1; got != want {
			t.Errorf("leg %d: %d conductors strong, want one joint more than %d", leg, got, want-1)
		}
		low := map[int32]float64{}
		for _, e := range strong.Legs[leg].Edges {
			low[e.Conductor] = e.Ohms
		}
		for _, e := range weak.Legs[leg].Edges {
			if low[e.Conductor] > e.Ohms {
				t.Errorf("conductor %d has %v Ω strong, %v weak", e.Conductor, low[e.Conductor], e.Ohms)
			}
		}
	}
}
