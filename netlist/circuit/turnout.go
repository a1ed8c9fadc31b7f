package circuit

import (
	"fmt"
	"strings"

	"gapwise/netlist/layout"
)

// Passing is the moment of a throw whose contacts make before they break, and how the moments begin of a piece with several
// throws, and those in which contacts lie otherwise than blades. Device.Momentary tells them from settings: a changeover or a track
// may have such a name too.
const Passing = "passing"

// Apart reports whether a position is a moment in which contacts lie otherwise than the blades they belong to.
func Apart(position string) bool { return strings.HasPrefix(position, Passing+", blades ") }

// inTheAir is the moment in which contacts that make first are closed both ways, and blades touch nothing.
var inTheAir = Moment{Blades: -1, Contacts: -1}

// throwMoments are the moments in which a turnout's metal differs from that in both its settings.
func throwMoments(t *layout.Turnout, legs []string) []moment {
	w := &t.Wiring
	if !w.FrogMetal || w.FrogFrom != layout.FrogFromContacts {
		return nil
	}
	var out []moment
	if t.Throw == layout.MakeFirst {
		out = append(out, moment{Passing, inTheAir})
	}
	if oneWithBlades(w) {
		left, right := int16(t.Hand.LegLeft())-1, int16(t.Hand.LegRight())-1
		for _, m := range [2]Moment{{left, right}, {right, left}} {
			out = append(out, moment{fmt.Sprintf("%s, blades %s and contacts %s", Passing, legs[m.Blades], legs[m.Contacts]), m})
		}
	}
	return out
}

// turnout lays a two-legged turnout: language.md section 5. SL and SR are the stock
// rails, BL, BR the blades, CL, CR the closure rails, F the frog, IL the inner rail of the
// left leg and IR that of the right leg.
func (b *builder) turnout(p layout.PieceID) {
	t := &b.l.Turnouts[b.l.Pieces[p].Index]
	w := t.Wiring
	left, right := t.Hand.LegLeft(), t.Hand.LegRight()
	points, legL, legR := b.end(p, layout.TurnoutPoints), b.end(p, left), b.end(p, right)
	sl, sr := points[layout.Left], points[layout.Right]
	il, ir := legL[layout.Right], legR[layout.Left]
	positions := []string{b.l.Pieces[p].Ends[1].Name, b.l.Pieces[p].Ends[2].Name}
	setLeft, setRight := int(left)-1, int(right)-1
	d := b.pieceDevice(p, positions, throwMoments(t, positions))

	b.part(p, sl, legL[layout.Left], StockLeft, true)
	b.part(p, sr, legR[layout.Right], StockRight, true)

	bl, br, cl, cr := b.node(), b.node(), b.node(), b.node()
	switch w.Blades {
	case layout.BladesStock:
		b.part(p, sl, bl, BladeBondLeft, true)
		b.part(p, sr, br, BladeBondRight, true)
	case layout.BladesEachOther:
		b.part(p, bl, br, BladesTied, true)
	}
	if w.Blades != layout.BladesStock {
		b.partWhen(p, sr, br, BladeTouchRight, d, setLeft)
		b.partWhen(p, sl, bl, BladeTouchLeft, d, setRight)
		for i, m := range b.c.Devices[d].Moments {
			switch at := len(positions) + i; int(m.Blades) {
			case setLeft:
				b.partWhen(p, sr, br, BladeTouchRight, d, at)
			case setRight:
				b.partWhen(p, sl, bl, BladeTouchLeft, d, at)
			}
		}
	}
	if w.Closures != layout.ClosuresFrog {
		b.part(p, bl, cl, ClosureLeft, true)
		b.part(p, br, cr, ClosureRight, true)
	}
	inner := Open
	if !w.FrogMetal || w.IsolatedHeel {
		inner = jumperMetal(w.Jumpers)
		if inner != Open {
			b.part(p, cl, ir, JumperLeft, inner == Joined)
			b.part(p, cr, il, JumperRight, inner == Joined)
		}
	}
	if w.FrogMetal {
		b.frog(p, t, d, points, [2]int32{bl, br}, [2]int32{cl, cr}, [2]int32{il, ir})
	}
	if w.Blades != layout.BladesStock || w.Closures == layout.ClosuresFrog {
		inner = Open // not joined to its stock rail in every setting
	}
	length := t.Length.Mid()
	b.route(p, layout.TurnoutPoints, left, length, [2]Metal{Joined, inner}, d, setLeft)
	b.route(p, layout.TurnoutPoints, right, length, [2]Metal{inner, Joined}, d, setRight)
}

// oneWithBlades reports whether a frog gets a leg by the blades' touching and by contacts too: metal from the blades to the frog, and
// contacts that feed it. Unless both change over while the blades are in the air, the two legs meet.
func oneWithBlades(w *layout.Wiring) bool {
	return w.FrogMetal && w.FrogFrom == layout.FrogFromContacts && !w.IsolatedToe && w.Closures != layout.ClosuresFrog && w.Blades != layout.BladesStock
}

// frog lays a turnout's metal frog and what feeds it.
func (b *builder) frog(p layout.PieceID, t *layout.Turnout, d int32, points, blade, closure, inner [2]int32) {
	w := t.Wiring
	setLeft, setRight := int(t.Hand.LegLeft())-1, int(t.Hand.LegRight())-1
	f := b.inner(p, "frog")
	if !w.IsolatedToe {
		b.part(p, closure[0], f, ClosureFrogLeft, true)
		b.part(p, closure[1], f, ClosureFrogRight, true)
	}
	if !w.IsolatedHeel {
		b.part(p, f, inner[0], FrogLegLeft, true)
		b.part(p, f, inner[1], FrogLegRight, true)
	}
	demand := func(position int, as int32) {
		b.c.Demands = append(b.c.Demands, Demand{Device: d, Position: int16(position), Frog: f, As: as, Piece: p, Name: "frog"})
	}
	if w.FrogFrom == layout.FrogFromDevice {
		b.flippedFrog(p, "frog", f, points)
		return
	}
	demand(setLeft, points[layout.Right])
	demand(setRight, points[layout.Left])
	switch w.FrogFrom {
	case layout.FrogFromBlades:
		if w.Closures == layout.ClosuresFrog || w.IsolatedToe {
			b.part(p, f, blade[0], FrogBlades, true)
			b.part(p, f, blade[1], FrogBlades, true)
		}
	case layout.FrogFromContacts:
		b.contact(p, t, d, f, points, setLeft, setLeft)
		b.contact(p, t, d, f, points, setRight, setRight)
		for i, m := range b.c.Devices[d].Moments {
			for set := range b.c.Devices[d].Rests() {
				if m.Contacts < 0 || int(m.Contacts) == set {
					b.contact(p, t, d, f, points, set, b.c.Devices[d].Rests()+i)
				}
			}
		}
		if t.Throw == layout.ThrowUnsaid {
			b.leaveOut("whether the contacts of "+t.Name+" break before they make", "the layout does not say `throw`", t.Pos)
		}
	}
}

// contact joins a switched frog in position at as its contacts do in the setting set: at is
// that setting, or a moment in which they lie as in it. A contact map says what it gets; where there
// is none, the preset does.
func (b *builder) contact(p layout.PieceID, t *layout.Turnout, d, f int32, points [2]int32, set, at int) {
	word := b.c.Devices[d].Positions[set]
	g, said := gets(t.FrogGets, "", word)
	if len(t.FrogGets) == 0 {
		g = layout.GetsStockLeft
		if set == int(t.Hand.LegLeft())-1 {
			g = layout.GetsStockRight
		}
	}
	node := int32(-1)
	why := "the layout does not say what feeds it then"
	switch g {
	case layout.GetsStockLeft:
		node = points[layout.Left]
	case layout.GetsStockRight:
		node = points[layout.Right]
	case layout.GetsLegA, layout.GetsLegB:
		node = b.tapNode(t.FrogTap, layout.Leg(g-layout.GetsLegA))
	case layout.GetsOpen:
		return
	default:
		if said {
			why = "the layout says it is unknown"
		}
	}
	if node >= 0 {
		b.partWhen(p, f, node, FrogContact, d, at)
	} else if at == set {
		b.unknownFrog(f, d, at, "the frog of "+t.Name+" set "+word, why, t.Pos)
	}
}
