package districts

import (
	"cmp"
	"slices"

	solver "gapwise/districts/settings"
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// DeadFrog is a frog that no leg reaches: one without metal, or a metal one in some of the
// settings that lead wheels over it.
type DeadFrog struct {
	Piece layout.PieceID
	Name  string // "frog", "middle-frog", "west"
	// Settings in which it is dead; none for a frog without metal.
	Settings []Setting
	// Always says that it is dead whenever wheels roll over it.
	Always bool
}

// DeadFrogs lists the frogs that are dead, by piece; those whose contacts the layout leaves
// unknown are no part of it. open are devices at which the search over settings reached its bound on work: a frog behind them may
// be dead too.
func (t *Trace) DeadFrogs() (out []DeadFrog, open []int32) {
	out = plasticFrogs(t.C)
	loose := make([]bool, len(t.C.Conductors))
	for i := range loose {
		loose[i] = !t.C.Conductors[i].Sure
	}
	f := &conflictFinder{c: t.C, masked: loose, never: exclusions(t.C)}
	nets := joinNets(t.C, f.take)
	g := f.newTogether(nets, f.shorts)
	type frog struct {
		piece layout.PieceID
		name  string
	}
	at, asked := map[frog]int{}, map[frog]int{}
	for i := range t.C.Demands {
		d := &t.C.Demands[i]
		if d.Device < 0 {
			continue
		}
		key := frog{d.Piece, d.Name}
		asked[key]++
		settings := thrown(t.C, Setting{d.Device, d.Position})
		if !g.possible(settings) || g.feedsWith(nets.Of[d.As], settings).Verdict == solver.Absent || g.fedFrog(d, settings) {
			continue
		}
		n, found := at[key]
		if !found {
			n = len(out)
			at[key] = n
			out = append(out, DeadFrog{Piece: d.Piece, Name: d.Name})
		}
		out[n].Settings = append(out[n].Settings, settings[0])
	}
	for key, n := range at {
		out[n].Always = len(out[n].Settings) == asked[key]
	}
	slices.SortStableFunc(out, func(x, y DeadFrog) int { return cmp.Compare(x.Piece, y.Piece) })
	return out, g.unproven()
}

// fedFrog reports whether a leg reaches a frog in a setting, or may by contacts that the
// layout leaves unknown.
func (g *together) fedFrog(d *circuit.Demand, settings []Setting) bool {
	if g.feedsWith(g.nets.Of[d.Frog], settings).Verdict != solver.Absent {
		return true
	}
	return slices.Contains(g.f.c.UnknownFrogs, circuit.UnknownFrog{Frog: d.Frog, Device: d.Device, Position: d.Position})
}

// plasticFrogs lists turnouts, three-ways, crossings and slips whose frogs are no metal.
func plasticFrogs(c *circuit.Circuit) []DeadFrog {
	var out []DeadFrog
	for id := range c.Layout.Pieces {
		p := &c.Layout.Pieces[id]
		plastic := false
		switch p.Kind {
		case layout.TurnoutPiece:
			plastic = !c.Layout.Turnouts[p.Index].Wiring.FrogMetal
		case layout.ThreeWayPiece:
			plastic = c.Layout.ThreeWays[p.Index].Preset == layout.DeadFrog
		case layout.CrossingPiece:
			plastic = c.Layout.Crossings[p.Index].Preset == layout.DeadFrogs
		}
		if plastic {
			out = append(out, DeadFrog{Piece: layout.PieceID(id), Name: "frog", Always: true})
		}
	}
	return out
}
