package circuit

import (
	"slices"

	"gapwise/netlist/layout"
)

// Ends of a crossing or slip.
const (
	endA = 0
	endB = 1
	endC = 2
	endD = 3
)

// crossingPosition is one setting of a crossing or slip: its route, by name and ends, and
// whether the west end is set to a and the east end to c. On a single slip the two straight
// routes are one position of the blades, which tells neither (endsKnown false).
type crossingPosition struct {
	name         string
	from, to     int32
	westA, eastC bool
	endsKnown    bool
}

func crossingPositions(s layout.Slip) []crossingPosition {
	double := s == layout.NoSlip || s == layout.SlipBoth
	ac := crossingPosition{name: "a-c", from: endA, to: endC, westA: true, eastC: true, endsKnown: double}
	db := crossingPosition{name: "d-b", from: endD, to: endB, endsKnown: double}
	ab := crossingPosition{name: "a-b", from: endA, to: endB, westA: true, endsKnown: true}
	dc := crossingPosition{name: "d-c", from: endD, to: endC, eastC: true, endsKnown: true}
	switch s {
	case layout.SlipAB:
		return []crossingPosition{ac, db, ab}
	case layout.SlipDC:
		return []crossingPosition{ac, db, dc}
	case layout.SlipBoth:
		return []crossingPosition{ac, ab, db, dc}
	default:
		return []crossingPosition{ac, db}
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
		d = b.pieceDevice(p, names, crossingPassings(x))
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
	if (x.Preset == layout.PoweredFrogs || x.Preset == layout.SwitchedFrogs) && x.Throw == layout.ThrowUnsaid {
		b.leaveOut("whether the contacts of "+x.Name+" break before they make", "the layout does not say `throw`", x.Pos)
	}
	metal := [2]Metal{through, through}
	for i := range positions {
		at := i
		if d < 0 {
			at = -1
		}
		b.route(p, positions[i].from, positions[i].to, x.Length.Mid(), metal, d, at)
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
		node := b.inner(p, f.name)
		switch {
		case x.Preset == layout.JoinedFrogs:
			b.part(p, node, a[f.ac], f.part, true)
			b.part(p, node, dd[f.db], f.part, true)
		case x.Preset == layout.SwitchedFrogs && f.ac == f.db:
			b.part(p, node, a[f.ac], f.part, true)
		default:
			for i := range positions {
				b.movingFrog(p, x, d, i, &positions[i], f, node)
			}
			for k, m := range crossingPassings(x) {
				if m.name == Passing || m.name == Passing+", "+f.name+" end" {
					b.passingFrog(p, x, d, len(positions)+k, positions, f, node)
				}
			}
		}
	}
}

// crossingPassings are the positions while contacts that make before they break change over: all
// four frogs of a crossing at once, those of a slip end by end.
func crossingPassings(x *layout.Crossing) []moment {
	switch {
	case x.Throw != layout.MakeFirst:
		return nil
	case x.Preset == layout.PoweredFrogs:
		return []moment{{Passing, inTheAir}}
	case x.Preset == layout.SwitchedFrogs:
		return []moment{{Passing + ", west end", inTheAir}, {Passing + ", east end", inTheAir}}
	default:
		return nil
	}
}

// passingFrog joins a frog to everything that its contacts give it in some setting.
func (b *builder) passingFrog(p layout.PieceID, x *layout.Crossing, d int32, at int, positions []crossingPosition, f crossedRails, node int32) {
	var done []int32
	for i := range positions {
		rail, joined := contactRail(x, &positions[i], f)
		if end := b.end(p, positions[i].from)[rail]; joined && !slices.Contains(done, end) {
			done = append(done, end)
			b.partWhen(p, node, end, FrogContact, d, at)
		}
	}
}

// servedRail is the rail of the set route that a frog is part of. A frog of a crossing follows
// the route; on a slip west and east follow the blades of their end.
func servedRail(x *layout.Crossing, set *crossingPosition, f crossedRails) layout.Rail {
	onAC := set.from == endA
	if x.Preset == layout.SwitchedFrogs {
		onAC = (f.part == FrogWest && set.westA) || (f.part == FrogEast && set.eastC)
	}
	if onAC {
		return f.ac
	}
	return f.db
}

// contactRail is the rail that a frog's contact gives it in a setting; joined is false where it
// is open or nobody says.
func contactRail(x *layout.Crossing, set *crossingPosition, f crossedRails) (rail layout.Rail, joined bool) {
	g, said := gets(x.FrogGets, f.name, set.name)
	mapped := slices.ContainsFunc(x.FrogGets, func(m layout.ContactMap) bool { return m.Frog == f.name })
	switch {
	case g == layout.GetsStockLeft:
		return layout.Left, true
	case g == layout.GetsStockRight:
		return layout.Right, true
	case said || mapped || !set.endsKnown:
		return layout.Left, false
	default:
		return servedRail(x, set, f), true
	}
}

// movingFrog lays what one frog has in one setting, and what wheels need of it there: the
// rail of the set route, from where that begins.
func (b *builder) movingFrog(p layout.PieceID, x *layout.Crossing, d int32, position int, set *crossingPosition, f crossedRails, node int32) {
	start := b.end(p, set.from)
	b.demand(p, d, position, f.name, node, start[servedRail(x, set, f)])
	if rail, joined := contactRail(x, set, f); joined {
		b.partWhen(p, node, start[rail], FrogContact, d, position)
		return
	}
	switch g, said := gets(x.FrogGets, f.name, set.name); {
	case g == layout.GetsOpen:
	case said:
		b.unknownFrog(node, d, position, "the "+f.name+" frog of "+x.Name+" at "+set.name, "the layout says it is unknown", x.Pos)
	default:
		b.unknownFrog(node, d, position, "the "+f.name+" frog of "+x.Name+" at "+set.name, "the layout does not say what feeds it then", x.Pos)
	}
}

func (b *builder) demand(p layout.PieceID, d int32, position int, name string, frog, as int32) {
	b.c.Demands = append(b.c.Demands, Demand{Device: d, Position: int16(position), Frog: frog, As: as, Piece: p, Name: name})
}
