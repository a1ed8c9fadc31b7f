package reader

import (
	"testing"

	"gapwise/netlist/source"
)

// A tap is asked about when it is more than 24 in from where its bus is said to run below
// the rail; a list without places on the bus says no such thing.
func TestAskTaps(t *testing.T) {
	read := func(under, feeder string) string {
		l := sound(t, header+`supplies: {wall: {volts: 18 V}}
boosters: {one: {supply: wall, volts: 15 V}}
tracks:
  M1: {from: end, to: end, length: 20 ft}
  M2: {from: end, to: end, length: 20 ft}
  R1: {closed: yes, length: 40 ft}
buses:
  ring: {from: booster one, wire: 14 AWG, length: 44 ft, under: `+under+`}
feeders:
  `+feeder+"\n")
		return lines(l.Questions, func(p source.Problem) string { return p.Message })
	}
	const asked = "the tap ring @ 25 ft is 5 ft (1.52 m) from where bus ring runs below M1 @ 10 ft; is that so?\n"
	for _, c := range []struct{ under, feeder, want string }{
		{"{10 .. 30 ft: M1}", "M1: {A: left, 10 ft: ring @ 25 ft}", asked},
		{"{10 .. 30 ft: M1}", "M1: {A: left, 10 ft: ring @ 22 ft}", ""},
		{"{10 .. 30 ft: M1}", "M1: {A: left, 4 ft: ring @ 14 ft, 5 ft: ring @ 25 ft}", ""}, // either way along
		{"{10 .. 30 ft: [M1, M2]}", "M1: {A: left, 10 ft: ring @ 29 ft}", ""},
		{"{10 .. 30 ft: [M1, M2]}", "M1: {A: left, 10 ft: ring @ 33 ft}", "the tap ring @ 33 ft is 3 ft (914 mm) from where bus ring runs below M1 @ 10 ft; is that so?\n"},
		{"M1", "M1: {A: left, 10 ft: ring @ 1 ft}", ""},
		{"{10 .. 30 ft: M1}", "M2: {A: left, 10 ft: ring @ 1 ft}", ""},
		{"{10 .. 20 ft: M1 @ 0 .. 10 ft, 0 ft: M1 @ 10 ft .. end}", "M1: {A: left, 15 ft: ring @ 15 ft}", "the tap ring @ 15 ft is 5 ft (1.52 m) from where bus ring runs below M1 @ 15 ft; is that so?\n"},
		{"{10 .. 20 ft: R1 @ 35 ft .. 5 ft}", "R1: {A: left, 2 ft: ring @ 17 ft, 3 ft: ring @ 40 ft}", "the tap ring @ 40 ft is 22 ft (6.71 m) from where bus ring runs below R1 @ 3 ft; is that so?\n"},
		{"{10 .. 30 ft: M1}", "M1: {A: left, 2 .. 18 ft: {every: 8 ft, from: ring @ 20 ft}}", "the tap ring @ 20 ft is 8 ft (2.44 m) from where bus ring runs below M1 @ 2 ft; is that so?\n"},
	} {
		if got := read(c.under, c.feeder); got != c.want {
			t.Errorf("%s, %s: %q, want %q", c.under, c.feeder, got, c.want)
		}
	}
}
