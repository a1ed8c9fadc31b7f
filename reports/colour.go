package reports

// Colours of a terminal, by what they mark.
const (
	noColour = ""
	red      = "\x1b[1;31m"
	yellow   = "\x1b[1;33m"
	green    = "\x1b[1;32m"
	cyan     = "\x1b[36m"
	plain    = "\x1b[0m"
)

var verdictColours = map[Verdict]string{Clean: green, Cautions: yellow, Incomplete: yellow, Faults: red, CannotRead: red}

var severityColours = map[string]string{"note": cyan, "caution": yellow, "fault": red}

// paint puts a word in a colour where colours are wanted.
func (t Text) paint(colour, word string) string {
	if !t.Colour || colour == noColour {
		return word
	}
	return colour + word + plain
}
