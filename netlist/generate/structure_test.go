package generate_test

import (
	"strings"
	"testing"

	"gapwise/netlist/generate"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
)

// TestStructure checks what package reader makes sure of in every layout it gives.
func TestStructure(t *testing.T) {
	for seed := range uint64(20) {
		l := generate.Layout(3000, seed)
		checkEnds(t, l)
		checkPlaces(t, l)
		checkPower(t, l)
		checkCover(t, l)
		if t.Failed() {
			t.Fatalf("the layout of seed %d is not whole", seed)
		}
	}
}

// checkEnds wants every joint said once and the same from both sides.
func checkEnds(t *testing.T, l *layout.Layout) {
	joins := map[layout.EndRef]layout.EndRef{}
	for _, j := range l.Joins {
		for i, e := range j.Ends {
			if _, twice := joins[e]; twice {
				t.Errorf("%s %s is joined twice", l.Pieces[e.Piece].Name, l.Pieces[e.Piece].Ends[e.End].Name)
			}
			joins[e] = j.Ends[1-i]
		}
	}
	names := map[string]bool{}
	for id := range l.Pieces {
		p := &l.Pieces[id]
		if folded := strings.ToLower(strings.ReplaceAll(p.Name, "_", "-")); names[folded] {
			t.Errorf("two pieces called %s", p.Name)
		} else {
			names[folded] = true
		}
		if back := backRef(l, layout.PieceID(id)); back != layout.PieceID(id) {
			t.Errorf("%s is piece %d, and the entry behind it says %d", p.Name, id, back)
		}
		for e := range p.Ends {
			here := layout.EndRef{Piece: layout.PieceID(id), End: int32(e)}
			end := &p.Ends[e]
			other, joined := joins[here]
			switch {
			case joined && (end.Joint != other || end.Dead != layout.Joined):
				t.Errorf("%s %s is joined to %v, its end says %v", p.Name, end.Name, other, end.Joint)
			case joined, stands(l, here):
			case p.Kind != layout.TrackPiece || end.Dead != layout.BareEnd || end.Joint != layout.NoEnd:
				t.Errorf("%s %s meets nothing, its end says %v", p.Name, end.Name, end.Joint)
			}
		}
	}
}

func backRef(l *layout.Layout, id layout.PieceID) layout.PieceID {
	if p := &l.Pieces[id]; p.Kind == layout.TrackPiece {
		return l.Tracks[p.Index].Piece
	}
	return l.Turnouts[l.Pieces[id].Index].Piece
}

// stands reports whether an end is that of a turnout where the ruler passes through it.
func stands(l *layout.Layout, e layout.EndRef) bool {
	end := &l.Pieces[e.Piece].Ends[e.End]
	if end.Joint.Piece < 0 || end.Joint.End != -1 || end.Dead != layout.Joined {
		return false
	}
	t := &l.Turnouts[l.Pieces[e.Piece].Index]
	if t.OnTrack != end.Joint.Piece {
		return false
	}
	for _, s := range l.Tracks[l.Pieces[t.OnTrack].Index].Stands {
		if s.Piece == e.Piece && (s.First == e.End || s.Second == e.End) {
			return true
		}
	}
	return false
}

// checkPlaces wants everything on rail of its own track: inside it, clear of turnouts,
// in rising order, and no two at one place.
func checkPlaces(t *testing.T, l *layout.Layout) {
	at := map[layout.Place]bool{}
	last := map[string]layout.Place{}
	check := func(kind string, p layout.Place) {
		tr := &l.Tracks[l.Pieces[p.Piece].Index]
		x := p.At.Mid()
		if !p.At.Known() || x <= 0 || x >= tr.Length.Mid() || p.Text != tr.Name+" @ "+p.At.Text || p.End != -1 {
			t.Errorf("%s %+v is not inside %s", kind, p, tr.Name)
		}
		for _, s := range tr.Stands {
			if x >= s.At.Mid() && x <= s.At.Mid()+s.Length.Mid() {
				t.Errorf("%s %s is on a turnout", kind, p.Text)
			}
		}
		if at[p] {
			t.Errorf("%s %s: something else is there", kind, p.Text)
		}
		at[p] = true
		if q, any := last[kind]; any && (q.Piece > p.Piece || q.Piece == p.Piece && q.At.Mid() >= x) {
			t.Errorf("%s %s comes after %s", kind, p.Text, q.Text)
		}
		last[kind] = p
	}
	for i := range l.Gaps {
		check("gap", l.Gaps[i].Place)
	}
	for i := range l.Joints {
		check("joint", l.Joints[i].Place)
	}
	for i := range l.Feeders {
		check("feeder", l.Feeders[i].Place)
	}
	for i := range l.Tracks {
		tr := &l.Tracks[i]
		end := 0.0
		for _, s := range tr.Stands {
			if s.At.Mid() <= end || s.At.Mid()+s.Length.Mid() >= tr.Length.Mid() || s.Length != l.Turnouts[l.Pieces[s.Piece].Index].Length {
				t.Errorf("%s does not stand on rail of %s", l.Pieces[s.Piece].Name, tr.Name)
			}
			end = s.At.Mid() + s.Length.Mid()
		}
	}
}

// checkPower wants every tap on a bus that has the leg and reaches so far, and every
// source an entry.
func checkPower(t *testing.T, l *layout.Layout) {
	tap := func(what string, p layout.Tap, leg layout.Leg) {
		if p.Bus < 0 || int(p.Bus) >= len(l.Buses) || !l.Buses[p.Bus].Legs.Carries(leg) || p.At.Mid() > l.Buses[p.Bus].Length.Mid() || !p.At.Known() {
			t.Errorf("%s hangs from %+v", what, p)
		}
	}
	source := func(what string, s layout.Source) {
		counts := map[layout.SourceKind]int{
			layout.FromBooster: len(l.Boosters), layout.FromBreaker: len(l.Breakers), layout.FromReverser: len(l.Reversers), layout.FromDetector: len(l.Detectors),
		}
		if s.Kind == layout.FromTap {
			tap(what, s.Tap, layout.A)
			tap(what, s.Tap, layout.B)
		} else if s.Index < 0 || int(s.Index) >= counts[s.Kind] {
			t.Errorf("%s hangs from %+v", what, s)
		}
	}
	for i := range l.Feeders {
		for leg := range layout.Leg(2) {
			tap("feeder "+l.Feeders[i].Place.Text, l.Feeders[i].From[leg], leg)
		}
	}
	for i := range l.Buses {
		source("bus "+l.Buses[i].Name, l.Buses[i].From)
	}
	for i := range l.Breakers {
		source("breaker "+l.Breakers[i].Name, l.Breakers[i].From)
	}
	for i := range l.Reversers {
		source("reverser "+l.Reversers[i].Name, l.Reversers[i].From)
	}
	for i := range l.Detectors {
		source("detector "+l.Detectors[i].Name, l.Detectors[i].From)
	}
	for i := range l.Districts {
		source("district "+l.Districts[i].Name, l.Districts[i].From)
	}
}

// checkCover wants every inch of track and every turnout in one block, and every block
// in one district.
func checkCover(t *testing.T, l *layout.Layout) {
	covered := make([]float64, len(l.Pieces))
	for i := range l.Blocks {
		for _, s := range l.Blocks[i].Covers {
			if l.Pieces[s.Piece].Kind != layout.TrackPiece {
				covered[s.Piece]++
				continue
			}
			if s.From.Mid() >= s.To.Mid() {
				t.Errorf("block %s covers %s backwards", l.Blocks[i].Name, s.Text)
			}
			covered[s.Piece] += s.To.Mid() - s.From.Mid()
		}
	}
	for id, got := range covered {
		want := 1.0
		if p := &l.Pieces[id]; p.Kind == layout.TrackPiece {
			want = l.Tracks[p.Index].Length.Mid()
		} else if l.Turnouts[p.Index].OnTrack >= 0 {
			want = 0
		}
		if diff := got - want; diff > 1e-9 || diff < -1e-9 {
			t.Errorf("blocks cover %g of %s, which is %g", got, l.Pieces[id].Name, want)
		}
	}
	in := make([]int, len(l.Blocks))
	for i := range l.Districts {
		for _, b := range l.Districts[i].Blocks {
			in[b]++
		}
	}
	for b, n := range in {
		if n != 1 {
			t.Errorf("block %s is in %d districts", l.Blocks[b].Name, n)
		}
	}
}

// TestValuesAreKnown checks that every quantity that is typed was understood.
func TestValuesAreKnown(t *testing.T) {
	l := generate.Layout(1000, 1)
	b, r, d, s := &l.Boosters[0], &l.Reversers[0], &l.Detectors[0], &l.Supplies[0]
	for i, v := range []quantity.Value{
		b.Volts.Value, b.Inside.Value, b.TripsAt.Value, b.TripTime.Value, b.Retry.Value, b.Rating.Value,
		l.Breakers[0].TripsAt.Value, l.Breakers[0].TripTime.Value, l.Breakers[0].Resistance.Value,
		r.TripsAt.Value, r.TripTime.Value, r.Resistance.Value, d.Drop.Value, d.Sees.Value, s.Volts.Value, s.Rating.Value, s.Tolerance.Value,
		l.Feeders[0].Wire.Value, l.Feeders[0].Length.Value, l.Buses[0].Wire.Value, l.Turnouts[0].Length.Value, l.Turnouts[0].FrogLength.Value,
		l.Trains[0].Length.Value, l.Trains[0].Current.Value, l.Operations.Pickup.Value,
	} {
		if !v.Known() || v.Text == "" {
			t.Errorf("value %d is %+v", i, v)
		}
	}
	if !(r.TripsAt.Mid() < l.Breakers[0].TripsAt.Mid() && l.Breakers[0].TripsAt.Mid() < b.TripsAt.Mid()) {
		t.Error("a reverser trips before its breaker, and a breaker before its booster")
	}
}
