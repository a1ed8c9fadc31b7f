package reader

import (
	"fmt"
	"slices"
	"strings"
)

// unknownName notes that nothing of kind k is called t, unless what was so called may
// have failed to decode.
func (r *reader) unknownName(k thing, u *unit, t text) {
	if r.names[k].lost || r.blind || r.lostNames[t.s] {
		return
	}
	r.noteUnknown(u, thingWords[k]+" "+t.s, t, func() problem {
		there := r.candidates(k, u)
		p := problem{message: "no " + thingWords[k] + " " + t.s, nearest: r.nearest(t.s, there)}
		if len(r.names[k].list) == 0 {
			p.expected = "this layout has none"
		} else if p.nearest == "" {
			p.expected = whatThereIs(there)
		}
		return p
	})
}

// maxThere is how many names are few enough to be listed whole.
const maxThere = 8

// whatThereIs lists names where they are few: for an unknown one that none is near.
func whatThereIs(names []string) string {
	switch n := len(names); {
	case n == 1:
		return "there is: " + names[0]
	case n > 1 && n <= maxThere:
		return "there are: " + strings.Join(names, ", ")
	default:
		return ""
	}
}

// unknownAt are the places at which one unknown name stands.
type unknownAt struct {
	at   []text
	tell func() problem
}

// noteUnknown notes a place at which an unknown name stands. As one slip where the name
// is given makes it unknown everywhere, it is told once, with the other lines.
func (r *reader) noteUnknown(u *unit, name string, t text, tell func() problem) {
	key := u.prefix + name
	if r.unknown[key] == nil {
		r.unknown[key] = &unknownAt{tell: tell}
		r.unknownOrder = append(r.unknownOrder, key)
	}
	r.unknown[key].at = append(r.unknown[key].at, t)
}

// tellUnknown reports each unknown name at the first place where it stands.
func (r *reader) tellUnknown() {
	for _, key := range r.unknownOrder {
		x := r.unknown[key]
		slices.SortStableFunc(x.at, func(a, b text) int {
			switch {
			case a.pos.Before(b.pos):
				return -1
			case b.pos.Before(a.pos):
				return 1
			}
			return 0
		})
		x.at = slices.CompactFunc(x.at, func(a, b text) bool { return a.pos == b.pos })
		p := x.tell()
		if len(x.at) > 1 {
			if p.expected == "" {
				p.expected = "a name of this layout"
			}
			p.expected += "; this one also stands at " + r.otherLines(x.at)
		}
		r.blame(x.at[0], p)
	}
}

// otherLines lists where the further of some texts stand, the first few.
func (r *reader) otherLines(at []text) string {
	const most = 3
	var lines []string
	for _, t := range at[1:] {
		if len(lines) == most {
			return strings.Join(lines, ", ") + fmt.Sprintf(" and %d more", len(at)-1-most)
		}
		lines = append(lines, r.line(t.pos, at[0].pos))
	}
	return strings.Join(lines, ", ")
}
