package reader

import (
	"fmt"

	"gapwise/netlist/layout"
)

// member is what the i-th of a row's n members is called, and its number.
func (r *reader) member(e *railEntry, i, n int, isRow bool, index int32) (layout.Entry, layout.Row, bool) {
	entry := e.rec.entry()
	if !isRow {
		if entry.Name != "" && !r.register(e.rec.section.thing, e.rec.unit, e.rec.name, index) {
			return entry, layout.Row{}, false
		}
		return entry, layout.Row{}, true
	}
	if entry.Name != "" {
		if i == 0 && !r.register(e.rec.section.thing, e.rec.unit, e.rec.name, rowIndex) {
			return entry, layout.Row{}, false
		}
		named := e.rec.name
		named.s = fmt.Sprintf("%s-%d", named.s, i+1)
		if !r.register(e.rec.section.thing, e.rec.unit, named, index) {
			return entry, layout.Row{}, false
		}
		entry.Name = e.rec.unit.prefix + named.s
	}
	return entry, layout.Row{Number: i + 1, Count: n}, true
}

// rowIndex stands for the index of a row's own name, which names no single member.
const rowIndex = -2
