package circuit

import "gapwise/netlist/layout"

// frogRule is what one frog of a three-way follows and gets: thrown and rest are the
// stock rails it goes with, thrownWord and restWord the keys of `frog-gets`.
type frogRule struct {
	name                 string
	second               bool // follows the second throw (lapped) or the right blades (symmetric)
	thrown, rest         layout.Rail
	thrownWord, restWord string
}

// threeWayPlan is one construction: its positions with what each throw does there and
// the route it serves.
type threeWayPlan struct {
	positions []string
	first     []bool // the first throw (left blades of a symmetric one) is thrown
	second    []bool
	route     []int32 // end served
	frogs     [3]frogRule
}

// The three constructions; language.md section 5, "Three-way".
var (
	lappedLeft = threeWayPlan{
		positions: []string{"left", "left, second throw thrown", "straight", "right"},
		first:     []bool{true, true, false, false},
		second:    []bool{false, true, false, true},
		route:     []int32{1, 1, 2, 3},
		frogs: [3]frogRule{
			{name: "left-frog", thrown: layout.Right, rest: layout.Left, thrownWord: "left", restWord: "straight"},
			{name: "middle-frog", thrown: layout.Right, rest: layout.Left, thrownWord: "left", restWord: "right"},
			{name: "right-frog", second: true, thrown: layout.Left, rest: layout.Right, thrownWord: "right", restWord: "straight"},
		},
	}
	lappedRight = threeWayPlan{
		positions: []string{"right", "right, second throw thrown", "straight", "left"},
		first:     []bool{true, true, false, false},
		second:    []bool{false, true, false, true},
		route:     []int32{3, 3, 2, 1},
		frogs: [3]frogRule{
			{name: "right-frog", thrown: layout.Left, rest: layout.Right, thrownWord: "right", restWord: "straight"},
			{name: "middle-frog", thrown: layout.Left, rest: layout.Right, thrownWord: "right", restWord: "left"},
			{name: "left-frog", second: true, thrown: layout.Right, rest: layout.Left, thrownWord: "left", restWord: "straight"},
		},
	}
	symmetric = threeWayPlan{
		positions: []string{"left", "straight", "right"},
		first:     []bool{true, false, false},
		second:    []bool{false, false, true},
		route:     []int32{1, 2, 3},
		frogs:     lappedLeft.frogs,
	}
)

func (b *builder) threeWay(p layout.PieceID) {
	t := &b.l.ThreeWays[b.l.Pieces[p].Index]
	plan := &symmetric
	if t.Lapped {
		plan = &lappedLeft
		if t.FirstRight {
			plan = &lappedRight
		}
	}
	d := b.pieceDevice(p, plan.positions, threeWayPassings(t))
	points, legL, legS, legR := b.end(p, 0), b.end(p, 1), b.end(p, 2), b.end(p, 3)
	b.part(p, points[layout.Left], legL[layout.Left], StockLeft, true)
	b.part(p, points[layout.Right], legR[layout.Right], StockRight, true)
	leftBetween, rightBetween := b.inner(p, "left-between"), b.inner(p, "right-between")
	inner := jumperMetal(t.Jumpers)
	if inner != Open {
		sure := inner == Joined
		b.part(p, points[layout.Right], leftBetween, JumperRail, sure)
		b.part(p, leftBetween, legL[layout.Right], JumperRail, sure)
		b.part(p, points[layout.Left], legS[layout.Left], JumperRail, sure)
		b.part(p, points[layout.Right], legS[layout.Right], JumperRail, sure)
		b.part(p, points[layout.Left], rightBetween, JumperRail, sure)
		b.part(p, rightBetween, legR[layout.Left], JumperRail, sure)
	}
	if t.Preset != layout.DeadFrog {
		for i := range plan.frogs {
			b.threeWayFrog(p, t, plan, &plan.frogs[i], d, points)
		}
		if t.Preset == layout.SwitchedFrog && t.Throw == layout.ThrowUnsaid {
			b.leaveOut("whether the contacts of "+t.Name+" break before they make", "the layout does not say `throw`", t.Pos)
		}
	}
	metal := map[int32][2]Metal{1: {Joined, inner}, 2: {inner, inner}, 3: {inner, Joined}}
	served := [4]bool{}
	for i, end := range plan.route {
		if !served[end] {
			served[end] = true
			b.route(p, 0, end, t.Length.Mid(), metal[end], d, i)
		}
	}
}

// threeWayFrog lays one metal frog: its contacts by throw, and what wheels need of it.
func (b *builder) threeWayFrog(p layout.PieceID, t *layout.ThreeWay, plan *threeWayPlan, f *frogRule, d int32, points [2]int32) {
	node := b.inner(p, f.name)
	if t.Preset == layout.FlippedFrog {
		b.flippedFrog(p, f.name, node, points)
		return
	}
	for i, end := range plan.route {
		if need, crosses := threeWayNeeds(f.name, end); crosses {
			b.c.Demands = append(b.c.Demands, Demand{Device: d, Position: int16(i), Frog: node, As: points[need], Piece: p, Name: f.name})
		}
		if t.Preset != layout.SwitchedFrog {
			continue
		}
		thrown := plan.first[i]
		if f.second {
			thrown = plan.second[i]
		}
		b.threeWayContact(p, t, f, d, i, node, points, thrown, true)
	}
	if t.Preset == layout.SwitchedFrog && t.Throw == layout.MakeFirst {
		at := len(plan.positions)
		if f.second {
			at++
		}
		b.threeWayContact(p, t, f, d, at, node, points, true, false)
		b.threeWayContact(p, t, f, d, at, node, points, false, false)
	}
}

// passings are the positions of a three-way's two throws whose contacts make before they break.
var passings = []moment{{Passing + ", first throw", inTheAir}, {Passing + ", second throw", inTheAir}}

func threeWayPassings(t *layout.ThreeWay) []moment {
	if t.Preset == layout.SwitchedFrog && t.Throw == layout.MakeFirst {
		return passings
	}
	return nil
}

// threeWayContact joins a frog in position at as its contact does with its throw thrown or at
// rest. say tells of what the layout leaves open.
func (b *builder) threeWayContact(p layout.PieceID, t *layout.ThreeWay, f *frogRule, d int32, at int, node int32, points [2]int32, thrown, say bool) {
	rail, word := f.rest, f.restWord
	if thrown {
		rail, word = f.thrown, f.thrownWord
	}
	if len(t.FrogGets) > 0 {
		g, said := gets(t.FrogGets, f.name, word)
		switch {
		case g == layout.GetsStockLeft:
			rail = layout.Left
		case g == layout.GetsStockRight:
			rail = layout.Right
		case g == layout.GetsOpen:
			return
		default:
			if !say {
				return
			}
			why := "the layout says it is unknown"
			if !said {
				why = "the layout does not say what feeds it then"
			}
			b.unknownFrog(node, d, at, "the "+f.name+" of "+t.Name+" at "+word, why, t.Pos)
			return
		}
	}
	b.partWhen(p, node, points[rail], FrogContact, d, at)
}

// threeWayNeeds says which stock rail a frog must go with for wheels on the route to
// an end, and whether that route crosses it at all.
func threeWayNeeds(frog string, end int32) (layout.Rail, bool) {
	switch {
	case end == 1 && frog != "right-frog":
		return layout.Right, true
	case end == 2 && frog == "left-frog":
		return layout.Left, true
	case end == 2 && frog == "right-frog":
		return layout.Right, true
	case end == 3 && frog != "left-frog":
		return layout.Left, true
	default:
		return layout.Left, false
	}
}
