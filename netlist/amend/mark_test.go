package amend

import (
	"strings"
	"testing"

	"gapwise/netlist/reader"
	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

// TestMark marks the lines that were changed or added, and no others.
func TestMark(t *testing.T) {
	was := head + `buses:
  ring: {from: booster front, wire: 12 AWG}  # mine
  spur: {from: booster front, label: 'a # b'}
  deep:
    from: booster front
    under:
      - M1
      - M2
    length: 60 ft
  wide: {
    from: booster front,
    length: 9 ft
  }
  gone: {from: booster front}
  last: {from: booster front}

blocks: {B1: {covers: M1}}
feeders: {M1: {2 .. 10 ft: {every: 8 ft, from: ring @ 2 ft}}}
`
	for _, eol := range []string{"\n", "\r\n"} {
		w := New(readText(t, strings.ReplaceAll(was, "\n", eol)), reader.Options{})
		w.Mark = " seen \x1b by\nme "
		for _, change := range []change{
			set("buses", "ring", "wire", "10 AWG"), set("buses", "spur", "wire", "10 AWG"), set("buses", "deep", "under", "M2", "wire", "10 AWG"),
			set("buses", "wide", "wire", "10 AWG"), remove("buses", "gone"), add("buses", "more", "{from: booster front}"), add("cabs", "c1", "{volts: 9 V}"),
			setFeeder(1, "wire", "20 AWG"), addPlaced("gaps", "M1", "1 ft", ""),
		} {
			change(w)
		}
		got := strings.ReplaceAll(text(t, w), eol, "\n")
		_, got, _ = strings.Cut(got, "supply: front}}\n")
		want := strings.ReplaceAll(`
cabs:MARK
  c1: {volts: 9 V}MARK
buses:
  ring: {from: booster front, wire: 10 AWG}  # mine
  spur: {from: booster front, label: 'a # b', wire: 10 AWG}MARK
  deep:
    from: booster front
    under: M2MARK
    length: 60 ft
    wire: 10 AWGMARK
  wide: {
    from: booster front,
    length: 9 ft,MARK
    wire: 10 AWGMARK
  }
  last: {from: booster front}
  more: {from: booster front}MARK

blocks: {B1: {covers: M1}}
feeders: {M1: {2 ft: ring @ 2 ft, 10 ft: {from: ring @ 10 ft, wire: 20 AWG}}}MARK
`, "MARK", `  # seen \x1b by\nme`)
		if got != want[1:] {
			t.Errorf("got\n%s\nwant\n%s", got, want)
		}
		if _, problems := tree.Parse(0, &source.File{Text: []byte(text(t, w))}); len(problems) > 0 {
			t.Error(problems)
		}
	}
}
