package circuit_test

import (
	"fmt"
	"slices"
	"strings"
)

// subject is the piece that a picture of one piece is about.
const subject = "P"

// sections are the sections of the pieces that pictures show, with the keys that a picture leaves out.
var sections = map[string]struct{ section, keys string }{
	"turnout":        {"turnouts", "length: 11 in"},
	"three-way":      {"three-ways", "length: 12 in"},
	"crossing":       {"crossings", "length: 6 in, angle: 60 deg"},
	"slip":           {"slips", "length: 12 in"},
	"turntable":      {"turntables", "bridge: 12 in, from: booster one"},
	"transfer-table": {"transfer-tables", "bridge: 4 ft, from: booster one"},
}

// layoutText is the layout that a picture describes: the text it holds, or its piece with
// a track at each end.
func (p *picture) layoutText() (string, error) {
	if p.kind == "track" {
		return head + strings.Join(p.yaml, "\n") + "\n", nil
	}
	s, known := sections[p.kind]
	if !known {
		return "", fmt.Errorf("no such piece: %s", p.kind)
	}
	keys := append([]string{s.keys}, p.keys...)
	switch p.kind {
	case "turnout":
		keys = append(keys, "hand: "+p.word)
	case "slip":
		keys = append(keys, "slip: "+p.word)
	}
	text := head + power + "defaults: {joint: {kind: soldered}}\n" +
		s.section + ":\n  " + subject + ": {" + strings.Join(keys, ", ") + "}\ntracks:\n"
	for _, end := range p.ends() {
		text += fmt.Sprintf("  at-%s: {from: %s %s, to: end, length: 3 ft}\n", end, subject, end)
	}
	return text, nil
}

// ends are the ends of the picture's piece, told by its members.
func (p *picture) ends() []string {
	var ends []string
	for _, m := range p.members() {
		if end, _, dotted := strings.Cut(m, "."); dotted && end != "bridge" && !slices.Contains(ends, end) {
			ends = append(ends, end)
		}
	}
	return ends
}
