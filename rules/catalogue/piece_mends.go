package catalogue

import (
	"fmt"
	"strings"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

// pathBondMends take off the bonds that the path of a short passes.
func pathBondMends(c *rule.Case, x *districts.Conflict) []finding.Mend {
	var out []finding.Mend
	for _, s := range x.Path {
		if k := &c.C.Conductors[s.Conductor]; k.Kind == circuit.BondWire {
			out = append(out, bondOffMends(c, k.Ref)...)
		}
	}
	return out
}

// exchanged is what a frog gets when its two contacts are exchanged.
var exchanged = map[layout.FrogGets]layout.FrogGets{
	layout.GetsStockLeft: layout.GetsStockRight, layout.GetsStockRight: layout.GetsStockLeft,
	layout.GetsLegA: layout.GetsLegB, layout.GetsLegB: layout.GetsLegA,
}

// contactMends exchange the two contacts that feed the frog of a turnout.
func contactMends(c *rule.Case, p layout.PieceID) []finding.Mend {
	piece := &c.L.Pieces[p]
	if piece.Kind != layout.TurnoutPiece {
		return nil
	}
	t := &c.L.Turnouts[piece.Index]
	if t.Wiring.FrogFrom != layout.FrogFromContacts || len(t.FrogGets) == 0 {
		return nil
	}
	var parts []string
	for _, m := range t.FrogGets {
		gets := m.Gets
		if other, ok := exchanged[gets]; ok {
			gets = other
		}
		parts = append(parts, m.Setting+": "+layout.FrogGetsWords[gets])
	}
	return []finding.Mend{{
		Text: fmt.Sprintf("exchange the two wires at the contacts that feed the frog of %s. With everything off, a meter on ohms from the frog to the stock rail that the open blade lies beside must read near 0 in both settings",
			t.Name),
		Work:    finding.Work{Wires: 1},
		Changes: []finding.Change{rule.SetKey("turnouts", t.Name, "frog-gets", "{"+strings.Join(parts, ", ")+"}")},
	}}
}

// breakFirstMends put contacts that break before they make in place of others.
func breakFirstMends(c *rule.Case, p layout.PieceID) []finding.Mend {
	section, name := pieceEntry(c, p)
	if section == "" {
		return nil
	}
	return []finding.Mend{{
		Text:    "put contacts that break before they make in place of those of " + name,
		Work:    finding.Work{Devices: 1},
		Changes: []finding.Change{rule.SetKey(section, name, "throw", "break-first")},
	}}
}

// pieceEntry is where a piece with contacts stands in a file, "" for one without.
func pieceEntry(c *rule.Case, p layout.PieceID) (section, name string) {
	piece := &c.L.Pieces[p]
	switch piece.Kind {
	case layout.TurnoutPiece:
		return "turnouts", piece.Name
	case layout.ThreeWayPiece:
		return "three-ways", piece.Name
	case layout.CrossingPiece:
		if c.L.Crossings[piece.Index].Slip != layout.NoSlip {
			return "slips", piece.Name
		}
		return "crossings", piece.Name
	}
	return "", ""
}

// deadFrogsMends put a crossing whose frogs are parted from its rails in place of one whose frogs are not.
func deadFrogsMends(c *rule.Case, p layout.PieceID) []finding.Mend {
	section, name := pieceEntry(c, p)
	if piece := &c.L.Pieces[p]; piece.Kind != layout.CrossingPiece || c.L.Crossings[piece.Index].Preset != layout.JoinedFrogs {
		return nil
	}
	return []finding.Mend{{
		Text:    "put one with dead frogs, which its own wires pass by, in place of " + name,
		Work:    finding.Work{Devices: 1},
		Changes: []finding.Change{rule.SetKey(section, name, "wiring", "dead-frogs"), rule.SetKey(section, name, "jumpers", "yes")},
	}}
}

// liveFrogMends feed a dead frog by contacts that follow the blades.
func liveFrogMends(c *rule.Case, p layout.PieceID) []finding.Mend {
	piece := &c.L.Pieces[p]
	if piece.Kind != layout.TurnoutPiece {
		return nil
	}
	t := &c.L.Turnouts[piece.Index]
	text := fmt.Sprintf("feed the frog of %s by contacts that follow its blades and break before they make", t.Name)
	if !t.Wiring.FrogMetal {
		text += ": that takes one whose frog is metal"
	}
	live := t.Wiring
	live.FrogMetal, live.IsolatedToe, live.IsolatedHeel, live.FrogFrom = true, true, true, layout.FrogFromContacts
	return []finding.Mend{{
		Text:    text,
		Work:    finding.Work{Wires: 1, Devices: 1},
		Changes: []finding.Change{{Op: finding.OpSet, Section: "turnouts", Name: t.Name, Keys: []finding.Key{{Name: "wiring", Value: live.Text()}, {Name: "throw", Value: "break-first"}}}},
	}}
}
