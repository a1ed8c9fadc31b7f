package catalogue

import (
	"fmt"
	"slices"
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

// contactMends change what the contacts of frogs give them, where wheels join a frog to another leg: at the settings in which they do, at every setting, or at
// one of them; and, where the frog gets the legs of another source than the rails around it have, from which bus.
func contactMends(c *rule.Case, p layout.PieceID, xs []*districts.Conflict) []finding.Mend {
	section, name := pieceEntry(c, p)
	contacts := contactsOf(c, p)
	if section == "" || len(contacts) == 0 {
		return nil
	}
	type at struct{ frog, setting string }
	wrong, frogs := map[at]bool{}, map[string]bool{}
	for _, x := range xs {
		if x.Demand < 0 {
			continue
		}
		d := &c.C.Demands[x.Demand]
		frog := d.Name
		if frog == "frog" {
			frog = ""
		}
		frogs[frog] = true
		if d.Device >= 0 {
			wrong[at{frog, c.C.Devices[d.Device].Positions[d.Position]}] = true
		}
	}
	var out []finding.Mend
	add := func(flip func(m *layout.ContactMap) bool, more ...finding.Key) {
		flipped := slices.Clone(contacts)
		var settings []string
		for i := range flipped {
			if other, ok := exchanged[flipped[i].Gets]; ok && flip(&flipped[i]) {
				flipped[i].Gets = other
				text := flipped[i].Setting
				if flipped[i].Frog != "" {
					text += " (" + frogName(flipped[i].Frog) + ")"
				}
				settings = append(settings, text)
			}
		}
		if len(settings)+len(more) == 0 {
			return
		}
		m := finding.Mend{Work: finding.Work{Wires: len(settings)}, Changes: []finding.Change{{Op: finding.OpSet, Section: section, Name: name, Keys: more}}}
		var parts []string
		if len(more) > 0 {
			parts = append(parts, fmt.Sprintf("hang the contacts of %s from bus %s", name, more[0].Value))
			m.Work.Wires++
		}
		if len(settings) > 0 {
			parts = append(parts, fmt.Sprintf("give the frog of %s the other rail or leg at the contacts for %s", name, strings.Join(settings, ", ")))
			m.Changes[0].Keys = append(m.Changes[0].Keys, finding.Key{Name: "frog-gets", Value: contactText(flipped)})
		}
		m.Text = strings.Join(parts, ", and ") + ". With everything off, a meter on ohms from the frog to the rail that wheels join it to must read near 0 in each setting"
		if !slices.ContainsFunc(out, func(o finding.Mend) bool { return o.Text == m.Text }) {
			out = append(out, m)
		}
	}
	none := func(*layout.ContactMap) bool { return false }
	all := func(m *layout.ContactMap) bool { return frogs[m.Frog] }
	for _, tap := range frogTaps(c, p, xs) {
		key := finding.Key{Name: "frog-from", Value: tap}
		add(none, key)
		add(all, key)
	}
	add(func(m *layout.ContactMap) bool { return wrong[at{m.Frog, m.Setting}] })
	add(all)
	for i := range contacts {
		if one := contacts[i]; frogs[one.Frog] {
			add(func(m *layout.ContactMap) bool { return m.Frog == one.Frog && m.Setting == one.Setting })
		}
	}
	return out
}

// contactsOf are the contacts that feed the frogs of a piece, nil where it has none.
func contactsOf(c *rule.Case, p layout.PieceID) []layout.ContactMap {
	piece := &c.L.Pieces[p]
	switch piece.Kind {
	case layout.TurnoutPiece:
		if t := &c.L.Turnouts[piece.Index]; t.Wiring.FrogFrom == layout.FrogFromContacts {
			return t.FrogGets
		}
	case layout.ThreeWayPiece:
		return c.L.ThreeWays[piece.Index].FrogGets
	case layout.CrossingPiece:
		return c.L.Crossings[piece.Index].FrogGets
	}
	return nil
}

// contactText is what contacts give, as a file has it: by setting, and where a piece has several frogs by frog and setting.
func contactText(contacts []layout.ContactMap) string {
	var frogs []string
	parts := map[string][]string{}
	for i := range contacts {
		m := &contacts[i]
		if parts[m.Frog] == nil {
			frogs = append(frogs, m.Frog)
		}
		word := layout.FrogGetsWords[m.Gets]
		if slices.Contains(crossingFrogs, m.Frog) {
			word = strings.TrimPrefix(word, "stock-")
		}
		parts[m.Frog] = append(parts[m.Frog], m.Setting+": "+word)
	}
	if len(frogs) == 1 && frogs[0] == "" {
		return "{" + strings.Join(parts[""], ", ") + "}"
	}
	var out []string
	for _, f := range frogs {
		out = append(out, f+": {"+strings.Join(parts[f], ", ")+"}")
	}
	return "{" + strings.Join(out, ", ") + "}"
}

// crossingFrogs are the frogs of a crossing or slip: their contacts give them the left or right rail of the route.
var crossingFrogs = []string{"west", "east", "north", "south"}

// frogTaps are places on buses of the sources that feed the rails around a frog which gets the legs of another source.
func frogTaps(c *rule.Case, p layout.PieceID, xs []*districts.Conflict) []string {
	piece := &c.L.Pieces[p]
	if piece.Kind != layout.TurnoutPiece || c.L.Turnouts[piece.Index].FrogTap.Bus < 0 {
		return nil
	}
	var out []string
	for _, x := range xs {
		if x.Demand < 0 || x.From.Source == x.To.Source {
			continue
		}
		for _, n := range c.FeedersNear(c.C.EndSpot[p][0]) {
			if t := &c.L.Feeders[n.Feeder].From[layout.B]; c.T.Feeds[n.Feeder].Source() == x.To.Source && t.Bus >= 0 && t.At.Known() {
				if text := c.TapText(t.Bus, t.At.Mid()); !slices.Contains(out, text) && len(out) < 1 {
					out = append(out, text)
				}
			}
		}
	}
	return out
}

// openContactMends wire the contacts that leave a frog open: to the other rail than the contacts that are wired.
func openContactMends(c *rule.Case, p layout.PieceID) []finding.Mend {
	section, name := pieceEntry(c, p)
	contacts := slices.Clone(contactsOf(c, p))
	var settings []string
	for i := range contacts {
		m := &contacts[i]
		if m.Gets != layout.GetsOpen {
			continue
		}
		for j := range contacts {
			if other, ok := exchanged[contacts[j].Gets]; ok && contacts[j].Frog == m.Frog && j != i {
				m.Gets = other
				settings = append(settings, m.Setting)
				break
			}
		}
	}
	if len(settings) == 0 {
		return nil
	}
	return []finding.Mend{{
		Text:    fmt.Sprintf("wire the contact for %s that feeds the frog of %s, to the rail that the other contact does not have", strings.Join(settings, ", "), name),
		Work:    finding.Work{Wires: len(settings)},
		Changes: []finding.Change{rule.SetKey(section, name, "frog-gets", contactText(contacts))},
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
	if open := openContactMends(c, p); len(open) > 0 {
		return open
	}
	live := t.Wiring
	live.FrogMetal, live.IsolatedToe, live.IsolatedHeel, live.FrogFrom = true, true, true, layout.FrogFromContacts
	return []finding.Mend{{
		Text:    text,
		Work:    finding.Work{Wires: 1, Devices: 1},
		Changes: []finding.Change{{Op: finding.OpSet, Section: "turnouts", Name: t.Name, Keys: []finding.Key{{Name: "wiring", Value: live.Text()}, {Name: "throw", Value: "break-first"}}}},
	}}
}
