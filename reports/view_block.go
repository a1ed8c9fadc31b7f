package reports

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts"
	"gapwise/rules/rule"
)

// maxRoom is how many ends and lengths of track a block as wired may have for its longest
// way through to be worked out; that takes time by the square of it.
const maxRoom = 2000

// Block is one block as meant with the track that is wired for it, or track that no
// block is meant for; then Block is "" and Near says where it is.
type Block struct {
	Layout string `json:"layout"`
	Block  string `json:"block"`
	Spot
	Near     string   `json:"near"`
	Use      string   `json:"use"`
	Track    string   `json:"track"`   // the track joined without an insulated gap, routes included
	TrackM   *float64 `json:"track_m"` // null where no track is wired for it
	Room     string   `json:"room"`    // the longest way through
	RoomM    *float64 `json:"room_m"`  // null where it has no ends, or was not worked out
	Endless  bool     `json:"endless"` // no ends: a ring that no gap parts
	Trains   []string `json:"trains"`  // trains of known length that come there and fit
	Sources  []string `json:"sources"` // what feeds it, as wired
	District string   `json:"district_meant"`
	// Detectors see it as wired; Detector is the one that is meant to.
	Detectors []string `json:"detectors"`
	Detector  string   `json:"detector_meant"`
	Parts     int      `json:"parts"`       // blocks as wired over which it is spread
	JoinedTo  []string `json:"joined_with"` // other blocks as meant with no gap between
	UpToGap   []string `json:"-"`           // little of other blocks: their gaps stand a little off
}

// newBlocks lists the blocks as meant, in the order of the file, then track that none is
// meant for.
func newBlocks(file string, k *rule.Case) []Block {
	out := []Block{}
	parts := make([]int, len(k.L.Blocks))
	for z := range k.T.Zones.List {
		for _, m := range meantHere(&k.T.Zones.List[z]) {
			parts[m]++
		}
	}
	for i := range k.L.Blocks {
		out = append(out, newBlock(file, k, int32(i)))
		out[i].Parts = parts[i]
	}
	for z := range k.T.Zones.List {
		zone := &k.T.Zones.List[z]
		if zone.Length <= districts.Stub || len(meantHere(zone)) > 0 {
			continue
		}
		b := Block{Layout: file, Parts: 1, JoinedTo: []string{}}
		if len(zone.Ways) > 0 {
			way := &k.C.Ways[zone.Ways[0]]
			b.Near, b.Spot = k.SpotPlace(way.A).Text, spotOf(k.L.Files, way.Pos)
		}
		b.wired(k, int32(z), func(int32) bool { return true })
		out = append(out, b)
	}
	return out
}

func newBlock(file string, k *rule.Case, block int32) Block {
	meant := &k.L.Blocks[block]
	b := Block{
		Layout: file, Block: meant.Name, Spot: spotOf(k.L.Files, meant.Pos), Use: meant.Use.String(),
		Trains: []string{}, Sources: []string{}, Detectors: []string{}, JoinedTo: []string{},
	}
	if d := k.T.Meant.DistrictOf[block]; d >= 0 {
		b.District = k.L.Districts[d].Name
	}
	if meant.Detector >= 0 {
		b.Detector = k.L.Detectors[meant.Detector].Name
	}
	zone := k.T.ZoneOf(block)
	if zone < 0 {
		return b
	}
	for _, m := range k.T.Zones.List[zone].Meant {
		name := k.L.Blocks[m.Block].Name
		switch {
		case m.Block == block || m.Length < 1e-6:
		case m.Length > districts.Stub && partMissing(k, block, m.Block):
			b.JoinedTo = append(b.JoinedTo, name)
		default:
			b.UpToGap = append(b.UpToGap, quantity.FormatLength(m.Length)+" of "+name)
		}
	}
	b.wired(k, zone, func(train int32) bool { return comesTo(meant, train) })
	return b
}

// wired fills in what a block as wired is like.
func (b *Block) wired(k *rule.Case, zone int32, comes func(train int32) bool) {
	z := &k.T.Zones.List[zone]
	b.Track, b.TrackM = quantity.FormatLength(z.Length), finite(z.Length)
	b.Trains, b.Sources, b.Detectors = []string{}, []string{}, []string{}
	for _, s := range z.Sources {
		b.Sources = append(b.Sources, k.SourceName(s))
	}
	for _, d := range z.Detectors {
		b.Detectors = append(b.Detectors, k.L.Detectors[d].Name)
	}
	if len(z.Bounds)+len(z.Ways) > maxRoom {
		return
	}
	room, endless := k.T.LongestThrough(zone)
	if b.Endless = endless; !endless {
		b.Room, b.RoomM = quantity.FormatLength(room), finite(room)
	}
	for i := range k.L.Trains {
		t := &k.L.Trains[i]
		if comes(int32(i)) && t.Length.Known() && (endless || t.Length.Hi <= room) {
			b.Trains = append(b.Trains, t.Name)
		}
	}
}

// partMissing reports whether a gap that should part two blocks is missing, and not only a
// little to one side.
func partMissing(k *rule.Case, x, y int32) bool {
	for i := range k.T.Differences {
		if d := &k.T.Differences[i]; d.Missing && (d.Blocks == [2]int32{x, y} || d.Blocks == [2]int32{y, x}) {
			return true
		}
	}
	return false
}

// comesTo reports whether a train comes to a block: every one does unless the block
// names some.
func comesTo(b *layout.Block, train int32) bool {
	for _, t := range b.Trains {
		if t == train {
			return true
		}
	}
	return len(b.Trains) == 0
}

// meantHere lists the blocks as meant of which a block as wired holds more than a stub.
func meantHere(z *districts.Zone) []int32 {
	var out []int32
	for _, m := range z.Meant {
		if m.Length > districts.Stub {
			out = append(out, m.Block)
		}
	}
	return out
}
