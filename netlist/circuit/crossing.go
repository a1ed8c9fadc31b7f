package circuit

import "gapwise/netlist/layout"

// Ends of a crossing or slip.
const (
	endA = 0
	endB = 1
	endC = 2
	endD = 3
)

// crossingPosition is one position of a crossing or slip: its name, the routes it
// serves, and whether the west end is set to a and the east end to c (unknown on a single slip's
// straight position, which serves both straight routes).
type crossingPosition struct {
	name         string
	routes       [][2]int32
	words        []string
	westA, eastC bool
	endsKnown    bool
}

func crossingPositions(s layout.Slip) []crossingPosition {
	ac, db := [2]int32{endA, endC}, [2]int32{endD, endB}
	ab, dc := [2]int32{endA, endB}, [2]int32{endD, endC}
	straight := crossingPosition{name: "a-c or d-b", routes: [][2]int32{ac, db}, words: []string{"a-c", "d-b"}}
	slipAB := crossingPosition{name: "a-b", routes: [][2]int32{ab}, words: []string{"a-b"}, westA: true, endsKnown: true}
	slipDC := crossingPosition{name: "d-c", routes: [][2]int32{dc}, words: []string{"d-c"}, eastC: true, endsKnown: true}
	onlyAC := crossingPosition{name: "a-c", routes: [][2]int32{ac}, words: []string{"a-c"}, westA: true, eastC: true, endsKnown: true}
	onlyDB := crossingPosition{name: "d-b", routes: [][2]int32{db}, words: []string{"d-b"}, endsKnown: true}
	switch s {
	case layout.SlipAB:
		return []crossingPosition{straight, slipAB}
	case layout.SlipDC:
		return []crossingPosition{straight, slipDC}
	case layout.SlipBoth:
		return []crossingPosition{onlyAC, slipAB, onlyDB, slipDC}
	default:
		return []crossingPosition{onlyAC, onlyDB}
	}
}

// crossing lays a crossing or slip: language.md section 5.
func (b *builder) crossing(p layout.PieceID) {
	x := &b.l.Crossings[b.l.Pieces[p].Index]
	positions := crossingPositions(x.Slip)
	d := int32(-1)
	if x.Slip != layout.NoSlip || x.Preset == layout.PoweredFrogs {
		names := make([]string, len(positions))
		for i := range positions {
			names[i] = positions[i].name
		}
		d = b.pieceDevice(p, names)
	}
	a, bb, c, dd := b.end(p, endA), b.end(p, endB), b.end(p, endC), b.end(p, endD)
	through := Joined
	if x.Jumpers == layout.No || x.Jumpers == layout.YesNoUnknown {
		through = jumperMetal(x.Jumpers)
	}
	if through != Open {
		sure := through == Joined
		for r, part := range [2]Part{RouteLeft, RouteRight} {
			b.part(p, a[r], c[r], part, sure)
			b.part(p, dd[r], bb[r], part, sure)
			if x.Slip == layout.SlipAB || x.Slip == layout.SlipBoth {
				b.part(p, a[r], bb[r], SlipTie, sure)
			}
			if x.Slip == layout.SlipDC || x.Slip == layout.SlipBoth {
				b.part(p, dd[r], c[r], SlipTie, sure)
			}
		}
	}
	if x.Preset != layout.DeadFrogs {
		b.crossingFrogs(p, x, d, positions, a, dd)
	}
	metal := [2]Metal{through, through}
	for i := range positions {
		for _, r := range positions[i].routes {
			if d < 0 {
				b.route(p, r[0], r[1], x.Length.Mid(), metal, -1, -1)
			} else {
				b.route(p, r[0], r[1], x.Length.Mid(), metal, d, i)
			}
		}
	}
}

// crossedRails are, for one frog, the rail of the a-c route and that of the d-b route
// that cross in it.
type crossedRails struct {
	name   string
	part   Part
	ac, db layout.Rail
}

var crossingFrogNames = [4]crossedRails{
	{"west", FrogWest, layout.Right, layout.Left},
	{"east", FrogEast, layout.Left, layout.Right},
	{"north", FrogNorth, layout.Left, layout.Left},
	{"south", FrogSouth, layout.Right, layout.Right},
}

func (b *builder) crossingFrogs(p layout.PieceID, x *layout.Crossing, d int32, positions []crossingPosition, a, dd [2]int32) {
	for _, f := range crossingFrogNames {
		node := b.node()
		switch x.Preset {
		case layout.JoinedFrogs:
			b.part(p, node, a[f.ac], f.part, true)
			b.part(p, node, dd[f.db], f.part, true)
		case layout.PoweredFrogs:
			for i := range positions {
				as := a[f.ac]
				if positions[i].name == "d-b" {
					as = dd[f.db]
				}
				b.crossingContact(p, x, d, i, f, node, as, positions[i].words, a, true)
				b.demand(p, d, i, f.name, node, as)
			}
		case layout.SwitchedFrogs:
			b.slipFrog(p, x, d, positions, f, node, a)
		}
	}
}

// slipFrog lays one frog of a slip with switched frogs: north and south are fixed, west
// and east follow their end's blades.
func (b *builder) slipFrog(p layout.PieceID, x *layout.Crossing, d int32, positions []crossingPosition, f crossedRails, node int32, a [2]int32) {
	if f.ac == f.db {
		b.part(p, node, a[f.ac], f.part, true)
		return
	}
	for i := range positions {
		as := a[f.db]
		if (f.part == FrogWest && positions[i].westA) || (f.part == FrogEast && positions[i].eastC) {
			as = a[f.ac]
		}
		b.crossingContact(p, x, d, i, f, node, as, positions[i].words, a, positions[i].endsKnown)
		if positions[i].endsKnown {
			b.demand(p, d, i, f.name, node, as)
			continue
		}
		// the straight position of a single slip serves both routes: wheels on each need
		// the frog differently
		b.demand(p, d, i, f.name, node, a[f.ac])
		b.demand(p, d, i, f.name, node, a[f.db])
	}
}

// crossingContact joins a frog in one position, by its contact map or by the preset;
// known says that the preset tells what the contact does there.
func (b *builder) crossingContact(p layout.PieceID, x *layout.Crossing, d int32, position int, f crossedRails, node, preset int32, words []string, a [2]int32, known bool) {
	for _, word := range words {
		g, said := gets(x.FrogGets, f.name, word)
		switch {
		case g == layout.GetsStockLeft:
			b.partWhen(p, node, a[layout.Left], FrogContact, d, position)
		case g == layout.GetsStockRight:
			b.partWhen(p, node, a[layout.Right], FrogContact, d, position)
		case g == layout.GetsOpen:
		case said || !known:
			b.leaveOut("the "+f.name+" frog of "+x.Name+" at "+word, "the layout does not say what feeds it then", x.Pos)
		default:
			b.partWhen(p, node, preset, FrogContact, d, position)
		}
	}
}

func (b *builder) demand(p layout.PieceID, d int32, position int, name string, frog, as int32) {
	b.c.Demands = append(b.c.Demands, Demand{Device: d, Position: int16(position), Frog: frog, As: as, Piece: p, Name: name})
}
