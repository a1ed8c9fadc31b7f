package reader

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/source"
)

// maxGuessing is how many names are compared, in all, to find nearest ones. It keeps
// a file full of wrong names from taking minutes.
const maxGuessing = 500_000

// maxListed is how many words of an `expected:` list are printed.
const maxListed = 12

// problem is a mistake under construction.
type problem struct {
	message, expected, nearest string
}

// blame reports a mistake at t, unless the line or file it stands in is torn.
func (r *reader) blame(t text, p problem) {
	if r.tornFiles[t.pos.File] || r.torn[lineAt{t.pos.File, t.pos.Line}] {
		return
	}
	r.problems = append(r.problems, source.Problem{Pos: t.pos, Width: t.width, Message: source.Safe(p.message), Expected: p.expected, Nearest: p.nearest})
}

func (r *reader) blamef(t text, format string, args ...any) {
	r.blame(t, problem{message: fmt.Sprintf(format, args...)})
}

// nearest guesses which of among was meant.
func (r *reader) nearest(word string, among []string) string {
	r.guessed += len(among)
	if r.guessed > maxGuessing {
		return ""
	}
	return source.Nearest(word, among)
}

// listed joins words for `expected:`, shortened if long.
func listed(words []string) string {
	words = slices.DeleteFunc(slices.Clone(words), func(w string) bool { return w == "" })
	if len(words) > maxListed {
		return fmt.Sprintf("%s and %d more", strings.Join(words[:maxListed], ", "), len(words)-maxListed)
	}
	return strings.Join(words, ", ")
}

// orList joins words as "a, b or c".
func orList(words []string) string {
	words = slices.DeleteFunc(slices.Clone(words), func(w string) bool { return w == "" })
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// settled are the problems in the order of the files, each once: a module that is used
// twice has its mistakes told once.
func (r *reader) settled() []source.Problem {
	ps := r.problems
	slices.SortStableFunc(ps, func(a, b source.Problem) int {
		switch {
		case a.Pos.Before(b.Pos):
			return -1
		case b.Pos.Before(a.Pos):
			return 1
		}
		return 0
	})
	hintOnce(ps)
	seen := make(map[source.Problem]bool, len(ps))
	ps = slices.DeleteFunc(ps, func(p source.Problem) bool {
		key := source.Problem{Pos: p.Pos, Message: p.Message}
		for _, u := range r.units {
			if u.prefix != "" && u.file == p.Pos.File {
				key.Message = strings.ReplaceAll(key.Message, u.prefix, "")
			}
		}
		again := seen[key]
		seen[key] = true
		return again
	})
	if len(ps) > maxTold {
		last := ps[maxTold-1]
		last.Message, last.Expected, last.Nearest = fmt.Sprintf("over %d mistakes; the rest is not shown", maxTold), "", ""
		ps = append(ps[:maxTold], last)
	}
	return ps
}

// hintOnce leaves the hint about gaps at the first of each file's gaps only.
func hintOnce(ps []source.Problem) {
	hinted := map[int32]bool{}
	for i := range ps {
		if ps[i].Expected != gapHint {
			continue
		}
		if hinted[ps[i].Pos.File] {
			ps[i].Expected = ""
		}
		hinted[ps[i].Pos.File] = true
	}
}

// maxTold is how many problems are told about one layout.
const maxTold = 1000

// line says where something stands, for a message at another place: "line 9", or
// "yard.yaml:9" in another file.
func (r *reader) line(there, here source.Pos) string {
	if there.File != here.File && int(there.File) < len(r.lay.Files) {
		return fmt.Sprintf("%s:%d", r.lay.Files[there.File].Name, there.Line)
	}
	return fmt.Sprintf("line %d", there.Line)
}
