package split

import (
	"context"
	"errors"
	"slices"

	"gapwise/netlist/circuit"

	"gapwise/districts/partition"
	"gapwise/rules"
)

// MostDistricts bounds how many districts are tried, and may be asked for.
const MostDistricts = 24

// Split divides the layout of a check. The error is ctx's, or an *AskError.
func Split(ctx context.Context, r *rules.Report, ask Ask) (*Answer, error) {
	w, err := newWholes(r.Layout, ask.Whole)
	if err != nil {
		return nil, err
	}
	if ask.Work <= 0 {
		ask.Work = partition.DefaultWork
	}
	g := newGround(r.Layout, r.Trace)
	x, err := newInstance(newAtoms(g, w), &ask)
	if err != nil {
		return nil, err
	}
	out := &Answer{Layout: r.Layout, Ask: ask, From: x.place, LeftOut: g.left, Notes: x.notes, Nodes: len(x.nodes)}
	all := make([]int32, len(x.nodes))
	for i := range all {
		all[i] = int32(i)
	}
	p := x.problem(nil, &ask)
	out.Total, _ = p.LoadOf(all)
	out.With = x.kind(&ask, out.Total)
	devices := g.existing(out.With)
	amps, err := ratings(&ask, out.With, devices)
	if err != nil {
		return nil, err
	}
	s := &search{ctx: ctx, x: x, ask: &ask, ratings: amps}
	found, err := s.run(out)
	if err != nil {
		return nil, err
	}
	out.Work, out.Feasible = s.work, found.Feasible
	if found.Feasible != partition.Found {
		return out, s.explain(out, found)
	}
	for k, term := range s.order() {
		out.Terms = append(out.Terms, Term{term, found.Value[k], found.Bound[k], found.Proven[k]})
	}
	if ask.With == Auto && out.With == Breakers && oneOnly(found.Part) {
		out.With = Boosters // the present one does by itself
		devices = g.existing(Boosters)
	}
	x.districts(out, found.Part, amps, devices)
	x.cuts(out, found.Part)
	x.noteIdle(out, devices)
	if out.plan, err = newPlan(ctx, x, out, found.Part); err != nil {
		return nil, err
	}
	return out, out.check(ctx, r)
}

func oneOnly(part []int32) bool {
	return !slices.ContainsFunc(part, func(k int32) bool { return k != part[0] })
}

// problem is the instance with some ratings.
func (x *instance) problem(amps []float64, ask *Ask) *partition.Problem {
	p := &partition.Problem{Nodes: x.nodes, Edges: x.edges, Trains: x.trains, AtOnce: x.atOnce, Order: ask.Order}
	for _, a := range amps {
		p.Parts = append(p.Parts, partition.Capacity{MilliAmps: capacity(a, ask.Margin)})
	}
	return p
}

// search seeks a division for a number of districts, or the fewest.
type search struct {
	ctx     context.Context
	x       *instance
	ask     *Ask
	ratings []float64
	work    int64
}

func (s *search) order() [3]partition.Term {
	if s.ask.Order == [3]partition.Term{} {
		return [3]partition.Term{partition.Cuts, partition.Trains, partition.Bus}
	}
	return s.ask.Order
}

// with seeks a division into at most n districts.
func (s *search) with(n int, work int64) (*partition.Result, error) {
	amps := make([]float64, n)
	for i := range amps {
		amps[i] = nth(s.ratings, i)
	}
	r, err := partition.Solve(s.ctx, s.x.problem(amps, s.ask), work)
	var input *partition.InputError
	if errors.As(err, &input) {
		return nil, refuse("the layout cannot be divided: %s", input.What)
	}
	if err == nil {
		s.work += r.Work
	}
	return r, err
}

// run seeks what was asked for.
func (s *search) run(out *Answer) (*partition.Result, error) {
	if n := s.ask.Districts; n > 0 {
		out.Most = n
		return s.with(n, s.ask.Work)
	}
	if len(s.ask.Ratings) > 1 {
		out.Most = len(s.ask.Ratings)
		return s.with(out.Most, s.ask.Work)
	}
	out.Fewest = true
	var last *partition.Result
	for n := 1; n <= min(MostDistricts, len(s.x.nodes)); n++ {
		r, err := s.with(n, s.ask.Work)
		if err != nil {
			return nil, err
		}
		out.Most, last = n, r
		if r.Feasible == partition.Found {
			return r, nil
		}
		out.Fewest = out.Fewest && r.Feasible == partition.Impossible
		if r.Why != nil && r.Why.Node >= 0 && n >= len(s.ratings) {
			return r, nil // one piece is too much for any of them
		}
	}
	if !out.Fewest {
		last.Feasible = partition.Unknown
	}
	return last, nil
}

// districts makes the parts that are used into districts, those of devices that are there first, then by how far they are.
func (x *instance) districts(out *Answer, part []int32, amps []float64, devices []Device) {
	members := map[int32][]int32{}
	var used []int32
	for n, k := range part {
		if len(members[k]) == 0 {
			used = append(used, k)
		}
		members[k] = append(members[k], int32(n))
	}
	slices.Sort(used)
	p := x.problem(nil, &out.Ask)
	loads := make([]int64, len(used))
	trains := make([]int, len(used))
	rated := make([]float64, len(used))
	feeders := make([][]int, len(used))
	for i, k := range used {
		loads[i], trains[i] = p.LoadOf(members[k])
		rated[i] = nth(amps, int(k))
		feeders[i] = x.shared(part, k, devices)
	}
	heads := x.assign(out.With, devices, used, rated, loads, feeders, out.Ask.Margin)
	for i, k := range used {
		d := District{Device: heads[i], Load: loads[i], Trains: trains[i], atoms: members[k]}
		d.May = capacity(d.Device.Amps, out.Ask.Margin)
		if d.Device.New() {
			d.Device.Like = x.likeOf(part, k, out.With)
		}
		d.Name = x.districtName(&d.Device)
		for _, n := range d.atoms {
			d.Metres += x.atoms.list[n].metres
		}
		out.Districts = append(out.Districts, d)
	}
	slices.SortStableFunc(out.Districts, func(a, b District) int { return x.rank(&a) - x.rank(&b) })
	x.nameTrack(out)
}

// noteIdle says which devices the division leaves without track of their own.
func (x *instance) noteIdle(out *Answer, devices []Device) {
	for i := range devices {
		used := slices.ContainsFunc(out.Districts, func(d District) bool { return d.Device.source == devices[i].source })
		if !used {
			out.Notes = append(out.Notes, devices[i].Name+" has no district then; a smaller --rating makes more of them")
		}
	}
}

// rank puts devices in the order of the layout, new ones behind.
func (x *instance) rank(d *District) int {
	if d.Device.New() {
		return 1 << 20
	}
	return int(d.Device.Index)
}

// districtName is the name that the district of a device has, or gets.
func (x *instance) districtName(d *Device) string {
	g := x.atoms.g
	for i := range g.l.Districts {
		if s, _ := g.c.SourceAbove(g.l.Districts[i].From); s >= 0 && s == d.source && g.c.Sources[s].Ref == d.Index {
			return g.l.Districts[i].Name
		}
	}
	return d.Short
}

// shared counts the feeders of a part that hang from each device now.
func (x *instance) shared(part []int32, k int32, devices []Device) []int {
	g := x.atoms.g
	out := make([]int, len(devices))
	for f := range g.t.Feeds {
		s := g.t.Feeds[f].Source()
		if !x.feeds(int32(f), part, k) || s < 0 {
			continue
		}
		for d := range devices {
			if g.behind(s, devices[d].source) {
				out[d]++
			}
		}
	}
	return out
}

// feeds reports whether a feeder is on track of a part.
func (x *instance) feeds(f int32, part []int32, k int32) bool {
	spot := x.atoms.g.t.Feeds[f].Spot
	return spot >= 0 && x.atoms.of[spot] >= 0 && part[x.atoms.of[spot]] == k
}

// likeOf is the booster that feeds most of a part now, else the first there is; -1 for none.
func (x *instance) likeOf(part []int32, k int32, with With) int32 {
	g := x.atoms.g
	count := make([]int, len(g.l.Boosters))
	for f := range g.t.Feeds {
		if b := g.boosterOf(g.t.Feeds[f].Source()); b >= 0 && x.feeds(int32(f), part, k) {
			count[b]++
		}
	}
	best := int32(-1)
	for s := range g.c.Sources {
		if src := &g.c.Sources[s]; src.Kind == circuit.BoosterSource && g.drives(int32(s)) && (best < 0 || count[src.Ref] > count[best]) {
			best = src.Ref
		}
	}
	return best
}

// cuts lists the places where districts part that have no gap yet.
func (x *instance) cuts(out *Answer, part []int32) {
	g := x.atoms.g
	for i, e := range x.edges {
		if s := &g.seams[x.seams[i]]; s.place >= 0 && part[e.A] != part[e.B] {
			out.Cuts = append(out.Cuts, g.places[s.place])
		}
	}
	slices.SortStableFunc(out.Cuts, func(a, b Place) int {
		if a.Track != b.Track {
			return int(a.Track - b.Track)
		}
		if a.At < b.At {
			return -1
		}
		return 1
	})
}
