package districts

import (
	"context"
	"math/rand/v2"
	"testing"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// randomSwitches is a circuit of one booster, a few nets and devices that join them in
// their positions; sometimes two devices are thrown together or two settings excluded.
func randomSwitches(r *rand.Rand) *circuit.Circuit {
	l := &layout.Layout{Boosters: make([]layout.Booster, 1)}
	c := &circuit.Circuit{Layout: l, Nodes: 3 + r.IntN(7)}
	c.Sources = []circuit.Source{{Kind: circuit.BoosterSource, Out: [2]int32{0, 1}, Parent: -1, Booster: 0}}
	node := func() int32 { return int32(r.IntN(c.Nodes)) }
	for range r.IntN(3) {
		if x, y := node(), node(); x > 1 || y > 1 {
			c.Conductors = append(c.Conductors, circuit.Conductor{A: x, B: y, Kind: circuit.BondWire, Device: -1, Sure: true})
		}
	}
	for d := range 1 + r.IntN(5) {
		positions := []string{"straight", "curved", "third"}[:2+r.IntN(2)]
		c.Devices = append(c.Devices, circuit.Device{Kind: circuit.PieceDevice, Ref: int32(d), Positions: positions})
		c.PieceDevice = append(c.PieceDevice, int32(d))
		for at := range positions {
			for range r.IntN(3) {
				c.Conductors = append(c.Conductors, circuit.Conductor{A: node(), B: node(), Kind: circuit.PiecePart, Device: int32(d), Position: int16(at), Sure: true})
			}
		}
	}
	if n := len(c.Devices); n > 1 && r.IntN(3) == 0 {
		couple(c, 0, int32(1+r.IntN(n-1)))
	}
	if n := len(c.Devices); n > 1 && r.IntN(2) == 0 {
		a, b := r.IntN(n-1), n-1
		l.NeverTogether = []layout.Exclusion{{
			Pieces:   []layout.PieceID{layout.PieceID(a), layout.PieceID(b)},
			Settings: []string{c.Devices[a].Positions[r.IntN(2)], c.Devices[b].Positions[r.IntN(2)]},
		}}
	}
	return c
}

// couple throws two devices together, each position to the other's of the same number, the
// third to the last there is.
func couple(c *circuit.Circuit, x, y int32) {
	to := func(from, other int32) circuit.Coupling {
		out := circuit.Coupling{Device: other}
		for p := range c.Devices[from].Positions {
			out.To = append(out.To, int16(min(p, len(c.Devices[other].Positions)-1)))
		}
		return out
	}
	c.Devices[x].Positions, c.Devices[y].Positions = c.Devices[x].Positions[:2], c.Devices[y].Positions[:2]
	kept := c.Conductors[:0]
	for _, k := range c.Conductors {
		if (k.Device != x && k.Device != y) || k.Position < 2 {
			kept = append(kept, k)
		}
	}
	c.Conductors = kept
	c.Devices[x].Coupled = []circuit.Coupling{to(x, y)}
	c.Devices[y].Coupled = []circuit.Coupling{to(y, x)}
}

// everySetting calls f with each valid position of all devices.
func everySetting(c *circuit.Circuit, f func([]Setting)) {
	never := exclusions(c)
	all := make([]Setting, len(c.Devices))
	var next func(d int)
	next = func(d int) {
		if d == len(all) {
			for _, s := range all {
				for _, k := range c.Devices[s.Device].Coupled {
					if all[k.Device].Position != k.To[s.Position] {
						return
					}
				}
			}
			if !excluded(never, all) {
				f(all)
			}
			return
		}
		for at := range c.Devices[d].Positions {
			all[d] = Setting{int32(d), int16(at)}
			next(d + 1)
		}
	}
	next(0)
}

// shorted reports whether legs A and B meet with devices in some positions.
func shorted(c *circuit.Circuit, settings []Setting) bool {
	at := map[int32]int16{}
	for _, s := range settings {
		at[s.Device] = s.Position
	}
	u := newUnionFind(c.Nodes)
	for _, k := range c.Conductors {
		p, set := at[k.Device]
		if k.Device < 0 || (set && p == k.Position) {
			u.union(k.A, k.B)
		}
	}
	of := u.flatten()
	return of[0] == of[1]
}

// TestShortsOfSeveralSettings compares with trying every setting: a short is found just where
// some valid setting shorts, every one found is real with its settings alone, and none needs
// fewer than the fewest found.
func TestShortsOfSeveralSettings(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 14))
	several := 0
	for range 6000 {
		c := randomSwitches(r)
		if shorted(c, nil) {
			continue
		}
		found, open, limited, err := findConflicts(context.Background(), c, &Polarity{}, make([]bool, len(c.Conductors)))
		if err != nil || limited || len(open) > 0 {
			t.Fatal(err, limited, open)
		}
		real := false
		everySetting(c, func(all []Setting) {
			if !shorted(c, all) {
				return
			}
			real = true
			named := false
			for _, x := range found {
				named = named || within(x.Settings, all)
			}
			if !named {
				t.Fatalf("%v shorts and no finding says so: %+v", all, found)
			}
		})
		if real != (len(found) > 0) {
			t.Fatalf("found %+v, but trying every setting says %t", found, real)
		}
		for _, x := range found {
			if !shorted(c, x.Settings) {
				t.Fatalf("%v does not short", x.Settings)
			}
			if !x.Several {
				continue
			}
			several++
			for i := range x.Settings {
				less := append(append([]Setting{}, x.Settings[:i]...), x.Settings[i+1:]...)
				if len(c.Devices[x.Settings[i].Device].Coupled) == 0 && shorted(c, less) {
					t.Fatalf("%v shorts without %v", x.Settings, x.Settings[i])
				}
			}
		}
	}
	if several < 500 {
		t.Errorf("only %d shorts took several settings", several)
	}
}
