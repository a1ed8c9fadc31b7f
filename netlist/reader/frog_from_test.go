package reader

import "testing"

// A bus for frogs that is a default, or copied, is not blamed on a turnout whose frog has no
// contacts; on one that has them it needs a leg.
func TestFrogFromNotTyped(t *testing.T) {
	const tracks = `tracks:
  M1: {from: end, to: T1 points, length: 6 ft}
  M2: {from: T1 straight, to: T2 points, length: 6 ft}
  S1: {from: T1 curved, to: end, length: 4 ft}
  M3: {from: T2 straight, to: end, length: 4 ft}
  S2: {from: T2 curved, to: end, length: 4 ft}
`
	for _, c := range []struct{ name, text, want string }{
		{"default", `defaults: {turnout: {frog-from: ring @ 3 ft}}
turnouts:
  T1: {hand: left, wiring: dead-frog}
  T2: {hand: left, wiring: switched-frog}
`, "which leg of this bus does the frog get?"},
		{"copy", `turnouts:
  T1: {hand: left, wiring: switched-frog, frog-from: ring @ 3 ft, frog-gets: {straight: A, curved: B}}
  T2: {like: T1, wiring: dead-frog}
`, ""},
		{"gets unknown", `turnouts:
  T1: {hand: left, wiring: switched-frog, frog-from: ring @ 3 ft, frog-gets: {straight: unknown}}
  T2: {hand: left, wiring: dead-frog}
`, ""},
	} {
		if got := messages(t, header+power+tracks+c.text); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
