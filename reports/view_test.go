package reports

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"gapwise/rules"
	"gapwise/rules/finding"
)

// twoBlocks has two blocks of 6 and 4 ft on one track, parted by a gap; the right one hangs
// from a breaker. The short train fits into both, the long one into B1 only.
const twoBlocks = `
gapwise: 1
layout: two blocks
tracks:
  M1: {from: end, to: end, length: 10 ft, use: main}
gaps:
  M1: [{at: 6 ft, rails: both, kind: insulated, fill: styrene}]
supplies:
  front: {volts: 18 V, rating: 6 A, listed: yes}
boosters:
  front: {supply: front, volts: 15 V, trips-at: 5 A}
breakers:
  east: {from: booster front, trips-at: 3 A}
detectors:
  D1: {from: main @ 1 ft, leg: A, senses: current}
buses:
  main: {from: booster front, wire: 14 AWG, length: 20 ft}
  seen: {from: detector D1, wire: 14 AWG, length: 20 ft}
  east: {from: breaker east, wire: 14 AWG, length: 20 ft}
feeders:
  M1: {2 ft: {from: seen @ 2 ft, A: left}, 8 ft: {from: east @ 8 ft, A: left}}
blocks:
  B1: {covers: M1 @ 0 .. 6 ft, use: main, detector: D1}
  B2: {covers: M1 @ 6 .. 10 ft, use: siding}
districts:
  west: {from: booster front, blocks: B1}
  east: {from: breaker east, blocks: B2}
trains:
  short: {length: 3 ft}
  long: {length: 5 ft}
  unmeasured: {length: unknown}
`

func TestBlocksAndDistricts(t *testing.T) {
	v := checkedView(t, twoBlocks)
	wantBlocks := []Block{
		{
			Layout: "yard.yaml", Block: "B1", Spot: Spot{"yard.yaml", 23, 3}, Use: "main",
			Track: "6 ft (1.83 m)", TrackM: metres(1.8288), Room: "6 ft (1.83 m)", RoomM: metres(1.8288),
			Trains: []string{"short", "long"}, Sources: []string{"booster front"}, District: "west",
			Detectors: []string{"D1"}, Detector: "D1", Parts: 1, JoinedTo: []string{},
		},
		{
			Layout: "yard.yaml", Block: "B2", Spot: Spot{"yard.yaml", 24, 3}, Use: "siding",
			Track: "4 ft (1.22 m)", TrackM: metres(1.2192), Room: "4 ft (1.22 m)", RoomM: metres(1.2192),
			Trains: []string{"short"}, Sources: []string{"breaker east"}, District: "east",
			Detectors: []string{}, Parts: 1, JoinedTo: []string{},
		},
	}
	if got := rounded(v.Blocks); !reflect.DeepEqual(got, wantBlocks) {
		t.Errorf("blocks are\n%+v\nwant\n%+v", got, wantBlocks)
	}
	wantDistricts := []District{
		{
			Layout: "yard.yaml", Source: "booster front", Spot: Spot{"yard.yaml", 11, 3}, Meant: []string{"west"}, Feeders: 1,
			Track: "6 ft (1.83 m)", TrackM: v.Districts[0].TrackM, Parts: 1, Blocks: []string{"B1"}, SharedWith: []string{},
		},
		{
			Layout: "yard.yaml", Source: "breaker east", Spot: Spot{"yard.yaml", 13, 3}, HangsFrom: "booster front", Meant: []string{"east"}, Feeders: 1,
			Track: "4 ft (1.22 m)", TrackM: v.Districts[1].TrackM, Parts: 1, Blocks: []string{"B2"}, SharedWith: []string{},
		},
	}
	if !reflect.DeepEqual(v.Districts, wantDistricts) {
		t.Errorf("districts are\n%+v\nwant\n%+v", v.Districts, wantDistricts)
	}
}

// checkedView is the view of a layout without mistakes.
func checkedView(t *testing.T, text string) *View {
	t.Helper()
	v := viewOfText(t, text, rules.Options{})
	if v.Verdict == CannotRead {
		t.Fatalf("%+v", v.Problems)
	}
	return v
}

func metres(x float64) *float64 { return &x }

// rounded rounds the lengths of blocks to 0.1 mm.
func rounded(blocks []Block) []Block {
	for i := range blocks {
		for _, x := range []*float64{blocks[i].TrackM, blocks[i].RoomM} {
			if x != nil {
				*x = math.Round(*x*1e4) / 1e4
			}
		}
	}
	return blocks
}

// TestBlocksAsWired: a gap left out joins the blocks, track nobody claimed is listed, a ring
// without a gap has no end.
func TestBlocksAsWired(t *testing.T) {
	joined := checkedView(t, strings.Replace(twoBlocks, "at: 6 ft,", "at: 9 ft 11 in,", 1))
	if b := joined.Blocks[0]; len(b.JoinedTo) != 1 || b.JoinedTo[0] != "B2" || len(b.Sources) != 2 {
		t.Errorf("joined block is %+v", b)
	}
	if d := joined.Districts[0]; len(d.SharedWith) != 1 || d.SharedWith[0] != "breaker east" {
		t.Errorf("shared district is %+v", d)
	}
	withoutB2 := strings.NewReplacer("  B2: {covers: M1 @ 6 .. 10 ft, use: siding}\n", "", "  east: {from: breaker east, blocks: B2}\n", "")
	unclaimed := checkedView(t, withoutB2.Replace(twoBlocks))
	if b := unclaimed.Blocks[len(unclaimed.Blocks)-1]; b.Block != "" || b.Near != "M1 @ 6 ft (1.83 m)" || b.Track != "4 ft (1.22 m)" {
		t.Errorf("unclaimed track is %+v", b)
	}
	ring := checkedView(t, "gapwise: 1\nlayout: ring\ntracks:\n  R: {closed: yes, length: 10 ft}\nblocks:\n  R1: {covers: R}\ntrains:\n  long: {length: 90 ft}\n")
	if b := ring.Blocks[0]; !b.Endless || b.RoomM != nil || len(b.Trains) != 1 {
		t.Errorf("ring is %+v", b)
	}
}

// TestTrainsThatCome: a block that names its trains holds none but those.
func TestTrainsThatCome(t *testing.T) {
	v := checkedView(t, strings.Replace(twoBlocks, "use: main, detector", "use: main, trains: [long], detector", 1))
	if got := v.Blocks[0].Trains; !reflect.DeepEqual(got, []string{"long"}) {
		t.Errorf("B1 holds %q", got)
	}
}

// TestRoomIsBounded: in track with very many lengths the longest way through is not looked
// for, and the block says nothing about it.
func TestRoomIsBounded(t *testing.T) {
	var feeders strings.Builder
	for i := range maxRoom + 1 {
		fmt.Fprintf(&feeders, ", %d in: main @ 2 ft", i+1)
	}
	v := checkedView(t, strings.NewReplacer("length: 10 ft, use", "length: 1000 ft, use", "6 .. 10 ft", "6 .. 1000 ft", "at: 6 ft,", "at: 900 ft,",
		"M1: {2 ft: {from: seen @ 2 ft, A: left}, 8 ft: {from: east @ 8 ft, A: left}}", "M1: {A: left"+feeders.String()+"}").Replace(twoBlocks))
	if b := v.Blocks[1]; b.Track == "" || b.Room != "" || b.RoomM != nil || len(b.Trains) != 0 {
		t.Errorf("block is %+v", b)
	}
}

// TestSeverityHides: what is below the least severity is not shown and still counted.
func TestSeverityHides(t *testing.T) {
	all := viewOf(t, tinHarbour[0], finding.Note)
	few := viewOf(t, tinHarbour[0], finding.Fault)
	if few.Counts != all.Counts || few.Verdict != all.Verdict {
		t.Errorf("counts are %+v, want %+v", few.Counts, all.Counts)
	}
	if few.Hidden == 0 || len(few.Findings)+few.Hidden != len(all.Findings) {
		t.Errorf("%d shown and %d hidden of %d", len(few.Findings), few.Hidden, len(all.Findings))
	}
	for _, f := range few.Findings {
		if f.Severity != "fault" {
			t.Errorf("a %s is shown", f.Severity)
		}
	}
}
