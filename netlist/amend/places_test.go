package amend

import (
	"strings"
	"testing"

	"gapwise/netlist/reader"
)

// TestPlaces changes, moves and takes out what stands on the rails, in each way to write it.
// What stands in was and is comes behind head, whose gaps are insulated ones in both rails.
func TestPlaces(t *testing.T) {
	before := strings.Replace(head, "bus: {", "gap: {rails: both, kind: insulated}, bus: {", 1)
	before = strings.Replace(before, "tracks: {", "turnouts: {T8: {hand: left, wiring: dead-frog}, T9: {hand: right, wiring: dead-frog}}\n"+
		"tracks: {M3: {from: T9 straight, to: T8 straight, length: 9 ft}, M4: {from: T9 curved, to: T8 curved, length: 9 ft}, M5: {from: end, to: T9 points, length: 9 ft}, M6: {from: end, to: T8 points, length: 9 ft}, ", 1)
	for _, c := range []struct {
		name    string
		was, is string
		changes []change
	}{
		{
			"a place by itself", "gaps:\n  M1: [8 in from end, 13 ft]  # two\n  M2: 3 ft # one\n",
			"gaps:\n  M1: [{at: 8 in from end, fill: none, rails: left}, 13 ft]  # two\n  M2: {at: 3 ft, rails: both} # one\n",
			[]change{setGap(0, "fill", "none"), setGap(0, "rails", "right"), setGap(0, "rails", "left"), setGap(2, "rails", "both")},
		},
		{
			"places on lines", "gaps:\n  M1:\n    - 8 in  # here\n    - at: 3 ft  # there\n      rails: left # one\n    # end\n",
			"gaps:\n  M1:\n    - {at: 8 in, rails: right}  # here\n    - at: 5 ft  # there\n      rails: both # one\n      width: 1 mm\n    # end\n",
			[]change{setGap(0, "rails", "right"), setGap(1, "rails", "both", "width", "1 mm"), moveGap(1, "5 ft")},
		},
		{
			"other kinds of gap", "gaps: {M1: {at: 8 in, kind: expansion, joint: cut}}\n",
			"gaps: {M1: {at: 8 in, kind: expansion, joint: bonded}}\n",
			[]change{setGap(0, "joint", "bonded")},
		},
		{
			"the last of two places counts", "gaps: {M1: [8 in, {rails: left, at: 13 ft}]}\n",
			"gaps: {M1: [1 in from end, {rails: left, at: 12 ft}]}\n",
			[]change{moveGap(0, "2 ft"), moveGap(0, "1 in from end"), moveGap(1, "12 ft")},
		},
		{
			"one of a row without brackets", "gaps:\n  M1: {at: 1 .. 9 ft, every: 4 ft, name: r}  # row\n",
			"gaps:\n  M1: [{at: 1 ft, name: r-1}, {at: 5 ft, name: r-2, rails: left}, {at: 9 ft, name: r-3}]  # row\n",
			[]change{setGap(1, "rails", "left")},
		},
		{
			"all of a row alike", "gaps:\n  M1: {at: 1 .. 9 ft, every: 4 ft}  # row\n",
			"gaps:\n  M1: {at: 1 .. 9 ft, every: 4 ft, rails: left}  # row\n",
			[]change{setGap(1, "rails", "left"), setGap(0, "rails", "left"), setGap(2, "rails", "left")},
		},
		{
			"a row on lines", "gaps:\n  M1:\n    at: 1 .. 9 ft # a\n    every: 2 ft # b\n    fill: none\n  M2: 3 ft\n",
			"gaps:\n  M1:\n    - {at: 1 ft, fill: none}\n    - {at: 5 ft 2 in, fill: none}\n    - {at: 7 ft, fill: none}\n    - {at: 9 ft, fill: none}\n    # a\n    # b\n  M2: 3 ft\n",
			[]change{closeGap(1), moveGap(2, "5 ft 2 in")},
		},
		{
			"a row of a list on lines", "gaps:\n  M1:\n    - 3 ft\n    - {at: 1 ft 6 in .. 9 ft, every: 2 ft} # row\n    - 2 in from end # last\n    # end\n",
			"gaps:\n  M1:\n    - 1 ft 6 in\n    - 3 ft 7 in\n    - 5 ft 6 in\n    - 7 ft 6 in # row\n    # end\n",
			[]change{closeGap(0), moveGap(2, "3 ft 7 in"), closeGap(5)},
		},
		{
			"a row down to one", "gaps: {M1: {at: 1 .. 5 ft, every: 2 ft}, M2: [{at: 1 m .. 2 m, every: 50 cm, fill: none},\n    5 m]}\n",
			"gaps: {M1: 5 ft, M2: [{at: 1.5 m, fill: none},\n    5 m]}\n",
			[]change{closeGap(0), closeGap(1), closeGap(3), closeGap(5)},
		},
		{
			"gaps in brackets over lines go", "gaps:\n  M1: [3 ft, # one\n    5 ft, # two\n    7 ft # three\n    ]\n",
			"gaps:\n  M1: [ # one\n    5 ft # two\n     # three\n    ]\n",
			[]change{closeGap(0), closeGap(2)},
		},
		{
			"gaps on lines go", "gaps:\n  M2:\n  - 4 ft\n  - # mine\n    at: 5 ft\n    rails: left\n  - 6 ft # stays\n  - 7 ft\nblocks: {B1: {covers: M1}}\n",
			"gaps:\n  M2:\n  - 4 ft\n  - 6 ft # stays\nblocks: {B1: {covers: M1}}\n",
			[]change{closeGap(1), closeGap(3), closeGap(1)},
		},
		{
			"a list goes with its last gap", "gaps:\n  M1: [3 ft, 4 ft]\n  M2: 3 ft\nblocks: {B1: {covers: M1}}\n",
			"gaps:\n  M2: 3 ft\nblocks: {B1: {covers: M1}}\n",
			[]change{closeGap(0), closeGap(1)},
		},
		{
			"a section goes with its last list", "gaps:\n  M1: [3 ft, 4 ft]\n  M2: 3 ft\nblocks: {B1: {covers: M1}}\n",
			"blocks: {B1: {covers: M1}}\n",
			[]change{closeGap(2), closeGap(0), closeGap(1)},
		},
		{
			"one gap goes and another comes", "gaps:\n  M1: [3 ft, 4 ft]\n  M2: 3 ft # here\n",
			"gaps:\n  M1: [3 ft, 5 ft]\n  M2: [3 ft, 6 ft] # here\n",
			[]change{closeGap(1), addPlaced("gaps", "M1", "5 ft", ""), addPlaced("gaps", "M2", "6 ft", "")},
		},
		{
			"all gaps go and one comes", "blocks: {B1: {covers: M1}}\ngaps: # all\n  M1: 3 ft\n  M2: [3 ft, 4 ft]\n",
			"blocks: {B1: {covers: M1}}\ngaps: # all\n  M2: [5 ft]\n",
			[]change{closeGap(0), closeGap(1), closeGap(2), addPlaced("gaps", "M2", "5 ft", "")},
		},
		{
			"joints", "joints: {M1: [{at: 3 ft, kind: plain}, {at: 5 ft .. 8 ft, every: 1 ft, kind: plain}]}\n",
			"joints: {M1: [{at: 3 ft, kind: soldered}, {at: 5 ft, kind: plain}, {at: 6 ft, kind: soldered, rails: left}, {at: 7 ft, kind: plain}, {at: 8 ft, kind: plain}], M3: [{at: start, kind: soldered}]}\n",
			[]change{setJoint(0, "kind", "soldered"), setJoint(2, "kind", "soldered", "rails", "left"), addPlaced("joints", "M3", "start", "{kind: soldered}")},
		},
		{
			"entries of lists", "loads: {at: M1 @ 3 ft, draws: 1 A}\nbonds:\n  - from: M1 start  # here\n    to: M2 start\n    rails: both\n  - {from: M1 @ 1 ft, to: M2 @ 1 ft, rails: both, name: x}\n",
			"loads: {at: M1 @ 3 ft, draws: 2 A}\nbonds:\n  - from: M1 start  # here\n    to: M2 start\n    rails: both\n    wire: 20 AWG\n  - {from: M1 @ 1 ft, to: M2 @ 1 ft, rails: [left, right], name: x, wire: 20 AWG}\n",
			[]change{setItem("bonds", 0, "wire", "20 AWG"), setItem("bonds", 1, "rails", "[left, right]"), set("bonds", "x", "wire", "20 AWG"), setItem("loads", 0, "draws", "2 A")},
		},
		{
			"other lists", "never-together: [{T9: curved, T8: straight}]\nturntables: {}\nterminators:\n- {at: M1 @ 1 ft}\n- {at: M2 @ 1 ft}\ncommon-rail: {rail: left, of: M1}\naccept: [{finding: gap-width, at: M1, because: old}]\n",
			"never-together: [{T9: curved, T8: straight, because: \"near, and low\"}]\nturntables: {}\nterminators:\n- {at: M1 @ 1 ft}\n- {at: M2 @ 1 ft, resistance: 100 Ω}\ncommon-rail: {rail: left, of: [M1, M2]}\naccept: [{finding: gap-width, at: M1, because: new}]\n",
			[]change{
				setItem("never-together", 0, "because", "\"near, and low\""), setItem("terminators", 1, "resistance", "100 Ω"),
				setItem("common-rail", 0, "of", "[M1, M2]"), setItem("accept", 0, "because", "new"),
			},
		},
		{
			"feeders move", buses + "feeders:\n  M1: {1 ft: ring @ 2 ft, 3 ft: [ring @ 3 ft, {from: ring @ 4 ft, wire: 20 AWG}]} # both\n  M2:\n    1 ft:\n      from: ring @ 3 ft # one\n    \"2 ft\": ring @ 4 ft # two\n",
			buses + "feeders:\n  M1: {1.5 ft: ring @ 2 ft, 3 ft: ring @ 3 ft, 3 ft 6 in: {from: ring @ 4 ft, wire: 18 AWG}} # both\n  M2:\n    1 in from end:\n      from: ring @ 3 ft # one\n    2 ft 3 in: {from: ring @ 4 ft, wire: 20 AWG} # two\n",
			[]change{
				moveFeeder(0, "2 ft"), moveFeeder(0, "1.5 ft"), moveFeeder(2, "3 ft 6 in"), setFeeder(2, "wire", "18 AWG"), moveFeeder(3, "1 in from end"),
				setFeeder(4, "wire", "20 AWG"), moveFeeder(4, "2 ft 3 in"),
			},
		},
		{
			"a feeder of a row moves", buses + "feeders:\n  M2:\n    A: right\n    4 .. 10 ft: {every: 3 ft, from: ring @ 9 ft} # row\n",
			buses + "feeders:\n  M2:\n    A: right\n    4 ft: ring @ 9 ft\n    8 in from end: ring @ 12 ft\n    10 ft: ring @ 15 ft # row\n",
			[]change{moveFeeder(1, "8 in from end")},
		},
		{
			"feeders change places", buses + "feeders:\n  M1: {1 ft: ring @ 2 ft, 3 ft: ring @ 3 ft}\n",
			buses + "feeders:\n  M1: {3 ft: ring @ 2 ft, 1 ft: ring @ 3 ft}\n",
			[]change{moveFeeder(0, "3 ft"), moveFeeder(1, "1 ft")},
		},
		{
			"feeders come to others", buses + "feeders:\n  M1: {1 ft: ring @ 2 ft, 2 ft: ring @ 3 ft, 3 ft: ring @ 4 ft}\n  M2:\n    1 ft: ring @ 2 ft  # one\n    2 ft: ring @ 5 ft # two\n    3 ft:\n      from: ring @ 6 ft # three\n",
			buses + "feeders:\n  M1: {3 ft: [ring @ 4 ft, ring @ 2 ft, ring @ 3 ft]}\n  M2:\n    # one\n    2 ft: ring @ 5 ft # two\n    3 ft:\n      - from: ring @ 6 ft # three\n      - {from: ring @ 2 ft, wire: 20 AWG}\n",
			[]change{moveFeeder(0, "3 ft"), moveFeeder(1, "3 ft"), moveFeeder(3, "3 ft"), setFeeder(3, "wire", "20 AWG")},
		},
		{
			"a feeder moves to where another comes", buses + "feeders:\n  M1: {1 ft: ring @ 2 ft, 3 ft: ring @ 3 ft}\n",
			buses + "feeders:\n  M1: {5 ft: [ring @ 2 ft, ring @ 4 ft], 3 ft: ring @ 3 ft, 1 ft: ring @ 4 ft}\n",
			[]change{moveFeeder(0, "5 ft"), addPlaced("feeders", "M1", "5 ft", "ring @ 4 ft"), addPlaced("feeders", "M1", "1 ft", "ring @ 4 ft")},
		},
		{
			"ends of track work", buses + "gaps:\n  T9: [{at: curved, rails: inner}]\n",
			buses + "gaps:\n  T9: [{at: curved, rails: both}, {at: straight, rails: inner, kind: insulated}, points]\n\nfeeders:\n  T9: {straight: {from: ring @ 3 ft, A: right}}\n",
			[]change{
				addPlaced("gaps", "T9", "straight", "{rails: inner, kind: insulated}"), addPlaced("gaps", "T9", "points", ""), setGap(0, "rails", "both"),
				addPlaced("feeders", "T9", "straight", "{from: ring @ 3 ft, A: right}"),
			},
		},
		{
			"words beside the places", buses + "feeders:\n  M1:\n    A: right\n    wire: 20 AWG\n    1 ft: ring @ 2 ft\n  M2: {A: left, 1 ft: ring @ 2 ft}\n",
			buses + "feeders:\n  M1:\n    A: right\n    wire: 20 AWG\n    1 ft: ring @ 2 ft\n    2 ft: {from: ring @ 3 ft, A: left}\n    3 ft: ring @ 4 ft\n  M2: {A: left, 1 ft: ring @ 2 ft, 2 ft: {from: ring @ 3 ft, wire: 18 AWG}}\n",
			[]change{
				addPlaced("feeders", "M1", "2 ft", "{from: ring @ 3 ft, A: left, wire: 20 AWG}"), addPlaced("feeders", "M1", "3 ft", "{from: ring @ 4 ft, A: right, wire: 20 AWG}"),
				addPlaced("feeders", "M2", "2 ft", "{from: ring @ 3 ft, A: left, wire: 18 AWG}"),
			},
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, eol := range []string{"\n", "\r\n"} {
				w := New(readText(t, strings.ReplaceAll(before+c.was, "\n", eol)), reader.Options{})
				for _, change := range c.changes {
					change(w)
				}
				_, got, _ := strings.Cut(strings.ReplaceAll(text(t, w), eol, "\n"), "supply: front}}\n")
				if got != c.is {
					t.Errorf("got\n%s\nwant\n%s", got, c.is)
				}
				reread(t, w)
			}
		})
	}
}
