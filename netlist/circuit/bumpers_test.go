package circuit_test

import "testing"

// A bumper may join its rails until its resistance is said.
func TestBumpers(t *testing.T) {
	c := build(t, head+`tracks:
  M: {from: bumper, to: bumper, length: 9 ft}
  N: {from: end, to: bumper, length: 9 ft}
  O: {from: bumper, to: end, length: 9 ft}
loads:
  - {at: M @ end, kind: bumper, resistance: 1 kΩ}
  - {at: N @ 9 ft, kind: bumper, resistance: unknown}
  - {at: O @ 0, kind: bumper, resistance: 1 kΩ}
`)
	const why = "joins its rails: cast metal does; measure it, and say so under `loads` (kind: bumper, resistance)"
	check(t, notModelled(c), "4: whether the bumper at M start "+why+"\n5: whether the bumper at N end "+why)
}
