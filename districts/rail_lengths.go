package districts

import (
	"cmp"
	"context"
	"slices"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// Has says whether something is there.
type Has uint8

const (
	HasNot Has = iota
	MayHave
	HasSurely
)

// RailPart is a stretch of one rail of a track, in metres of its ruler.
type RailPart struct {
	Track    int32
	Rail     layout.Rail
	From, To float64
}

// RailLength is rail without a loose joint: what soldered joints, bonds and the whole
// metal of track work hold together. Only parts on plain track are listed, in the layout's
// order. Feeder is MayHave where the only feeder may be broken, or lies beyond a joint
// or jumper of unknown kind.
type RailLength struct {
	Parts  []RailPart
	Feeder Has
	// Fed is how well the rail is fed, of a length between two default joints as good as the
	// length of track around it.
	Fed FedState
}

// RailLines are the lengths of rail between joints that are not soldered, the joints of
// a default `every` included, which count from each track's start.
type RailLines struct {
	c        *circuit.Circuit // in which no plain joiner conducts surely
	trusting *circuit.Circuit // in which every plain joiner does
	parts    []laidPart
	solid    *unionFind
	loose    *unionFind
	feeders  []Has // by root in solid
	beyond   []Has // by root in loose
	fed      []FedState
}

// laidPart is a part of a length of rail: key stands for it in solid and loose, node is one
// of the length around it, and ends are the nodes where it ends, -1 at a default joint.
// Joint says that such a joint parts it from the part before.
type laidPart struct {
	RailPart
	key, node int32
	ends      [2]int32
	joint     bool
}

// RailLines finds which rail is soldered to which. To tell soldered joints from plain
// ones it looks at the layout twice: with plain joiners trusted and without.
func (t *Trace) RailLines() *RailLines {
	l := t.C.Layout
	ctx := context.Background() // never done, so that neither build can fail
	rigid, errRigid := circuit.Build(ctx, l, circuit.Options{})
	trusting, errTrusting := circuit.Build(ctx, l, circuit.Options{JoinersTrusted: true})
	if errRigid != nil || errTrusting != nil {
		rigid, trusting = t.C, t.C
	}
	fed, _ := fedNodes(trusting) // where the search stopped, rail-dead says so
	r := &RailLines{c: rigid, trusting: trusting, fed: fed}
	joints := defaultJoints(rigid)
	cuts := 0
	for i := range rigid.Conductors {
		if k := &rigid.Conductors[i]; k.Kind == circuit.RailLength {
			cuts += len(joints.within(rigid, k))
		}
	}
	r.solid, r.loose = newUnionFind(rigid.Nodes+cuts), newUnionFind(rigid.Nodes+cuts)
	r.layRails(joints)
	r.joinRails()
	r.hangFeeders()
	return r
}

// layRails makes the parts of plain rail, parted by default joints.
func (r *RailLines) layRails(joints *jointRows) {
	next := int32(r.c.Nodes)
	for i := range r.c.Conductors {
		k := &r.c.Conductors[i]
		switch {
		case k.Kind == circuit.RailLength:
			track := r.c.Layout.Pieces[k.Ref].Index
			p := laidPart{RailPart: RailPart{track, k.Rail, k.From, k.To}, key: k.A, node: k.A, ends: [2]int32{k.A, k.B}}
			for _, at := range joints.within(r.c, k) {
				before := p
				before.To, before.ends[1] = at, -1
				r.parts = append(r.parts, before)
				p.From, p.key, p.ends[0], p.joint = at, next, -1, true
				if joints.kind[track] == layout.JointUnknown {
					r.loose.union(before.key, next)
				}
				next++
			}
			r.parts = append(r.parts, p)
			r.join(p.key, k.B)
		case k.Kind == circuit.BondWire:
			r.join(k.A, k.B)
		case k.Kind == circuit.PiecePart && k.Device < 0 && k.Sure:
			r.join(k.A, k.B)
		case k.Kind == circuit.PiecePart && k.Device < 0:
			r.loose.union(k.A, k.B)
		}
	}
}

func (r *RailLines) join(a, b int32) {
	r.solid.union(a, b)
	r.loose.union(a, b)
}

// joinRails joins rail at joints: soldered ones surely, those of unknown kind perhaps, but
// for a sliding joint and the ends of what lifts out, which are never soldered.
func (r *RailLines) joinRails() {
	for i := range r.c.Ways {
		w := &r.c.Ways[i]
		if w.Kind != circuit.WayJoint && w.Kind != circuit.WayCut {
			continue
		}
		for rail, k := range w.Rails {
			if k < 0 {
				continue
			}
			c := &r.c.Conductors[k]
			switch {
			case c.Sure:
				r.join(c.A, c.B)
			case !r.trusting.Conductors[k].Sure && w.Gaps[rail] < 0 && !r.liftsOut(w):
				r.loose.union(c.A, c.B)
			}
		}
	}
}

// liftsOut reports whether a joint is at an end of a lift-out track.
func (r *RailLines) liftsOut(w *circuit.Way) bool {
	a, b := r.c.Spots[w.A].Piece, r.c.Spots[w.B].Piece
	return a != b && (liftOut(r.c.Layout, a) || liftOut(r.c.Layout, b))
}

func liftOut(l *layout.Layout, p layout.PieceID) bool {
	return l.Pieces[p].Kind == layout.TrackPiece && l.Tracks[l.Pieces[p].Index].LiftOut == layout.Yes
}

// hangFeeders notes which lengths have a feeder.
func (r *RailLines) hangFeeders() {
	n := len(r.solid.flatten())
	r.feeders, r.beyond = make([]Has, n), make([]Has, n)
	for i := range r.c.Conductors {
		k := &r.c.Conductors[i]
		if k.Kind != circuit.FeederWire {
			continue
		}
		has := MayHave
		if k.Sure {
			has = HasSurely
		}
		s, l := r.solid.find(k.B), r.loose.find(k.B)
		r.feeders[s], r.beyond[l] = max(r.feeders[s], has), max(r.beyond[l], has)
	}
}

// has says whether the length that a key stands for has a feeder.
func (r *RailLines) has(key int32) Has {
	own := r.feeders[r.solid.find(key)]
	if own == HasNot && r.beyond[r.loose.find(key)] != HasNot {
		return MayHave
	}
	return own
}

// Feeder says whether the rail at a spot has a feeder on its own length of rail.
func (r *RailLines) Feeder(spot int32, rail layout.Rail) Has {
	return r.has(r.c.Spots[spot].Node[rail])
}

// Lengths lists every length of rail that has some plain track, in the order of their
// first parts.
func (r *RailLines) Lengths() []RailLength {
	var out []RailLength
	at := map[int32]int{}
	for i := range r.parts {
		p := &r.parts[i]
		root := r.solid.find(p.key)
		n, found := at[root]
		if !found {
			n = len(out)
			at[root] = n
			out = append(out, RailLength{Feeder: r.has(p.key)})
		}
		out[n].Parts = append(out[n].Parts, p.RailPart)
		out[n].Fed = max(out[n].Fed, r.fed[p.node])
	}
	out = slices.DeleteFunc(out, func(x RailLength) bool {
		return !slices.ContainsFunc(x.Parts, func(p RailPart) bool { return p.From < p.To })
	})
	for i := range out {
		out[i].Parts = joinParts(out[i].Parts)
	}
	return out
}

// joinParts sorts parts and joins those that touch.
func joinParts(in []RailPart) []RailPart {
	slices.SortFunc(in, func(x, y RailPart) int {
		return cmp.Or(cmp.Compare(x.Track, y.Track), cmp.Compare(x.Rail, y.Rail), cmp.Compare(x.From, y.From))
	})
	var out []RailPart
	for _, p := range in {
		if n := len(out); n > 0 && out[n-1].Track == p.Track && out[n-1].Rail == p.Rail && p.From <= out[n-1].To+1e-9 {
			out[n-1].To = max(out[n-1].To, p.To)
			continue
		}
		out = append(out, p)
	}
	return out
}
