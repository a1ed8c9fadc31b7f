package districts

import "gapwise/netlist/layout"

// OtherFeed is a block, as wired, all of whose feeders come from elsewhere than the block
// is meant to be fed from.
type OtherFeed struct {
	Block int32
	// Meant and Found are sources, or detectors with -1 for none.
	Meant, Found int32
	Feeders      []int32
}

// OtherSources lists the blocks that hang, as a whole, from another source than meant. A source
// that itself hangs from the one meant is no difference.
func (t *Trace) OtherSources() []OtherFeed {
	return t.otherFeeds(func(b int32) (int32, func(f *Feed) (int32, bool), bool) {
		m := t.Meant.SourceOf[b]
		return m, func(f *Feed) (int32, bool) { return f.Source(), f.Source() >= 0 }, m >= 0
	}, func(meant, found int32) bool { return fixedBehind(t.C, found, meant) })
}

// OtherDetectors lists the blocks none of whose feeders passes the detector meant.
func (t *Trace) OtherDetectors() []OtherFeed {
	return t.otherFeeds(func(b int32) (int32, func(f *Feed) (int32, bool), bool) {
		m := t.C.Layout.Blocks[b].Detector
		leg := layout.A
		if m >= 0 {
			leg = t.C.Layout.Detectors[m].Leg
		}
		return m, func(f *Feed) (int32, bool) { return f.Detector[leg], f.Wired[leg] && f.Legs[leg].Source >= 0 }, m >= 0
	}, func(meant, found int32) bool { return meant == found })
}

func (t *Trace) otherFeeds(of func(block int32) (meant int32, class func(*Feed) (int32, bool), said bool), fits func(meant, found int32) bool) []OtherFeed {
	var out []OtherFeed
	for b := range t.C.Layout.Blocks {
		meant, class, said := of(int32(b))
		z := t.ZoneOf(int32(b))
		if !said || z < 0 || t.Zones.List[z].Meant[0].Block != int32(b) {
			continue
		}
		x := OtherFeed{Block: int32(b), Meant: meant, Found: -1}
		same := true
		for _, f := range t.Zones.List[z].Feeders {
			found, ok := class(&t.Feeds[f])
			if !ok {
				continue
			}
			same = same && (len(x.Feeders) == 0 || found == x.Found)
			x.Found = found
			x.Feeders = append(x.Feeders, f)
		}
		if same && len(x.Feeders) > 0 && !fits(meant, x.Found) {
			out = append(out, x)
		}
	}
	return out
}
