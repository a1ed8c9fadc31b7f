package districts

import "slices"

// OtherDetector is a block whose feeders all miss the detector that it is meant to have.
type OtherDetector struct {
	OtherFeed
	// Exchanged is the block that is meant to have the detector found here and has the one
	// meant here, -1 for none: the wires of the two are exchanged.
	Exchanged int32
}

// OtherDetectors lists the blocks, rising, none of whose feeders passes the detector meant,
// however far up it sits. Of two blocks with each other's detector the first stands
// for both.
func (d *Detection) OtherDetectors() []OtherDetector {
	all := slices.DeleteFunc(d.t.OtherDetectors(), func(x OtherFeed) bool { return d.Sees(x.Meant, x.Feeders) })
	gone := map[int32]bool{}
	var out []OtherDetector
	for i, x := range all {
		if gone[x.Block] {
			continue
		}
		o := OtherDetector{x, -1}
		for _, y := range all[i+1:] {
			if x.Found >= 0 && o.Exchanged < 0 && !gone[y.Block] && y.Meant == x.Found && y.Found == x.Meant {
				o.Exchanged = y.Block
				gone[y.Block] = true
			}
		}
		out = append(out, o)
	}
	return out
}

// MoreThanMeant is a detector that sees blocks it is not meant for, besides its own.
type MoreThanMeant struct {
	Detector int32
	Own      []int32 // blocks meant to have it that it sees
	More     []int32 // blocks not meant to have it that it sees, with all their feeders
}

// MoreThanMeant lists the detectors that see more than the blocks meant to have them,
// where gaps part those blocks.
func (d *Detection) MoreThanMeant() []MoreThanMeant {
	l := d.t.C.Layout
	other := d.OtherDetectors()
	found := func(block, detector int32) bool {
		return slices.ContainsFunc(other, func(o OtherDetector) bool {
			return (o.Block == block || o.Exchanged == block) && (o.Found == detector || o.Meant == detector)
		})
	}
	var out []MoreThanMeant
	for i := range l.Detectors {
		m := MoreThanMeant{Detector: int32(i)}
		zones := map[int32]bool{}
		for _, own := range [2]bool{true, false} {
			for b := range l.Blocks {
				z := d.t.ZoneOf(int32(b))
				if (l.Blocks[b].Detector == m.Detector) != own || z < 0 || d.t.Zones.List[z].Meant[0].Block != int32(b) || !d.Sees(m.Detector, d.t.Zones.List[z].Feeders) {
					continue
				}
				switch {
				case own:
					m.Own = append(m.Own, int32(b))
					zones[z] = true
				case !zones[z] && !found(int32(b), m.Detector):
					m.More = append(m.More, int32(b))
				}
			}
		}
		if len(m.Own) > 0 && len(m.More) > 0 {
			out = append(out, m)
		}
	}
	return out
}

// DetectorOfOther is the other of two detectors on one wire leg each, -1 unless a feeder on
// one side of a cut passes it by the other leg: what suits one does not suit the other.
func (d *Detection) DetectorOfOther(tie *Tie) int32 {
	detector := max(tie.Classes[0], tie.Classes[1])
	leg := d.t.C.Layout.Detectors[detector].Leg
	w := &d.t.C.Ways[tie.Cut]
	for _, s := range [2]int32{w.A, w.B} {
		for _, f := range d.t.Zones.List[d.t.Zones.Of[s]].Feeders {
			if o := d.t.Feeds[f].Detector[leg.Other()]; o >= 0 {
				return o
			}
		}
	}
	return -1
}
