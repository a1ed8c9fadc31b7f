package reader

import (
	"slices"
	"strings"

	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

// splitText reports a text in braces that its commas split, as in `label: north leg, behind
// the mill`: its first part is a value, the others came out as keys of the map n. It
// returns how many of the keys from the i-th on are such parts, 0 when that one is none.
func (r *reader) splitText(s *section, n *tree.Node, i int) int {
	if n.Bad || i == 0 {
		return 0
	}
	text := &n.Fields[i-1]
	k, known := s.index[text.Key]
	if !known || !isProse(&s.keys[k]) || text.Value.Kind != tree.Scalar || text.Value.Quoted || text.Value.IsEmpty() || text.Value.Bad {
		return 0
	}
	whole, parts := []string{text.Value.Text}, n.Fields[i:]
	for j := range parts {
		if !r.isPart(s, &parts[j], text) {
			parts = parts[:j]
			break
		}
		whole = append(whole, parts[j].Key)
	}
	if len(parts) == 0 {
		return 0
	}
	all, quote := source.Safe(strings.Join(whole, ", ")), `"`
	if strings.Contains(all, quote) {
		quote = "'"
	}
	p := problem{message: "a comma splits inside braces; quote the text", expected: text.Key + ": " + quote + all + quote}
	if len(all) > maxQuoted || quote == "'" && strings.Contains(all, quote) {
		p.expected = "quotes round all of it"
	}
	r.blame(keyText(&parts[0]), p)
	return len(parts)
}

// maxQuoted is the longest text, in bytes, that is repeated in quotes.
const maxQuoted = 200

// isProse reports whether a key takes the owner's own words.
func isProse(k *key) bool {
	return k.kind.value == textKind.value && k.name != "at" && k.name != "file"
}

// isPart reports whether an unknown key may be part of the text before it: it has no
// value, stands on the text's line and is no slip of a key.
func (r *reader) isPart(s *section, f, text *tree.Field) bool {
	names := s.keyNames()
	ws := keyText(f).words()
	return f.Value.IsEmpty() && !f.Value.Bad && f.KeyPos.Line == text.KeyPos.Line &&
		len(ws) > 0 && !slices.Contains(names, ws[0].s) && r.nearest(f.Key, names) == ""
}
