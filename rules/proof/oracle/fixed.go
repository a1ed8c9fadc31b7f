package oracle

import (
	"slices"
	"strings"
)

// Difference is what became of the hazards of one layout in another. Gone holds those of the first, Stay and New those of the second; each is sorted.
type Difference struct {
	Gone, Stay, New []Hazard
}

// Fixed holds the hazards of a layout after a change against those before. A hazard is known again by its kind and place; one that is left over on
// either side, by its kind and by which legs or rails meet in it along the same way, since the wire that is blamed for it may be another now. limit is
// that of Hazards. It fails where either has too many settings to try.
func Fixed(before, after *Layout, limit int) (Difference, error) {
	old, err := before.Hazards(limit)
	if err != nil {
		return Difference{}, err
	}
	now, err := after.Hazards(limit)
	if err != nil {
		return Difference{}, err
	}
	return difference(old, now), nil
}

func difference(old, now []Hazard) Difference {
	var d Difference
	kept := make([]bool, len(old))
	met := make([]bool, len(now))
	for _, same := range []func(x, y Hazard) bool{
		func(x, y Hazard) bool { return x.Kind == y.Kind && x.Place == y.Place && x.Detail == y.Detail },
		func(x, y Hazard) bool { return x.Kind == y.Kind && x.Place == y.Place },
		func(x, y Hazard) bool { return x.Kind == y.Kind && x.way() == y.way() },
	} {
		for i, y := range now {
			if met[i] {
				continue
			}
			at := -1
			for j, x := range old {
				if !kept[j] && same(x, y) {
					at = j
					break
				}
			}
			if at >= 0 {
				kept[at], met[i] = true, true
				d.Stay = append(d.Stay, y)
			}
		}
	}
	for j, x := range old {
		if !kept[j] {
			d.Gone = append(d.Gone, x)
		}
	}
	for i, y := range now {
		if !met[i] {
			d.New = append(d.New, y)
		}
	}
	d.Stay = sortHazards(slices.Clone(d.Stay))
	return d
}

// way is what meets in a hazard and by way of which pieces, without the wires between which it was found. Where it is no meeting of legs it is the
// place.
func (h Hazard) way() string {
	what, between, ok := strings.Cut(h.Detail, ", between ")
	_, by, there := strings.Cut(between, " by way of ")
	if !ok || !there {
		return h.Place + "; " + h.Detail
	}
	return what + " by way of " + by
}
