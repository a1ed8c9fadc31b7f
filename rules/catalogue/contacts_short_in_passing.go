package catalogue

import (
	"fmt"
	"slices"

	"gapwise/netlist/layout"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var contactsShortInPassing = rule.Rule{
	ID:       rule.ContactsApart,
	Severity: finding.Caution,
	Title:    "a frog fed by blades and by contacts shorts between the two",
	Doc: rule.Doc{
		What:    "The metal frog of a turnout is one with its closures and blades, and contacts feed it as well. Blades leave their stock rail before they touch the other; contacts that change over before the blades have left, or after they have touched, give the frog one leg while the blades give it the other. The check looks at that moment as at a setting of its own.",
		Why:     "Every throw may short the booster for as long as blades and contacts disagree, and for good when the motor stops in between. Contacts that break before they make do not help: it is blades and contacts that meet.",
		Fix:     "Cut the closures off the frog, so that the contacts alone feed it, or take the contacts off, so that the blades alone do. Where contacts are seen to change while the blades are in the air, accept the finding with that reason.",
		Example: "turnouts:\n  T2: {hand: left, wiring: {blades: each-other, closures: blade, frog: metal, isolated: heel, frog-from: contacts}}",
	},
	Sources: []string{"electrical necessity: a short circuit; when contacts change over is " + rule.CommonPractice},
}

func init() { contactsShortInPassing.Check = checkContactsShortInPassing }

func checkContactsShortInPassing(c *rule.Case) {
	var told []layout.PieceID
	for i := range c.T.Conflicts {
		x := &c.T.Conflicts[i]
		id, p := c.ConflictRule(x)
		if id != c.Rule.ID || slices.Contains(told, p) {
			continue
		}
		told = append(told, p)
		c.Report(contactsApart(c, p, x))
	}
}

func contactsApart(c *rule.Case, p layout.PieceID, x *districts.Conflict) finding.Finding {
	name := c.L.Pieces[p].Name
	f := finding.Finding{
		Pos:      c.L.Pieces[p].Pos,
		Place:    c.PiecePlace(p),
		Severity: finding.Caution,
		Settings: c.Settings(x.Settings),
		Message:  fmt.Sprintf("the frog of %s is one with its blades and gets a leg from contacts too: while contacts and blades disagree, it joins %s to %s", name, c.Terminal(x.From), c.Terminal(x.To)),
		Why:      "each throw may short the booster for a moment, and for good when the motor stops in between",
		Witness:  c.WitnessFrom(x.From, x.Path),
		Fix:      fmt.Sprintf("cut the closures off the frog of %s, so that its contacts alone feed it, or take the contacts off, so that the blades alone do; break-before-make contacts do not help", name),
	}
	if piece := &c.L.Pieces[p]; piece.Kind == layout.TurnoutPiece {
		f.Mends = apartMends(&c.L.Turnouts[piece.Index])
	}
	return f
}

// apartMends cut the closures of a turnout off its frog, or leave the frog to the blades alone.
func apartMends(t *layout.Turnout) []finding.Mend {
	cut, blades := t.Wiring, t.Wiring
	cut.IsolatedToe = true
	blades.FrogFrom = layout.FrogFromBlades
	return []finding.Mend{
		{
			Text:    fmt.Sprintf("cut both closure rails of %s just before its frog, and fill the cuts", t.Name),
			Work:    finding.Work{Cuts: 2},
			Changes: []finding.Change{rule.SetKey("turnouts", t.Name, "wiring", cut.Text())},
		},
		{
			Text:    fmt.Sprintf("take the wire from the contacts off the frog of %s: the blades feed it", t.Name),
			Work:    finding.Work{Wires: 1},
			Changes: []finding.Change{rule.SetKey("turnouts", t.Name, "wiring", blades.Text())},
		},
	}
}
