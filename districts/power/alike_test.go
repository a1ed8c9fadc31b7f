package power

import (
	"os"
	"path/filepath"
	"testing"
)

// alikeLayout has few time constants, and those near to each other: the reduction of a port comes to its end after three branches, and
// what is left then is rounding.
const alikeLayout = `gapwise: 1
layout: Alike
scale: HO
defaults:
  track: {rail: code 100 nickel silver, use: main}
  joint: {kind: soldered}
  feeder: {wire: 20 AWG, length: 1 ft}
trains:
  local: {length: 3 ft, current: 0.8 A, at-once: 2}
tracks:
  M: {from: end, to: T points, length: 30 ft}
  S: {from: T straight, to: end, length: 15 ft}
  C: {from: T curved, to: end, length: 12 ft}
turnouts:
  T: {hand: right, wiring: power-routing}
supplies:
  wall: {volts: 16 V}
boosters:
  one: {supply: wall, volts: 15 V, trips-at: 7 A, trip-time: 100 ms, inside: 0.1 Ω}
buses:
  long: {from: booster one, wire: 12 AWG, length: 60 ft, laid: twisted}
feeders:
  M: {A: left, 2 .. 28 ft: {every: 9 ft, wire: 24 AWG, from: long @ 2 ft}}
`

// TestAlikeBranches: a port whose branches end early is computed, with as many branches as it has.
func TestAlikeBranches(t *testing.T) {
	name := filepath.Join(t.TempDir(), "alike.yaml")
	if err := os.WriteFile(name, []byte(alikeLayout), 0o600); err != nil {
		t.Fatal(err)
	}
	h := studyOf(t, readLayout(t, name)).Heads[0]
	if h.Open != nil {
		t.Fatal(h.Open.Why)
	}
	if len(h.Settings) == 0 || h.Deciding[0].Worst == nil || h.Deciding[0].Worst.Short.MeanAbs <= 0 {
		t.Errorf("%d settings, %+v", len(h.Settings), h.Deciding)
	}
}
