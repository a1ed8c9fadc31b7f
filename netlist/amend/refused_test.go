package amend

import (
	"errors"
	"testing"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"
	"gapwise/netlist/source"
)

// TestRefused has changes that cannot be made. All of them are told, and there are no texts.
func TestRefused(t *testing.T) {
	base := head + buses + "terminators: {at: M1 @ 1 ft, name: far}\nbonds: {from: M1 start, to: M2 start, rails: both}\n" +
		"feeders: {M1: {1 ft: ring @ 2 ft, 2 ft: ring @ 2 ft}, M2: {wire: 18 AWG, 1 ft: ring @ 2 ft}}\n" +
		"gaps: {M1: [{at: 3 ft, rails: both, kind: insulated}, {at: 4 ft, rails: left, kind: insulated}]}\n"
	for _, c := range []struct {
		name    string
		changes []change
		want    []Refusal
	}{
		{"no such entry", []change{set("buses", "rign", "wire", "12 AWG"), set("wheels", "ring", "wire", "12 AWG")}, []Refusal{
			{"buses rign", "no such entry in the layout's files"}, {"wheels ring", "no such entry in the layout's files"},
		}},
		{"values that are none", []change{set("buses", "ring", "wire", "12 AWG, length: 3 ft", "label", "a # b"), set("buses", "ring", "label", "x}"), set("buses", "ring", "a\nb", "c", "wire", "")}, []Refusal{
			{"buses ring", "`wire: 12 AWG, length: 3 ft` is no key with one value"},
			{"buses ring", "`label: a # b` is no key with one value"},
			{"buses ring", "`label: x}` is no key with one value"},
			{"buses ring", "`a\\nb: c` is no key with one value"},
			{"buses ring", "`wire: ` is no key with one value"},
		}},
		{"feeders", []change{setFeeder(3, "wire", "12 AWG"), setRow(-1, "wire", "12 AWG"), setFeeder(0, "wire", "*x")}, []Refusal{
			{"feeder 3", "the layout has no such feeder"}, {"feeder -1", "the layout has no such feeder"}, {"feeder M1 @ 1 ft", "`wire: *x` is no key with one value"},
		}},
		{"additions", []change{add("buses", "ring", "{from: booster front}"), add("bonds", "x", "{}"), addList("buses", "{from: x}"), add("buses", "new", "{from"), add("a b", "new", "{}"), add("loads", "", "x"), addList("loads", "")}, []Refusal{
			{"buses ring", "there is one already, and it differs"},
			{"bonds x", "there is no such section, or it is laid out in another way"},
			{"buses", "there is no such section, or it is laid out in another way"},
			{"buses new", "`{from` is not one value"},
			{"a b new", "there is no such section, or it is laid out in another way"},
			{"loads", "there is no such section, or it is laid out in another way"},
			{"loads", "`` is not one value"},
		}},
		{"two additions of one name", []change{add("cabs", "one", "{volts: 12 V}"), add("cabs", "one", "{volts: 13 V}")}, []Refusal{
			{"cabs one", "there is one already, and it differs"},
		}},
		{"places", []change{
			addPlaced("blocks", "M1", "1 ft", "{}"), addPlaced("gaps", "M3", "1 ft", ""), addPlaced("gaps", "M1", "1 ft, 2 ft", ""),
			addPlaced("feeders", "M1", "1 ft", ""), addPlaced("feeders", "M1", "1 ft", "[ring @ 1 ft, ring @ 2 ft]"), addPlaced("joints", "M1", "1 ft", ""),
			addPlaced("joints", "M1", "1 ft", "{at: 2 ft, kind: plain}"),
		}, []Refusal{
			{"blocks M1 @ 1 ft", "only gaps, joints and feeders have places"},
			{"gaps M3 @ 1 ft", "no track or piece is named M3"},
			{"gaps M1 @ 1 ft, 2 ft", "the place cannot be written there"},
			{"feeders M1 @ 1 ft", "`` is no feeder"},
			{"feeders M1 @ 1 ft", "`[ring @ 1 ft, ring @ 2 ft]` is no feeder"},
			{"joints M1 @ 1 ft", "`` is no map of keys"},
			{"joints M1 @ 1 ft", "the place is said twice"},
		}},
		{"gaps and joints", []change{
			setGap(9, "rails", "both"), closeGap(-1), setJoint(0, "kind", "plain"), moveGap(0, "2 ft, 3 ft"), moveGap(1, "[2 ft, 3 ft]"), setGap(1, "rails", "{"),
		}, []Refusal{
			{"gap 9", "the layout has no such gap"},
			{"gap -1", "the layout has no such gap"},
			{"gap M1 @ 3 ft", "`at: 2 ft, 3 ft` is no key with one value"},
			{"gap M1 @ 4 ft", "the place cannot be written there"},
			{"gap M1 @ 4 ft", "`rails: {` is no key with one value"},
			{"joint 0", "the layout has no such joint"},
		}},
		{"a gap goes and changes", []change{setGap(0, "rails", "both"), closeGap(0), closeGap(1), moveGap(1, "5 ft")}, []Refusal{
			{"gap M1 @ 3 ft", "it is to go, and to change as well"}, {"gap M1 @ 4 ft", "it is to go, and to change as well"},
		}},
		{"feeders that cannot move", []change{moveFeeder(9, "1 ft"), moveFeeder(0, "1 ft, 2 ft"), moveFeeder(0, "")}, []Refusal{
			{"feeder 9", "the layout has no such feeder"}, {"feeder M1 @ 1 ft", "the place cannot be written there"}, {"feeder M1 @ 1 ft", "the place cannot be written there"},
		}},
		{"a feeder to where another changes", []change{moveFeeder(0, "2 ft"), setFeeder(1, "wire", "20 AWG")}, []Refusal{
			{"feeder M1 @ 2 ft", "what stands there is to change too; make one change after the other"},
		}},
		{"a feeder to a word", []change{moveFeeder(2, "wire")}, []Refusal{
			{"feeder M2 @ wire", "what stands there is to change too; make one change after the other"},
		}},
		{"feeders to one place", []change{moveFeeder(0, "5 ft"), moveFeeder(1, "5 ft")}, []Refusal{
			{"feeder M1 @ 5 ft", "two of the changes put feeders there; make one after the other"},
		}},
		{"entries of lists", []change{setItem("buses", 0, "wire", "20 AWG"), setItem("loads", 0, "draws", "1 A"), setItem("bonds", 1, "wire", "20 AWG"), setItem("bonds", 0, "wire", "")}, []Refusal{
			{"buses 0", "there is no such section, or it is laid out in another way"},
			{"loads 0", "the layout has no such entry"},
			{"bonds 1", "the layout has no such entry"},
			{"bonds 0", "`wire: ` is no key with one value"},
		}},
		{"what is not there cannot go", []change{remove("buses", "spur"), remove("terminators", "far")}, []Refusal{
			{"buses spur", "no such entry in the layout's files"}, {"terminators far", "only an entry with its name before it can go"},
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := New(readText(t, base), reader.Options{})
			for _, change := range c.changes {
				change(w)
			}
			texts, err := w.Texts()
			var refused *RefusedError
			if !errors.As(err, &refused) || texts != nil {
				t.Fatalf("not refused: %v, %s", err, texts)
			}
			for i := range max(len(c.want), len(refused.Refusals)) {
				if i >= len(c.want) || i >= len(refused.Refusals) || c.want[i] != refused.Refusals[i] {
					t.Fatalf("want\n%v\ngot\n%v", &RefusedError{c.want}, err)
				}
			}
		})
	}
}

// TestNothingThere changes layouts that came of no files, or of files with mistakes in them.
func TestNothingThere(t *testing.T) {
	broken := &layout.Layout{Files: source.Files{{Name: "a.yaml", Text: []byte("a: {b: [c\n")}}, Feeders: make([]layout.Feeder, 1), Gaps: make([]layout.Gap, 1), Joints: make([]layout.RailJoint, 1), Bonds: make([]layout.Bond, 1)}
	for _, l := range []*layout.Layout{{}, {Feeders: make([]layout.Feeder, 2)}, broken} {
		for _, change := range []change{
			set("buses", "ring", "wire", "12 AWG"), setFeeder(0, "wire", "12 AWG"), setRow(0, "wire", "12 AWG"), add("buses", "x", "{}"),
			addList("loads", "{}"), addPlaced("gaps", "M1", "1 ft", ""), remove("buses", "ring"), moveFeeder(0, "2 ft"),
			setGap(0, "rails", "both"), closeGap(0), setJoint(0, "kind", "plain"), setItem("bonds", 0, "wire", "20 AWG"),
		} {
			w := New(l, reader.Options{})
			change(w)
			if texts, err := w.Texts(); err == nil {
				t.Errorf("%s", texts)
			}
		}
		if _, err := New(l, reader.Options{}).Texts(); err != nil {
			t.Error(err)
		}
	}
	if _, _, err := New(&layout.Layout{}, reader.Options{}).Reread(t.Context()); err == nil {
		t.Error("nothing was read")
	}
}

// TestAlreadySo asks for what is there: no byte changes.
func TestAlreadySo(t *testing.T) {
	was := head + "buses:\n  ring: {\"from\": 'booster front', length: 60 ft, under: [ M1, M2 ]}\n  spur:\n    from: booster front\n    under:\n      - M1\n" +
		"feeders: {M1: {1 ft: {from: ring @ 2 ft}, 2 ft: ring @ 3 ft}}\ngaps: {M1: {at: 3 ft, rails: both, kind: insulated}}\nloads: {at: M1 @ 1 ft, draws: 1 A}\n"
	w := New(readText(t, was), reader.Options{})
	w.Mark = "changed"
	for _, change := range []change{
		set("buses", "ring", "from", "\"booster front\"", "length", "60 ft", "under", "[M1, M2]"), set("buses", "ring"), set("buses", "spur", "under", "[M1]"),
		setFeeder(0, "from", "ring @ 2 ft"), setFeeder(1, "from", "'ring @ 3 ft'"), add("supplies", "front", "{volts: '18 V'}"),
		addList("loads", "{at: M1 @ 1 ft, draws: 1 A}"), addPlaced("gaps", "M1", "3 ft", ""), addPlaced("feeders", "M1", "2 ft", "ring @ 3 ft"),
		setGap(0, "rails", "both", "at", "'3 ft'"), moveGap(0, "3 ft"), moveFeeder(0, "1 ft"), setItem("loads", 0, "draws", "1 A"), setGap(0),
	} {
		change(w)
	}
	if got := text(t, w); got != was {
		t.Errorf("changed to\n%s", got)
	}
}
