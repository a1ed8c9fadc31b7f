package rules

import (
	"slices"
	"testing"

	"gapwise/netlist/layout"
	"gapwise/netlist/source"

	"gapwise/rules/finding"
)

func TestFold(t *testing.T) {
	l := &layout.Layout{Pieces: []layout.Piece{
		{Name: "T1"},
		{Name: "T2"},
		{Name: "spur", Ends: []layout.End{{Name: "start"}, {Name: "end"}}},
		{Name: "dock", Ends: []layout.End{{Name: "start"}, {Name: "end"}}},
	}}
	at := func(line int32) source.Pos { return source.Pos{Line: line, Col: 1} }
	got := fold(l, []finding.NotChecked{
		{What: "whether the contacts of T1 break before they make", Why: "no `throw`", Pos: at(3)},
		{What: "whether the bumper at spur end joins its rails", Why: "cast metal does", Pos: at(4)},
		{What: "whether the contacts of T2 break before they make", Why: "no `throw`", Pos: at(5)},
		{What: "whether the contacts of T2 break before they make", Why: "another reason", Pos: at(5)},
		{What: "whether the bumper at dock end joins its rails", Why: "cast metal does", Pos: at(6)},
		{What: "whether spur @ 3 in is fed", Why: "joints", Pos: at(7)},
		{What: "whether dock @ 3 in is fed", Why: "joints", Pos: at(8)},
		{What: "all about T1", Why: "a bound", Pos: at(9), Incomplete: true},
		{What: "all about T2", Why: "a bound", Pos: at(9), Incomplete: true},
		{What: "T1 to T2", Why: "both", Pos: at(10)},
		{What: "from T1 to T2", Why: "both", Pos: at(11)},
		{What: "from T2 to T1", Why: "both", Pos: at(12)},
	})
	want := []finding.NotChecked{
		{What: "whether the contacts of T1 and T2 break before they make", Why: "no `throw`", Pos: at(3)},
		{What: "whether the bumper at spur end and dock end joins its rails", Why: "cast metal does", Pos: at(4)},
		{What: "whether the contacts of T2 break before they make", Why: "another reason", Pos: at(5)},
		{What: "whether spur @ 3 in is fed", Why: "joints", Pos: at(7)},
		{What: "whether dock @ 3 in is fed", Why: "joints", Pos: at(8)},
		{What: "all about T1", Why: "a bound", Pos: at(9), Incomplete: true},
		{What: "all about T2", Why: "a bound", Pos: at(9), Incomplete: true},
		{What: "T1 to T2", Why: "both", Pos: at(10)},
		{What: "from T1 to T2", Why: "both", Pos: at(11)},
		{What: "from T2 to T1", Why: "both", Pos: at(12)},
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%+v\nwant\n%+v", got, want)
	}
}
