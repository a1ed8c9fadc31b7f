package reader

import (
	"cmp"
	"slices"

	"gapwise/netlist/layout"
)

// span is where something on a track may be.
type span struct {
	track  int32
	lo, hi float64
	item   layout.OrderItem
}

// uncertainOrders lists pairs of things on one track whose measures overlap. A body must
// leave no doubt: its own measure may not overlap anything.
func (r *reader) uncertainOrders() {
	spans := r.spans()
	slices.SortStableFunc(spans, func(a, b span) int {
		return cmp.Or(cmp.Compare(a.track, b.track), cmp.Compare(a.lo, b.lo), cmp.Compare(a.hi, b.hi))
	})
	blamed := map[bodyKey]bool{}
	var open []span // those that may reach what comes next
	for _, s := range spans {
		still := open[:0]
		for _, o := range open {
			if o.track == s.track && o.hi > s.lo {
				still = append(still, o)
			}
		}
		open = still
		for _, o := range open {
			if o.hi == o.lo && s.hi == s.lo || o.item == s.item {
				continue
			}
			if r.vagueBody(o, s, blamed) || r.vagueBody(s, o, blamed) {
				continue
			}
			if len(r.lay.UncertainOrders) >= layout.MaxUncertainOrders {
				return
			}
			first, second := o, s
			if s.lo+s.hi < o.lo+o.hi {
				first, second = s, o
			}
			r.lay.UncertainOrders = append(r.lay.UncertainOrders, layout.UncertainOrder{Track: s.track, First: first.item, Second: second.item})
		}
		open = append(open, s)
	}
}

// bodyKey is a body by its track and its place in the track's stands.
type bodyKey struct{ track, index int32 }

// vagueBody reports a body whose own measure leaves its order with another thing open.
func (r *reader) vagueBody(b, other span, blamed map[bodyKey]bool) bool {
	if b.item.Kind != layout.OrderBody || b.hi == b.lo {
		return false
	}
	key := bodyKey{b.track, b.item.Index}
	if blamed[key] {
		return true
	}
	blamed[key] = true
	body := &r.tracks[b.track].bodies[b.item.Index]
	r.blamef(body.at, "%s may stand on either side of %s; measure closer", body.name, r.itemName(other))
	return true
}

// itemName is a thing on a track for a message.
func (r *reader) itemName(s span) string {
	switch s.item.Kind {
	case layout.OrderGap:
		return "gap " + r.lay.Gaps[s.item.Index].Place.Text
	case layout.OrderJoint:
		return "joint " + r.lay.Joints[s.item.Index].Place.Text
	case layout.OrderFeeder:
		return "feeder " + r.lay.Feeders[s.item.Index].Place.Text
	default:
		return r.tracks[s.track].bodies[s.item.Index].name
	}
}

// spans are the measures of everything on tracks that have at least one range.
func (r *reader) spans() []span {
	var spans []span
	vague := make([]bool, len(r.lay.Tracks))
	add := func(p layout.Place, kind layout.OrderKind, index int) {
		if p.End >= 0 || !p.At.Known() {
			return
		}
		t := r.lay.Pieces[p.Piece].Index
		vague[t] = vague[t] || p.At.Lo < p.At.Hi
		spans = append(spans, span{t, p.At.Lo, p.At.Hi, layout.OrderItem{Kind: kind, Index: int32(index)}})
	}
	for i := range r.lay.Gaps {
		add(r.lay.Gaps[i].Place, layout.OrderGap, i)
	}
	for i := range r.lay.Joints {
		add(r.lay.Joints[i].Place, layout.OrderJoint, i)
	}
	for i := range r.lay.Feeders {
		add(r.lay.Feeders[i].Place, layout.OrderFeeder, i)
	}
	for t := range r.lay.Tracks {
		for i, s := range r.lay.Tracks[t].Stands {
			vague[t] = vague[t] || s.At.Lo < s.At.Hi || s.Length.Lo < s.Length.Hi
			item := layout.OrderItem{Kind: layout.OrderBody, Index: int32(i)}
			spans = append(spans, span{int32(t), s.At.Lo, s.At.Hi, item}, span{int32(t), s.At.Lo + s.Length.Lo, s.At.Hi + s.Length.Hi, item})
		}
	}
	return slices.DeleteFunc(spans, func(s span) bool { return !vague[s.track] })
}
