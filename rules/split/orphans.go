package split

import (
	"context"
	"fmt"
	"math"

	"gapwise/netlist/amend"
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts"
	"gapwise/rules"
)

// extraFeeder is a feeder for track that the cuts leave without one.
type extraFeeder struct {
	track    int32
	at       float64
	tap      layout.Tap
	like     int32 // Layout.Feeders
	district int32
	aRail    layout.Rail
}

// orphans makes the cuts, and nothing else, on a copy; track that is dead then, and is not now, gets a feeder at
// its middle. The error is ctx's only.
func (p *plan) orphans(ctx context.Context) error {
	if len(p.out.Cuts) == 0 {
		return nil
	}
	w := amend.New(p.l, rules.ReaderOptions())
	p.writeCuts(w)
	l, problems, err := w.Reread(ctx)
	if err != nil || len(problems) > 0 {
		return ctx.Err() // told when all is written
	}
	c, err := circuit.Build(ctx, l, circuit.OptionsFor(l))
	if err != nil {
		return err
	}
	t, err := districts.Run(ctx, c)
	if err != nil {
		return err
	}
	for _, k := range p.deadStretches(t) {
		p.orphan(stretchOf(t, k))
	}
	return nil
}

// stretchOf is where a length of track lies.
func stretchOf(t *districts.Trace, way int32) (track int32, from, to float64) {
	w := &t.C.Ways[way]
	a, b := t.C.Spots[w.A].At, t.C.Spots[w.B].At
	return t.C.Layout.Pieces[w.Piece].Index, min(a, b), max(a, b)
}

// deadStretches are, by way, the longest lengths of track of every piece of metal of which a rail is dead in every setting. Rail that
// is fed in some setting only as the layout is may lie beyond a frog, which a feeder would hold fast: in a piece with track work
// it counts not.
func (p *plan) deadStretches(t *districts.Trace) []int32 {
	u := newGroups(len(t.C.Spots))
	for i := range t.C.Ways {
		w := &t.C.Ways[i]
		cut := w.Kind == circuit.WayCut && w.Metal[0] == circuit.Open && w.Metal[1] == circuit.Open
		if !cut && w.Kind != circuit.WayPit {
			u.join(w.A, w.B)
		}
	}
	works := map[int32]bool{}
	for i := range t.C.Ways {
		if w := &t.C.Ways[i]; w.Kind == circuit.WayThrough {
			works[u.of(w.A)] = true
		}
	}
	at := map[int32]int{}
	var out []int32
	for i := range t.DeadRuns {
		run := &t.DeadRuns[i]
		if run.State[0] != districts.Dead && run.State[1] != districts.Dead {
			continue
		}
		for _, k := range run.Ways {
			now := p.stateNow(stretchOf(t, k))
			piece := u.of(t.C.Ways[k].A)
			n, found := at[piece]
			switch {
			case now == districts.Dead || now == districts.IfJoints || works[piece] && now != districts.FedAlways:
			case !found:
				at[piece] = len(out)
				out = append(out, k)
			case t.C.Ways[k].Length > t.C.Ways[out[n]].Length:
				out[n] = k
			}
		}
	}
	return out
}

// stateNow is how the lesser fed rail of a stretch is fed before anything is cut.
func (p *plan) stateNow(track int32, from, to float64) districts.FedState {
	mid := (from + to) / 2
	for _, i := range p.g.spanAt[track] {
		s := &p.g.spans[i]
		if s.from <= mid && mid <= s.to {
			node := p.g.c.Spots[p.g.c.Ways[s.way].A].Node
			return min(p.g.t.Fed[node[0]], p.g.t.Fed[node[1]])
		}
	}
	return districts.Dead
}

// orphan gives a stretch of track a feeder like the nearest one.
func (p *plan) orphan(track int32, from, to float64) {
	tr := &p.l.Tracks[track]
	ruler := places{metric: p.l.Metric()}
	at := ruler.snap((from+to)/2, math.Round)
	if at <= from || at >= to {
		at = (from + to) / 2
	}
	where := tr.Name + " @ " + quantity.FormatLength(at)
	var here *span
	for _, i := range p.g.spanAt[track] {
		if s := &p.g.spans[i]; s.from <= at && at <= s.to {
			here = s
		}
	}
	if here == nil {
		p.refuse("the track around %s needs a feeder", where)
		return
	}
	rail, ok := p.g.t.Polarity.ARail(p.g.c.Ways[here.way].A)
	if !ok {
		p.refuse("the track around %s needs a feeder, and no feeder tells which rail there has leg A", where)
		return
	}
	d := p.districtOfPoint(here.point)
	like := p.nearestFeeder(track, at, d, here.point)
	if like < 0 {
		p.refuse("the track around %s needs a feeder, and no bus that carries both legs is near", where)
		return
	}
	p.extra = append(p.extra, extraFeeder{track: track, at: at, tap: p.l.Feeders[like].From[layout.B], like: like, district: d, aRail: rail})
}

// nearestFeeder is the feeder of both legs from one tap, on the same metal as it is now, that is nearest: of the same
// district before others, and of the same track before others. -1 for none.
func (p *plan) nearestFeeder(track int32, at float64, district, point int32) int32 {
	const elsewhere = 1e3 // metres that another track, or district, counts for
	best, least := int32(-1), math.Inf(1)
	for f := range p.l.Feeders {
		x := &p.l.Feeders[f]
		spot := p.g.c.FeederSpot[f]
		a, b := x.From[layout.A], x.From[layout.B]
		if spot < 0 || x.Rails != layout.BothRails || a.Bus < 0 || a.Bus != b.Bus || a.At.Mid() != b.At.Mid() || p.uncut.of(spot) != p.uncut.of(point) {
			continue
		}
		s := &p.g.c.Spots[spot]
		d := elsewhere
		if piece := &p.l.Pieces[s.Piece]; piece.Kind == layout.TrackPiece && piece.Index == track {
			d = math.Abs(s.At - at)
		}
		if p.districtOfPoint(spot) != district {
			d += 2 * elsewhere
		}
		if d < least {
			best, least = int32(f), d
		}
	}
	return best
}

// addFeeders writes the new feeders.
func (p *plan) addFeeders() {
	for i := range p.extra {
		x := &p.extra[i]
		like := &p.l.Feeders[x.like]
		tr := &p.l.Tracks[x.track]
		from := p.tapText(p.on(x.tap.Bus, x.district, x.tap.At.Mid()), x.tap.At)
		a := [2]string{"left", "right"}[x.aRail]
		value := "{from: " + from + ", A: " + a
		if like.Wire.Known() {
			value += ", wire: " + like.Wire.String()
		}
		if like.Length.Known() {
			value += ", length: " + p.measure(like.Length)
		}
		p.w.AddPlaced("feeders", tr.Name, p.l.Spell(x.at), value+"}")
		p.out.Feeders = append(p.out.Feeders, NewFeeder{
			Place: fmt.Sprintf("%s @ %s", tr.Name, quantity.FormatLength(x.at)), From: from, A: a, Wire: wireText(like.Wire), District: p.districtName(x.district),
		})
	}
}
