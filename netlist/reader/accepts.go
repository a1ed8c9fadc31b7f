package reader

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/source"
)

func questionAt(t text, message string) source.Problem {
	return source.Problem{Pos: t.pos, Width: t.width, Message: message}
}

// accepts resolves the acceptances.
func (r *reader) accepts() {
	recs := r.byThing[acceptThing]
	if len(recs) == 0 {
		return
	}
	indexes := r.railIndexes()
	for _, rec := range recs {
		finding, ok := get[text](rec, "finding")
		if !ok || !r.acceptable(finding) {
			continue
		}
		at, ok := get[text](rec, "at")
		if !ok {
			continue
		}
		target, ok := r.target(rec.unit, at, indexes)
		if !ok {
			continue
		}
		r.lay.Accepts = append(r.lay.Accepts, layout.Accept{Entry: rec.entry(), Finding: finding.s, At: target.Text, Target: target, Because: rec.text("because")})
	}
}

// acceptable reports a finding that does not exist or that no reason excuses.
func (r *reader) acceptable(t text) bool {
	switch {
	case slices.Contains(r.opts.NeverAccepted, t.s):
		r.blamef(t, "%s cannot be accepted", t.s)
	case r.opts.RuleNames != nil && !slices.Contains(r.opts.RuleNames, t.s):
		r.blame(t, problem{message: "no such rule", expected: listed(r.opts.RuleNames), nearest: r.nearest(t.s, r.opts.RuleNames)})
	default:
		return true
	}
	return false
}

// railIndex finds things of one kind on rails: by what they are called when they have no
// name of their own, which is their place, or their row and a number; and by place.
type railIndex struct {
	thing   thing
	kind    layout.TargetKind
	byText  map[string]int32
	byPlace map[placeKey][]int32
	place   func(i int32) (layout.Place, source.Pos)
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
	gaps := railIndex{thing: gapThing, kind: layout.TargetGap, place: func(i int32) (layout.Place, source.Pos) {
		return r.lay.Gaps[i].Place, r.lay.Gaps[i].Pos
	}}
	feeders := railIndex{thing: feederThing, kind: layout.TargetFeeder, place: func(i int32) (layout.Place, source.Pos) {
		return r.lay.Feeders[i].Place, r.lay.Feeders[i].Pos
	}}
	joints := railIndex{thing: jointThing, kind: layout.TargetOther, place: func(i int32) (layout.Place, source.Pos) {
		return r.lay.Joints[i].Place, r.lay.Joints[i].Pos
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

// target resolves what an acceptance points at. Nothing there is an error, so that an
// acceptance cannot drift to another thing.
func (r *reader) target(u *unit, t text, indexes []railIndex) (layout.Target, bool) {
	kind, rest := "", t
	if ws := t.words(); len(ws) > 1 && isKindWord(ws[0].s) {
		kind = ws[0].s
		rest = t.cut(strings.Index(t.s, ws[0].s)+len(ws[0].s), len(t.s)).trim()
	}
	for i := range indexes {
		if thingWords[indexes[i].thing] == kind {
			return r.railTarget(u, t, rest, &indexes[i])
		}
	}
	if strings.Contains(rest.s, "@") || len(rest.words()) > 1 {
		return r.placeTarget(u, t, kind, rest, indexes)
	}
	return r.nameTarget(u, kind, rest, indexes)
}

// railTarget resolves `gap east` or `gap gate @ start`.
func (r *reader) railTarget(u *unit, whole, rest text, want *railIndex) (layout.Target, bool) {
	word := thingWords[want.thing]
	found := layout.Target{Kind: want.kind, Index: -1, Place: noPlace}
	if isReference(rest.s) {
		i, ok := r.lookup(want.thing, u, rest)
		if !ok {
			return found, false
		}
		if i == rowIndex {
			r.blame(rest, problem{message: rest.s + " is a row; which of it?", expected: "such as " + rest.s + "-1"})
			return found, false
		}
		found.Index, found.Text = i, word+" "+u.prefix+rest.s
		found.Place, found.Pos = want.place(i)
		return found, true
	}
	if i, ok := want.byText[u.prefix+rest.tidy()]; ok {
		found.Index, found.Text = i, word+" "+u.prefix+rest.tidy()
		found.Place, found.Pos = want.place(i)
		return found, true
	}
	raw, ok := r.parsePlace(rest)
	if !ok {
		return found, false
	}
	s, ok := r.spotOf(u, raw)
	if !ok {
		return found, false
	}
	if i := r.at(s.place, want); i >= 0 {
		found.Index = i
		found.Place, found.Pos = want.place(i)
		found.Text = word + " " + found.Place.Text
		return found, true
	}
	if !r.names[want.thing].lost {
		r.blame(whole, problem{message: "no " + word + " at " + s.place.Text, nearest: r.nearestOn(s.place, want)})
	}
	return found, false
}

// at finds the first thing of a kind at a place, -1 when there is none. All names of a
// joint are one place.
func (r *reader) at(p layout.Place, want *railIndex) int32 {
	best := int32(-1)
	for _, key := range r.placeKeys(p) {
		for _, i := range want.byPlace[key] {
			q, _ := want.place(i)
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
			q, _ := want.place(i)
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
