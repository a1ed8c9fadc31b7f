package reports

import (
	"bytes"
	"strconv"
	"strings"
)

// tables writes what the wiring makes: districts and blocks.
func (t Text) tables(b *bytes.Buffer, v *View) error {
	if len(v.Districts) > 0 {
		heading(b, "Districts as wired")
		var rows [][][]string
		for i := range v.Districts {
			rows = append(rows, districtRow(&v.Districts[i]))
		}
		if err := writeTable(b, t.Width, []string{"source", "hangs from", "feeders", "track", "blocks as meant"}, rows); err != nil {
			return err
		}
	}
	if len(v.Power) > 0 {
		heading(b, "Volts and amperes, at the worst place behind each")
		var rows [][][]string
		for i := range v.Power {
			p := &v.Power[i]
			drop := []string{p.drop}
			if p.WorstDropAt != "" {
				drop = append(drop, "at "+p.WorstDropAt)
			}
			rows = append(rows, [][]string{{p.Guard}, {p.trips}, {p.short, "at " + p.WeakestAt}, drop})
		}
		if err := writeTable(b, t.Width, []string{"behind", "trips at", "weakest short draws", "wiring loses"}, rows); err != nil {
			return err
		}
	}
	if len(v.Blocks) == 0 {
		return nil
	}
	heading(b, "Blocks as meant, and what is wired for them")
	var rows [][][]string
	for i := range v.Blocks {
		rows = append(rows, blockRow(&v.Blocks[i]))
	}
	return writeTable(b, t.Width, []string{"block", "track joined", "longest way through", "fed by", "detector"}, rows)
}

func districtRow(d *District) [][]string {
	source := []string{d.Source}
	if len(d.Meant) > 0 {
		source = append(source, "district "+strings.Join(d.Meant, ", "))
	}
	track := []string{d.Track}
	if len(d.SharedWith) > 0 {
		track = append(track, "some of it fed by "+strings.Join(d.SharedWith, ", ")+" too")
	}
	return [][]string{source, {orDash(d.HangsFrom)}, {strconv.Itoa(d.Feeders)}, track, {list(d.Blocks)}}
}

func blockRow(k *Block) [][]string {
	name := []string{k.Block}
	if k.Block == "" {
		name = []string{"none meant, near " + k.Near}
	}
	track := []string{orDash(k.Track)}
	if len(k.JoinedTo) > 0 {
		track = append(track, "no gap to "+strings.Join(k.JoinedTo, ", "))
	}
	for _, s := range k.UpToGap {
		track = append(track, "with "+s+", up to its gap")
	}
	switch {
	case k.Parts == 2:
		track = append(track, "the longer of its 2 stretches between gaps")
	case k.Parts > 2:
		track = append(track, "the longest of its "+strconv.Itoa(k.Parts)+" stretches between gaps")
	}
	room := []string{orDash(k.Room)}
	if k.Endless {
		room[0] = "no end"
	}
	if len(k.Trains) > 0 {
		room = append(room, "holds "+strings.Join(k.Trains, ", "))
	}
	return [][]string{name, track, room, {list(k.Sources)}, detectors(k)}
}

// detectors says what sees a block as wired, and what is meant to where that differs.
func detectors(k *Block) []string {
	seen := list(k.Detectors)
	if k.Detector == "" || seen == k.Detector {
		return []string{seen}
	}
	return []string{seen, "meant: " + k.Detector}
}

func list(names []string) string { return orDash(strings.Join(names, ", ")) }

func orDash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}
