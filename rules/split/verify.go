package split

import (
	"math"

	"gapwise/netlist/layout"
)

// standsAt is where a feeder is, however the layout numbers its pieces.
type standsAt struct {
	piece string
	end   int32
	mm    int64
}

func feederAt(l *layout.Layout, f *layout.Feeder) standsAt {
	k := standsAt{end: f.Place.End}
	if f.Place.Piece >= 0 {
		k.piece = l.Pieces[f.Place.Piece].Name
	}
	if f.Place.At.Known() {
		k.mm = int64(math.Round(f.Place.At.Mid() * 1000))
	}
	return k
}

// verify holds the feeders of a layout that was read again against what they were to hang from. A feeder that is typed in
// an unusual way, and came to mean something else, refuses the whole.
func (p *plan) verify(l *layout.Layout) {
	now := map[standsAt][]int{}
	for f := range l.Feeders {
		k := feederAt(l, &l.Feeders[f])
		now[k] = append(now[k], f)
	}
	for f := range p.l.Feeders {
		x := &p.l.Feeders[f]
		k := feederAt(p.l, x)
		if len(now[k]) == 0 {
			p.refuse("feeder %s would be lost", x.Place.Text)
			continue
		}
		y := &l.Feeders[now[k][0]]
		now[k] = now[k][1:]
		for leg, tap := range x.From {
			if tap.Bus < 0 {
				continue
			}
			want := p.on(tap.Bus, p.districtOfPoint(p.g.c.FeederSpot[f]), tap.At.Mid())
			got := y.From[leg]
			const touch = 1e-4
			if got.Bus < 0 || l.Buses[got.Bus].Name != want || math.Abs(got.At.Mid()-tap.At.Mid()) > touch {
				p.refuse("the taps of feeder %s are typed in a way that cannot be changed leg by leg", x.Place.Text)
			}
		}
	}
}
