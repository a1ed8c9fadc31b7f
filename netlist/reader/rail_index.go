package reader

import (
	"math"
	"strconv"

	"gapwise/netlist/layout"
)

// railIndex finds things of one kind on rails: by what they are called when they have no
// name of their own, which is their place, or their row and a number; and by place.
type railIndex struct {
	thing   thing
	kind    layout.TargetKind
	byText  map[string]int32
	byPlace map[placeKey][]int32
	of      func(i int32) (layout.Place, layout.Entry)
}

// target points at one of the things, by its own name or else by its place.
func (x *railIndex) target(i int32) layout.Target {
	place, entry := x.of(i)
	name := entry.Name
	if name == "" {
		name = place.Text
	}
	return layout.Target{Kind: x.kind, Index: i, Place: place, Text: thingWords[x.thing] + " " + name, Pos: entry.Pos}
}

// place is where one of the things stands.
func (x *railIndex) place(i int32) layout.Place {
	p, _ := x.of(i)
	return p
}

// placeKey is a joint, or a piece and a bucket of places along it.
type placeKey struct {
	joint  layout.EndRef
	bucket int64
}

// bucketsPerMetre makes buckets far wider than what is one place.
const bucketsPerMetre = 1000

func (r *reader) placeKeys(p layout.Place) []placeKey {
	if p.End >= 0 {
		return []placeKey{{joint: r.meets.joint(layout.EndRef{Piece: p.Piece, End: p.End})}}
	}
	here := placeKey{layout.EndRef{Piece: p.Piece, End: -1}, int64(math.Round(p.At.Mid() * bucketsPerMetre))}
	before, after := here, here
	before.bucket--
	after.bucket++
	return []placeKey{here, before, after}
}

// railIndexes are the indexes of gaps, feeders and rail joints.
func (r *reader) railIndexes() []railIndex {
	gaps := railIndex{thing: gapThing, kind: layout.TargetGap, of: func(i int32) (layout.Place, layout.Entry) {
		return r.lay.Gaps[i].Place, r.lay.Gaps[i].Entry
	}}
	feeders := railIndex{thing: feederThing, kind: layout.TargetFeeder, of: func(i int32) (layout.Place, layout.Entry) {
		return r.lay.Feeders[i].Place, r.lay.Feeders[i].Entry
	}}
	joints := railIndex{thing: jointThing, kind: layout.TargetOther, of: func(i int32) (layout.Place, layout.Entry) {
		return r.lay.Joints[i].Place, r.lay.Joints[i].Entry
	}}
	for i := range r.lay.Gaps {
		r.index(&gaps, r.lay.Gaps[i].Place, r.lay.Gaps[i].Row, r.gapAt[i], i)
	}
	for i := range r.lay.Feeders {
		r.index(&feeders, r.lay.Feeders[i].Place, r.lay.Feeders[i].Row, r.feederAt[i], i)
	}
	for i := range r.lay.Joints {
		r.index(&joints, r.lay.Joints[i].Place, r.lay.Joints[i].Row, r.jointAt[i], i)
	}
	return []railIndex{gaps, feeders, joints}
}

func (r *reader) index(x *railIndex, p layout.Place, row layout.Row, typed text, i int) {
	if x.byText == nil {
		x.byText, x.byPlace = map[string]int32{}, map[placeKey][]int32{}
	}
	texts := []string{p.Text}
	if row.Count > 0 {
		texts = append(texts, r.pieceName(p.Piece)+" @ "+typed.tidy()+" "+strconv.Itoa(row.Number))
	}
	for _, t := range texts {
		if _, taken := x.byText[t]; !taken {
			x.byText[t] = int32(i)
		}
	}
	key := r.placeKeys(p)[0]
	x.byPlace[key] = append(x.byPlace[key], int32(i))
}

// at finds the first thing of a kind at a place, -1 when there is none. All names of a
// joint are one place.
func (r *reader) at(p layout.Place, want *railIndex) int32 {
	best := int32(-1)
	for _, key := range r.placeKeys(p) {
		for _, i := range want.byPlace[key] {
			q := want.place(i)
			if (p.End >= 0 || samePlace(p, q)) && (best < 0 || i < best) {
				best = i
			}
		}
	}
	return best
}

// nearestOn names the thing of a kind on the same piece that is nearest to a place.
func (r *reader) nearestOn(p layout.Place, want *railIndex) string {
	best, name := 0.0, ""
	var bestIndex int32
	r.guessed += len(want.byText)
	if r.guessed > maxGuessing {
		return ""
	}
	for _, is := range want.byPlace {
		for _, i := range is {
			q := want.place(i)
			if q.Piece != p.Piece || !q.At.Known() || !p.At.Known() {
				continue
			}
			d := max(q.At.Mid()-p.At.Mid(), p.At.Mid()-q.At.Mid())
			if name == "" || d < best || d == best && i < bestIndex {
				best, bestIndex, name = d, i, thingWords[want.thing]+" "+q.Text
			}
		}
	}
	return name
}
