package reader

import "testing"

// Trains and loads may say what they draw for the first moments after power returns.
func TestInrush(t *testing.T) {
	l := sound(t, header+`tracks:
  M1: {from: end, to: end, length: 20 ft}
trains:
  coach: {length: 3 ft, current: 0.3 A, inrush: 1 .. 2 A}
  goods: {length: 3 ft, current: 0.3 A}
loads:
  - {at: M1 @ 4 ft, kind: lamp, draws: 60 mA, inrush: 0.5 A}
`)
	coach, goods, lamp := l.Trains[0].Inrush, l.Trains[1].Inrush, l.Loads[0].Inrush
	if !coach.Known() || coach.Lo != 1 || coach.Hi != 2 {
		t.Errorf("coach: %+v", coach)
	}
	if goods.Said() {
		t.Errorf("goods: %+v", goods)
	}
	if !lamp.Known() || lamp.Lo != 0.5 {
		t.Errorf("lamp: %+v", lamp)
	}
}
