package districts

import "slices"

// Mismatch is track that is fed the other way round than what lies beyond its gaps.
type Mismatch struct {
	Gaps    []int32 // ways, rising: wheels that bridge them join opposite legs
	Feeders []int32 // on the side with less track, rising
}

// Mismatches groups gaps over which wheels join opposite legs by the track they close in: track
// joined by metal or by gaps that agree is one side, and of two sides the one with less
// track is taken to be the wrong one. In the order of each group's first gap.
func (t *Trace) Mismatches(gaps []int32) []Mismatch {
	side := t.agreeing()
	length := map[int32]float64{}
	for i := range t.C.Ways {
		length[side[t.C.Ways[i].A]] += t.C.Ways[i].Length
	}
	var out []Mismatch
	at := map[int32]int{}
	for _, g := range gaps {
		a, b := side[t.C.Ways[g].A], side[t.C.Ways[g].B]
		less := b
		if length[a] < length[b] {
			less = a
		}
		n, found := at[less]
		if !found || a == b {
			n = len(out)
			at[less] = n
			out = append(out, Mismatch{Feeders: t.feedersOf(side, less)})
		}
		out[n].Gaps = append(out[n].Gaps, g)
	}
	return out
}

// agreeing names, for every spot, the side it belongs to.
func (t *Trace) agreeing() []int32 {
	p := t.Polarity
	u := newUnionFind(len(t.C.Spots))
	for i := range t.C.Ways {
		w := &t.C.Ways[i]
		x, y := p.Root[p.Sections.Of[w.A]], p.Root[p.Sections.Of[w.B]]
		gap := isGap(w) && x >= 0 && y >= 0 && !t.C.Sources[x].Free && !t.C.Sources[y].Free && !slices.Contains(p.WrongGaps, int32(i))
		if (hasMetal(w) && !t.Cut[i]) || gap {
			u.union(w.A, w.B)
		}
	}
	return u.flatten()
}

func (t *Trace) feedersOf(side []int32, of int32) []int32 {
	var out []int32
	for i := range t.Feeds {
		if s := t.Feeds[i].Spot; s >= 0 && side[s] == of {
			out = append(out, int32(i))
		}
	}
	return out
}
