package split

import (
	"fmt"
	"math"

	"gapwise/netlist/quantity"

	"gapwise/districts/partition"
)

// amperes prints milliamperes.
func amperes(milli int64) string { return quantity.FormatCurrent(float64(milli) / 1000) }

// explain says why nothing was found, and what would have to give.
func (s *search) explain(out *Answer, r *partition.Result) error {
	largest := s.ratings[0]
	for i := range out.Most {
		largest = max(largest, nth(s.ratings, i))
	}
	may := fmt.Sprintf("%s (%s less %s)", amperes(capacity(largest, s.ask.Margin)), quantity.FormatCurrent(largest), quantity.FormatPercent(100*s.ask.Margin))
	switch w := r.Why; {
	case w != nil && w.Node >= 0:
		load, trains := s.x.problem(nil, s.ask).LoadOf([]int32{w.Node})
		name := s.x.atoms.name(w.Node)
		out.Why = append(out.Why, fmt.Sprintf("%s cannot be divided, and may draw %s with %s at once; no district may draw more than %s: %s too much", name, amperes(load), plural(trains, "train"), may, amperes(w.Over)))
		need := float64(load) / 1000 / (1 - s.ask.Margin)
		out.Give = append(out.Give, fmt.Sprintf("a district rated for %s", quantity.FormatCurrent(math.Ceil(need*10-1e-9)/10)))
		lessMargin(out, 1-float64(load)/1000/largest)
		if trains > 1 {
			out.Give = append(out.Give, "fewer trains in it: `trains` of its blocks, or `at-once`, says so")
		}
		switch n := len(s.x.atoms.list[w.Node].blocks); {
		case n == 1 && trains > 1:
			out.Give = append(out.Give, "two blocks in place of the one, with a gap between")
		case n > 1 && len(s.ask.Whole) > 0:
			out.Give = append(out.Give, "keeping less in one piece: --whole names what stays whole")
		}
		return nil
	case w != nil && w.Together:
		out.Why = append(out.Why, fmt.Sprintf("what stands on the track draws %s more at all times than %s may carry together", amperes(w.Over), districtsText(out.Most)))
	case r.Feasible == partition.Unknown:
		out.Why = append(out.Why, fmt.Sprintf("no division into %s was found before the bound on work was reached", districtsText(out.Most)))
	default:
		out.Why = append(out.Why, fmt.Sprintf("no division into %s keeps each in one piece and within what it may draw, %s at the most", districtsText(out.Most), may))
	}
	if pieces := s.x.pieces(); pieces > out.Most {
		out.Why = append(out.Why, fmt.Sprintf("the track lies in %d pieces that no gap joins, and each takes a district of its own", pieces))
	}
	if err := s.moreDistricts(out); err != nil {
		return err
	}
	return s.largerRating(out, largest)
}

// boosterTooSmall reports, and says, that breakers behind the only booster do not help: it carries all districts together.
func (x *instance) boosterTooSmall(out *Answer) bool {
	boosters := x.atoms.g.existing(Boosters)
	if out.With != Breakers || len(boosters) != 1 || boosters[0].Amps == 0 {
		return false
	}
	b := &boosters[0]
	may := capacity(b.Amps, out.Ask.Margin)
	if out.Total <= may {
		return false
	}
	out.Feasible = partition.Impossible
	out.Why = append(out.Why, fmt.Sprintf("everything behind %s may draw %s together, and it may carry %s (%s less %s): %s too much, whatever breakers stand behind it", b.Name, amperes(out.Total), amperes(may), quantity.FormatCurrent(b.Amps), quantity.FormatPercent(100*out.Ask.Margin), amperes(out.Total-may)))
	out.Give = append(out.Give, "more boosters: --with boosters")
	lessMargin(out, 1-float64(out.Total)/1000/b.Amps)
	return true
}

// plural counts things.
func plural(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

func districtsText(n int) string {
	if n == 1 {
		return "1 district"
	}
	return "up to " + plural(n, "district")
}

// lessMargin offers a smaller margin, in whole percent.
func lessMargin(out *Answer, m float64) {
	const grain = 1e-9
	if percent := math.Floor(100*m + grain); percent >= 1 {
		out.Give = append(out.Give, fmt.Sprintf("a margin of %s: --margin %.0f%%", quantity.FormatPercent(percent), percent))
	}
}

// tryWork is the part of the work that each try at what would do may take.
const tryWork = 8

// moreDistricts seeks how many districts would do.
func (s *search) moreDistricts(out *Answer) error {
	for n := out.Most + 1; n <= min(out.Most+6, len(s.x.nodes)); n++ {
		r, err := s.with(n, 0, s.ask.Work/tryWork)
		if err != nil {
			return err
		}
		if r.Feasible == partition.Found {
			out.Give = append(out.Give, fmt.Sprintf("%d districts, each further one rated for %s", n, quantity.FormatCurrent(nth(s.ratings, n-1))))
			return nil
		}
	}
	return nil
}

// largerRating seeks the rating with which as many districts would do, in steps of half an ampere.
func (s *search) largerRating(out *Answer, largest float64) error {
	most := float64(out.Total)/1000/(1-s.ask.Margin) + 0.5
	low, high := math.Floor(largest*2)/2, math.Ceil(most*2)/2 // low does not do
	try := &search{ctx: s.ctx, x: s.x, ask: s.ask}
	does := func(a float64) (bool, error) {
		try.ratings = []float64{a}
		r, err := try.with(out.Most, 0, s.ask.Work/tryWork)
		return err == nil && r.Feasible == partition.Found, err
	}
	ok, err := does(high)
	if err != nil || !ok || high <= low {
		return err
	}
	for high-low > 0.75 {
		mid := math.Round((low + high)) / 2
		ok, err := does(mid)
		if err != nil {
			return err
		}
		if ok {
			high = mid
		} else {
			low = mid
		}
	}
	if s.ask.Districts == 0 {
		out.Give = append(out.Give, fmt.Sprintf("districts rated for %s each", quantity.FormatCurrent(high)))
	} else {
		out.Give = append(out.Give, fmt.Sprintf("%s, each rated for %s", districtsText(out.Most), quantity.FormatCurrent(high)))
	}
	return nil
}

// pieces counts the parts of the track that no edge joins.
func (x *instance) pieces() int {
	u := newGroups(len(x.nodes))
	for _, e := range x.edges {
		u.join(e.A, e.B)
	}
	n := 0
	for i := range x.nodes {
		if u.of(int32(i)) == int32(i) {
			n++
		}
	}
	return n
}
