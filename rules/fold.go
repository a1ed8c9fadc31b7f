package rules

import (
	"slices"
	"strings"

	"gapwise/netlist/layout"

	"gapwise/rules/finding"
)

// fold makes one line of what was not checked for the same reason about several pieces, at
// the place of the first: eight turnouts without `throw` are one question.
func fold(l *layout.Layout, ns []finding.NotChecked) []finding.NotChecked {
	names := map[string]*layout.Piece{}
	for i := range l.Pieces {
		names[l.Pieces[i].Name] = &l.Pieces[i]
	}
	type kind struct{ rule, before, after, why string }
	var out []finding.NotChecked
	at := map[kind]int{}
	pieces := map[int][]string{}
	parts := map[int]kind{}
	for _, n := range ns {
		before, piece, after, ok := aboutPiece(names, n.What)
		k := kind{n.Rule, before, after, n.Why}
		if !ok || n.Incomplete {
			out = append(out, n)
			continue
		}
		i, known := at[k]
		if !known {
			i = len(out)
			at[k], parts[i] = i, k
			out = append(out, n)
		}
		if !slices.Contains(pieces[i], piece) {
			pieces[i] = append(pieces[i], piece)
		}
	}
	for i := range out {
		if list := pieces[i]; len(list) > 1 {
			last := len(list) - 1
			out[i].What = parts[i].before + strings.Join(list[:last], ", ") + " and " + list[last] + parts[i].after
		}
	}
	return out
}

// aboutPiece parts a text at the first piece it names, with the end of it that is meant if one
// is; not where it names a reading on it, or a second piece.
func aboutPiece(names map[string]*layout.Piece, text string) (before, piece, after string, ok bool) {
	words := strings.Split(text, " ")
	for i, w := range words {
		p := names[w]
		if p == nil || i == 0 {
			continue
		}
		to := i + 1
		if to < len(words) && slices.ContainsFunc(p.Ends, func(e layout.End) bool { return e.Name == words[to] }) {
			to++
		}
		if to < len(words) && words[to] == "@" {
			return "", "", "", false
		}
		for _, rest := range words[to:] {
			if names[strings.TrimRight(rest, ",")] != nil {
				return "", "", "", false
			}
		}
		before, piece = strings.Join(words[:i], " ")+" ", strings.Join(words[i:to], " ")
		if to < len(words) {
			after = " " + strings.Join(words[to:], " ")
		}
		return before, piece, after, true
	}
	return "", "", "", false
}
