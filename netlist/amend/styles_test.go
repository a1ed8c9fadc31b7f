package amend

import (
	"strings"
	"testing"

	"gapwise/netlist/reader"
)

// change is one call of a writer.
type change func(*Writer)

func set(section, name string, pairs ...string) change {
	return func(w *Writer) { w.Set(section, name, keysOf(pairs)...) }
}

func setFeeder(i int32, pairs ...string) change {
	return func(w *Writer) { w.SetFeeder(i, keysOf(pairs)...) }
}

func setRow(i int32, pairs ...string) change {
	return func(w *Writer) { w.SetRow(i, keysOf(pairs)...) }
}

func moveFeeder(i int32, where string) change {
	return func(w *Writer) { w.MoveFeeder(i, where) }
}

func setGap(i int32, pairs ...string) change {
	return func(w *Writer) { w.SetGap(i, keysOf(pairs)...) }
}

func moveGap(i int32, where string) change {
	return func(w *Writer) { w.MoveGap(i, where) }
}

func closeGap(i int32) change {
	return func(w *Writer) { w.CloseGap(i) }
}

func setJoint(i int32, pairs ...string) change {
	return func(w *Writer) { w.SetJoint(i, keysOf(pairs)...) }
}

func setItem(section string, i int32, pairs ...string) change {
	return func(w *Writer) { w.SetItem(section, i, keysOf(pairs)...) }
}

func add(section, name, value string) change {
	return func(w *Writer) { w.Add(section, name, value) }
}

func addList(section, value string) change {
	return func(w *Writer) { w.AddList(section, value) }
}

func addPlaced(section, piece, where, value string) change {
	return func(w *Writer) { w.AddPlaced(section, piece, where, value) }
}

func remove(section, name string) change {
	return func(w *Writer) { w.Remove(section, name) }
}

func keysOf(pairs []string) []Key {
	var keys []Key
	for i := 0; i < len(pairs); i += 2 {
		keys = append(keys, Key{pairs[i], pairs[i+1]})
	}
	return keys
}

// buses is a section that the tables on feeders stand on.
const buses = "buses: {ring: {from: booster front, length: 60 ft}}\n"

// TestStyles tries each kind of change on each way to write what it changes. What stands
// in was and is comes behind head.
func TestStyles(t *testing.T) {
	for _, c := range []struct {
		name    string
		was, is string
		changes []change
	}{
		{
			"a value in braces", "buses:\n  ring:  {from: booster front,  wire: 14 AWG, length: 9 ft}  # thin\n",
			"buses:\n  ring:  {from: booster front,  wire: 12 AWG, length: 9 ft}  # thin\n",
			[]change{set("buses", "ring", "wire", "12 AWG")},
		},
		{
			"a key in braces", "buses:\n  ring: {from: booster front}  # long\n",
			"buses:\n  ring: {from: booster front, wire: 12 AWG, laid: twisted}  # long\n",
			[]change{set("buses", "ring", "wire", "12 AWG", "laid", "twisted")},
		},
		{
			"the last of two values counts", "buses:\n  ring: {from: booster front}\n",
			"buses:\n  ring: {from: booster front, wire: 10 AWG}\n",
			[]change{set("buses", "ring", "wire", "12 AWG"), set("buses", "ring", "wire", "10 AWG")},
		},
		{
			"a comma before the brace", "buses:\n  ring: {from: booster front,}\n",
			"buses:\n  ring: {from: booster front, wire: 12 AWG,}\n",
			[]change{set("buses", "ring", "wire", "12 AWG")},
		},
		{
			"a section in braces", "buses: {ring: {from: booster front}, \"spur\": {from: booster front}}\n",
			"buses: {ring: {from: booster front, wire: 12 AWG}, \"spur\": {from: booster front, wire: 14 AWG}}\n",
			[]change{set("buses", "spur", "wire", "14 AWG"), set("buses", "ring", "wire", "12 AWG")},
		},
		{
			"keys on lines", "buses:\n  ring:\n    from: booster front  # here\n    wire: 14 AWG # there\n    # the end\n  spur: {from: booster front}\n",
			"buses:\n  ring:\n    from: booster front  # here\n    wire: 12 AWG # there\n    length: 9 ft\n    # the end\n  spur: {from: booster front}\n",
			[]change{set("buses", "ring", "wire", "12 AWG", "length", "9 ft")},
		},
		{
			"keys on lines at the end of a file", "buses:\n  ring:\n     from: booster front",
			"buses:\n  ring:\n     from: booster front\n     wire: 12 AWG",
			[]change{set("buses", "ring", "wire", "12 AWG")},
		},
		{
			"quoted keys and values", "buses:\n  'ring': {\"from\": 'booster front', \"wire\": \"14 AWG\"}\n",
			"buses:\n  'ring': {\"from\": 'booster front', \"wire\": 12 AWG}\n",
			[]change{set("buses", "ring", "wire", "12 AWG")},
		},
		{
			"braces over lines", "buses:\n  ring: {\n    from: booster front, # here\n    wire: 14 AWG # there\n  }\n",
			"buses:\n  ring: {\n    from: booster front, # here\n    wire: 12 AWG, # there\n    length: 9 ft\n  }\n",
			[]change{set("buses", "ring", "wire", "12 AWG", "length", "9 ft")},
		},
		{
			"braces over lines with a last comma", "buses:\n  ring: {\n    from: booster front,\n    wire: 14 AWG, # there\n  }\n",
			"buses:\n  ring: {\n    from: booster front,\n    wire: 14 AWG, # there\n    length: 9 ft,\n  }\n",
			[]change{set("buses", "ring", "length", "9 ft")},
		},
		{
			"braces over lines that close in the last", "buses:\n  ring: {from: booster front,\n         wire: 14 AWG}\n",
			"buses:\n  ring: {from: booster front,\n         wire: 14 AWG,\n         length: 9 ft}\n",
			[]change{set("buses", "ring", "length", "9 ft")},
		},
		{
			"a comma on the next line", "buses:\n  ring: {\n    from: booster front # here\n    , }\n",
			"buses:\n  ring: {\n    from: booster front,\n    length: 9 ft # here\n    , }\n",
			[]change{set("buses", "ring", "length", "9 ft")},
		},
		{
			"filled lines in braces", "buses:\n  ring: {from: booster front, length: 9 ft,\n    wire: 14 AWG, legs: both}\n",
			"buses:\n  ring: {from: booster front, length: 9 ft,\n    wire: 14 AWG, legs: both, laid: twisted}\n",
			[]change{set("buses", "ring", "laid", "twisted")},
		},
		{
			"a list on lines becomes one value", "buses:\n  ring:\n    from: booster front\n    under:\n      # along the wall\n      - M1  # first\n      - M2  # second\n    length: 9 ft\n",
			"buses:\n  ring:\n    from: booster front\n    under: M2\n      # along the wall\n      # first  # second\n    length: 9 ft\n",
			[]change{set("buses", "ring", "under", "M2")},
		},
		{
			"a list over lines becomes one value", "buses:\n  ring:\n    from: booster front\n    under: [M1, # first\n      M2]\n    length: 9 ft\n",
			"buses:\n  ring:\n    from: booster front\n    under: # first\n      M2\n    length: 9 ft\n",
			[]change{set("buses", "ring", "under", "M2")},
		},
		{
			"a list over lines in braces becomes one value", "buses:\n  ring: {from: booster front, under: [M1, # first\n      M2], length: 9 ft}\n",
			"buses:\n  ring: {from: booster front, under: # first\n    M2, length: 9 ft}\n",
			[]change{set("buses", "ring", "under", "M2")},
		},
		{
			"a value that is a map", "buses:\n  ring: {from: booster front, length: 9 ft, under: M1}\n",
			"buses:\n  ring: {from: booster front, length: 9 ft, under: {2 ft: M1, 3 ft: [M2]}}\n",
			[]change{set("buses", "ring", "under", "{2 ft: M1, 3 ft: [M2]}")},
		},
		{
			"own keys come before those copied", "buses:\n  ring: {from: booster front, wire: 14 AWG}\n  spur: {like: ring, from: booster front}\n",
			"buses:\n  ring: {from: booster front, wire: 14 AWG}\n  spur: {like: ring, from: booster front, wire: 12 AWG}\n",
			[]change{set("buses", "spur", "wire", "12 AWG")},
		},
		{
			"a list's entry by its name", "terminators:\n  - {at: M1 @ 1 ft}\n  - at: M1 @ 2 ft\n    name: far\n",
			"terminators:\n  - {at: M1 @ 1 ft}\n  - at: M1 @ 2 ft\n    name: far\n    resistance: 100 Ω\n",
			[]change{set("terminators", "far", "resistance", "100 Ω")},
		},
		{
			"line ends of two characters", "buses:\r\n  ring:\r\n    from: booster front  # é\r\n",
			"buses:\r\n  ring:\r\n    from: booster front  # é\r\n    wire: 12 AWG\r\n",
			[]change{set("buses", "ring", "wire", "12 AWG")},
		},
		{
			"behind characters of two bytes", "buses:\n  ring: {label: 'für Ölhafen', from: booster front, wire: 14 AWG}\n",
			"buses:\n  ring: {label: 'für Ölhafen', from: booster front, wire: 12 AWG}\n",
			[]change{set("buses", "ring", "wire", "12 AWG")},
		},
		{
			"a feeder that is a tap", buses + "feeders:\n  M1: {1 ft: ring @ 2 ft, 3 ft: ring @ 4 ft}\n",
			buses + "feeders:\n  M1: {1 ft: {from: ring @ 2 ft, wire: 18 AWG}, 3 ft: ring @ 5 ft}\n",
			[]change{setFeeder(0, "wire", "18 AWG"), setFeeder(1, "from", "ring @ 5 ft")},
		},
		{
			"feeders on lines beside words", buses + "feeders:\n  M1:\n    A: right\n    wire: 20 AWG\n    1 ft: ring @ 2 ft # one\n    3 ft: {from: ring @ 4 ft}\n    5 ft:\n      from: ring @ 6 ft\n      length: 1 ft\n",
			buses + "feeders:\n  M1:\n    A: right\n    wire: 20 AWG\n    1 ft: {from: ring @ 2 ft, wire: 18 AWG} # one\n    3 ft: {from: ring @ 4 ft, wire: 18 AWG}\n    5 ft:\n      from: ring @ 6 ft\n      length: 2 ft\n      wire: 18 AWG\n",
			[]change{setFeeder(0, "wire", "18 AWG"), setFeeder(1, "wire", "18 AWG"), setFeeder(2, "wire", "18 AWG", "length", "2 ft")},
		},
		{
			"feeders at one place", buses + "feeders:\n  M1:\n    1 ft: [ring @ 2 ft, {from: ring @ 3 ft}]\n    start:\n      - ring @ 1 ft\n      - from: ring @ 3 ft\n    end: ring @ 2 ft\n    2 ft from end: ring @ 2 ft\n",
			buses + "feeders:\n  M1:\n    1 ft: [ring @ 2 ft, {from: ring @ 3 ft, wire: 18 AWG}]\n    start:\n      - {from: ring @ 1 ft, wire: 16 AWG}\n      - from: ring @ 3 ft\n        wire: 18 AWG\n    end: {from: ring @ 2 ft, wire: 18 AWG}\n    2 ft from end: {from: ring @ 2 ft, wire: 18 AWG}\n",
			[]change{setFeeder(1, "wire", "18 AWG"), setFeeder(2, "wire", "16 AWG"), setFeeder(3, "wire", "18 AWG"), setFeeder(4, "wire", "18 AWG"), setFeeder(5, "wire", "18 AWG")},
		},
		{
			"a row as a whole", buses + "feeders:\n  M1: {2 .. 34 ft: {every: 8 ft, from: ring @ 3 ft}, 1 ft: ring @ 1 ft}\n",
			buses + "feeders:\n  M1: {2 .. 34 ft: {every: 8 ft, from: ring @ 5 ft, wire: 18 AWG}, 1 ft: ring @ 1 ft}\n",
			[]change{setRow(3, "wire", "18 AWG", "from", "ring @ 5 ft")},
		},
		{
			"a row, each of its feeders alike", buses + "feeders:\n  M1: {2 .. 10 ft: {every: 8 ft, from: ring @ 3 ft}}\n",
			buses + "feeders:\n  M1: {2 .. 10 ft: {every: 8 ft, from: ring @ 3 ft, wire: 18 AWG}}\n",
			[]change{setFeeder(1, "wire", "18 AWG"), setFeeder(0, "wire", "18 AWG")},
		},
		{
			"one feeder of a row", buses + "feeders:\n  M1: {2 .. 26 ft: {every: 8 ft, from: ring @ 3 ft, name: r, length: 9 in}}  # five\n",
			buses + "feeders:\n  M1: {2 ft: {from: ring @ 3 ft, name: r-1, length: 9 in}, 10 ft: {from: ring @ 11 ft, name: r-2, length: 1 ft}, 18 ft: {from: ring @ 19 ft, name: r-3, length: 9 in}, 26 ft: {from: ring @ 27 ft, name: r-4, length: 9 in}}  # five\n",
			[]change{setFeeder(1, "length", "1 ft")},
		},
		{
			"one feeder of a row on lines", buses + "feeders:\n  M1:\n    # the long wall\n    1.5 m .. 4 m: # here\n      from: ring @ 20 .. 10 ft # falling\n      every: 1.2 m\n      label: bay, left\n    6 m: ring @ 1 m\n",
			buses + "feeders:\n  M1:\n    # the long wall\n    1.5 m: {from: ring @ 20 ft, label: \"bay, left\"}\n    2.7 m: {from: ring @ 15 ft, label: \"bay, left\"}\n    3.9 m: {from: ring @ 10 ft, label: \"bay, left\", wire: 18 AWG}\n    # here\n    # falling\n    6 m: ring @ 1 m\n",
			[]change{setFeeder(2, "wire", "18 AWG")},
		},
		{
			"one feeder of a row that a default makes", buses + "feeders:\n  M1: {2 ft .. 6 ft 6 1/2 in: ring @ 3 ft}\n",
			buses + "feeders:\n  M1: {2 ft: ring @ 3 ft, 5 ft 1 1/2 in: ring @ 7 ft}\n",
			[]change{setFeeder(1, "from", "ring @ 7 ft")},
		},
		{
			"a gap to one, to a list, to lines, to none", "gaps:\n  M1: {at: 8 in, rails: both, kind: insulated}\n",
			"gaps:\n  M1: [{at: 8 in, rails: both, kind: insulated}, {at: 3 in from end, rails: both, kind: insulated}]\n  M2: [{at: 1.25 ft, rails: left, kind: insulated}]\n",
			[]change{addPlaced("gaps", "M1", "3 in from end", ""), addPlaced("gaps", "M2", "1.25 ft", "{rails: left, kind: insulated}")},
		},
		{
			"gaps on lines", "gaps:\n  M1:\n    at: 8 in # c\n    rails: both\n\n    kind: insulated\n  M2:\n  - {at: 8 in, rails: both, kind: insulated}\n",
			"gaps:\n  M1:\n    - at: 8 in # c\n      rails: both\n\n      kind: insulated\n    - {at: 2 ft, rails: both, kind: insulated}\n  M2:\n  - {at: 8 in, rails: both, kind: insulated}\n  - {at: 3 ft, rails: both, kind: insulated}\n",
			[]change{addPlaced("gaps", "M1", "2 ft", ""), addPlaced("gaps", "M2", "3 ft", "")},
		},
		{
			"feeders of a piece", buses + "feeders:\n  M1: {1 ft: ring @ 2 ft}\n",
			buses + "feeders:\n  M1: {1 ft: [ring @ 2 ft, ring @ 4 ft], 3 ft: {from: ring @ 1 ft, A: right}}\n  M2: {1 in from end: [ring @ 1 ft, ring @ 2 ft]}\n",
			[]change{
				addPlaced("feeders", "M1", "3 ft", "{from: ring @ 1 ft, A: right}"), addPlaced("feeders", "M1", "1 ft", "ring @ 4 ft"),
				addPlaced("feeders", "M2", "1 in from end", "ring @ 1 ft"), addPlaced("feeders", "M2", "1 in from end", "ring @ 2 ft"),
			},
		},
		{
			"feeders of a piece on lines", buses + "feeders:\n  M1:\n    1 ft:\n      from: ring @ 2 ft\n  M2:\n    1 ft:\n    - ring @ 1 ft\n",
			buses + "feeders:\n  M1:\n    1 ft:\n      - from: ring @ 2 ft\n      - ring @ 3 ft\n    2 ft: ring @ 3 ft\n  M2:\n    1 ft:\n    - ring @ 1 ft\n    - ring @ 3 ft\n",
			[]change{addPlaced("feeders", "M1", "1 ft", "ring @ 3 ft"), addPlaced("feeders", "M1", "2 ft", "ring @ 3 ft"), addPlaced("feeders", "M2", "1 ft", "ring @ 3 ft")},
		},
		{
			"entries in a column", "buses:\n  ring:   {from: booster front}\n  harbour: {from: booster front}\n  B2:      {from: booster front}\n",
			"buses:\n  ring:   {from: booster front}\n  harbour: {from: booster front}\n  B2:      {from: booster front}\n  C1: {from: booster front}\n",
			[]change{add("buses", "C1", "{from: booster front}")},
		},
		{
			"entries in a column that agree", "buses:\n  ring:    {from: booster front}  # one\n  harbour: {from: booster front}  # two\n\nblocks: {B1: {covers: M1}}\n",
			"buses:\n  ring:    {from: booster front}  # one\n  harbour: {from: booster front}  # two\n  C1:      {from: booster front}\n  longer-name: {from: booster front}\n\nblocks: {B1: {covers: M1}}\n",
			[]change{add("buses", "C1", "{from: booster front}"), add("buses", "longer-name", "{from: booster front}")},
		},
		{
			"sections that are missing", "# power\nbuses: {ring: {from: booster front, length: 9 ft}} # one\n\n# use\nblocks: {B1: {covers: M1}}\n",
			"breakers:\n  main: {from: booster front}\n# power\nbuses: {ring: {from: booster front, length: 9 ft}, spur: {from: breaker main}} # one\n\nterminators:\n  - {at: ring @ 9 ft}\n\n# use\nblocks: {B1: {covers: M1}}\n",
			[]change{addList("terminators", "{at: ring @ 9 ft}"), add("breakers", "main", "{from: booster front}"), add("buses", "spur", "{from: breaker main}")},
		},
		{
			"a list of one", "terminators: {at: M1 @ 1 ft}\nloads:\n  at: M1 @ 2 ft\n  draws: 1 A\n",
			"terminators: [{at: M1 @ 1 ft}, {at: M1 @ 3 ft}]\nloads:\n  - at: M1 @ 2 ft\n    draws: 1 A\n  - {at: M1 @ 4 ft, draws: 1 A}\n",
			[]change{addList("terminators", "{at: M1 @ 3 ft}"), addList("loads", "{at: M1 @ 4 ft, draws: 1 A}")},
		},
		{
			"entries go", "buses:\n  ring: {from: booster front}  # one\n  # of two\n  spur:\n    from: booster front\n    length: 9 ft # long\n  # the rest\n  last: {from: booster front}\n",
			"buses:\n  ring: {from: booster front}  # one\n  # of two\n  # the rest\n  last: {from: booster front}\n",
			[]change{remove("buses", "spur"), remove("buses", "spur")},
		},
		{
			"entries in braces go", "buses: {E: {from: booster front}, F: {from: booster front}, G: {from: booster front}, H: {from: booster front}}\n",
			"buses: {F: {from: booster front}}\n",
			[]change{remove("buses", "H"), remove("buses", "E"), remove("buses", "G")},
		},
		{
			"a section goes with its last entry", "buses:\n  E: {from: booster front}\nblocks:\n  B1: {covers: M1}\n  B2: {covers: M2}\n",
			"blocks:\n  B1: {covers: M2}\n  B2: {covers: M2}\n",
			[]change{remove("buses", "E"), set("blocks", "B1", "covers", "M2")},
		},
		{
			"one goes and another comes", "buses:\n  E: {from: booster front}\nblocks:\n  B1: {covers: M1}\n",
			"buses:\n  F: {from: booster front, length: 9 ft}\nblocks:\n  B1: {covers: M1}\n",
			[]change{remove("buses", "E"), add("buses", "F", "{from: booster front, length: 9 ft}")},
		},
		{
			"the section stays where it was",
			"blocks:\n  B1: {covers: M1}\nbuses: # all\n  E: {from: booster front}\n",
			"blocks:\n  B1: {covers: M1}\nbuses: # all\n  F: {from: booster front}\n",
			[]change{remove("buses", "E"), add("buses", "F", "{from: booster front}")},
		},
		{
			"comments in braces stay when entries go",
			"buses: {E: {from: booster front}, # one\n  F: {from: booster front}, # two\n  G: {from: booster front} # three\n  }\n",
			"buses: { # one\n  F: {from: booster front} # two\n   # three\n  }\n",
			[]change{remove("buses", "E"), remove("buses", "G")},
		},
		{
			"a bare gap where the defaults are for others",
			"gaps: {M1: {at: 8 in, kind: insulated, rails: left}}\n",
			"gaps: {M1: [{at: 8 in, kind: insulated, rails: left}, {at: 9 in, rails: both, kind: insulated}]}\n",
			[]change{addPlaced("gaps", "M1", "9 in", "")},
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			before := head + c.was
			if strings.Contains(c.is, "\r\n") {
				before = strings.ReplaceAll(head, "\n", "\r\n") + c.was
			}
			if strings.Contains(c.name, "for others") {
				before = strings.Replace(before, "bus: {", "gap: {rails: left, kind: insulated}, bus: {", 1)
			}
			if strings.Contains(c.name, "default makes") {
				before = strings.Replace(before, "A: left", "A: left, every: 3 ft 1 1/2 in", 1)
			}
			l, problems := readAny(t, map[string]string{"a.yaml": before}, "a.yaml")
			if len(problems) > 0 {
				t.Fatalf("%v", problems)
			}
			w := New(l, reader.Options{})
			for _, change := range c.changes {
				change(w)
			}
			_, got, _ := strings.Cut(text(t, w), "supply: front}}")
			got = strings.TrimPrefix(strings.TrimPrefix(got, "\r"), "\n")
			if got != c.is {
				t.Errorf("got\n%s\nwant\n%s", got, c.is)
			}
		})
	}
}
