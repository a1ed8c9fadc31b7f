package layout

import "strings"

// Text is a wiring in full, as a layout file has it: "{blades: stock, closures: blade, frog: metal, isolated: both, frog-from: contacts}".
func (w Wiring) Text() string {
	parts := []string{
		"blades: " + [...]string{"stock", "each-other", "neither"}[w.Blades],
		"closures: " + [...]string{"blade", "frog", "both"}[w.Closures],
	}
	if w.FrogMetal {
		parts = append(parts, "frog: metal")
	} else {
		parts = append(parts, "frog: plastic")
	}
	parts = append(parts, "isolated: "+w.isolatedText(), "frog-from: "+[...]string{"nothing", "contacts", "device", "blades"}[w.FrogFrom])
	if w.Jumpers != YesNoUnsaid {
		parts = append(parts, "jumpers: "+[...]string{"", "yes", "no", "unknown"}[w.Jumpers])
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// isolatedText says where a metal frog is cut.
func (w Wiring) isolatedText() string {
	switch {
	case w.IsolatedToe && w.IsolatedHeel:
		return "both"
	case w.IsolatedToe:
		return "toe"
	case w.IsolatedHeel:
		return "heel"
	default:
		return "none"
	}
}
