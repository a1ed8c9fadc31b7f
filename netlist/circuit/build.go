package circuit

import (
	"context"
	"slices"

	"gapwise/netlist/layout"
	"gapwise/netlist/source"
)

// Options of Build.
type Options struct {
	// JoinersTrusted says that plain joiners conduct when we prove feeding. An owner
	// who lists `joiners-not-trusted` under practice clears it.
	JoinersTrusted bool
	// Marks are places on tracks that get a spot of their own, to be asked about.
	Marks []layout.Place
}

// OptionsFor reads the options out of the layout's practice.
func OptionsFor(l *layout.Layout) Options {
	return Options{JoinersTrusted: !slices.ContainsFunc(l.Practices, func(p layout.Practice) bool {
		return p.Name == "joiners-not-trusted"
	})}
}

// Build expands the layout into its conductors. It needs a layout that was read without
// problems. The error is ctx's only.
func Build(ctx context.Context, l *layout.Layout, o Options) (*Circuit, error) {
	b := &builder{l: l, o: o, c: &Circuit{Layout: l}}
	b.reserve()
	steps := []func(){b.taps, b.sources, b.buses, b.pieceEnds, b.collectEvents, b.tracks, b.joints, b.trackWork, b.feeders, b.bonds, b.coupling, b.bumpers}
	for _, step := range steps {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		step()
	}
	return b.c, nil
}

// builder holds what is needed only while building.
type builder struct {
	l *layout.Layout
	o Options
	c *Circuit

	tapAt                                                             [][]float64 // places on each bus where something hangs
	boosterOut, breakerOut, reverserOut                               [][2]int32
	detectorOut, inLineOut, changeoverOut, plugOut, supplyOut, cabOut [][2]int32

	events   []event // sorted by track, place, order
	eventEnd []int   // events of track t are events[eventEnd[t-1]:eventEnd[t]]
	atJoint  map[layout.EndRef][]jointEvent
	same     map[layout.EndRef]sameJoint
	bondSpot [][2]int32
}

// reserve makes room for about what the layout will need: two rails a length of track, a
// length at each thing that stands on it, two wires a feeder, a dozen parts a turnout.
func (b *builder) reserve() {
	l := b.l
	lengths := len(l.Tracks) + len(l.Gaps) + len(l.Feeders) + len(l.Joints) + 2*len(l.Bonds) + len(l.Turnouts)
	joints := len(l.Joins) + 2*len(l.Turnouts) + len(l.Gaps) + len(l.Joints)
	pieces := len(l.Turnouts) + len(l.ThreeWays) + len(l.Crossings)
	b.c.Conductors = make([]Conductor, 0, 2*(lengths+joints)+4*len(l.Feeders)+16*pieces)
	b.c.Spots = make([]Spot, 0, lengths+joints+4*pieces)
	b.c.Ways = make([]Way, 0, lengths+joints+4*pieces)
}

func (b *builder) node() int32 {
	b.c.Nodes++
	return int32(b.c.Nodes - 1)
}

func (b *builder) nodes() [2]int32 { return [2]int32{b.node(), b.node()} }

// join adds a conductor that holds in every setting.
func (b *builder) join(c Conductor) {
	c.Device, c.Position = -1, -1
	b.c.Conductors = append(b.c.Conductors, c)
}

// joinWhen adds a conductor that holds in one position of a device.
func (b *builder) joinWhen(c Conductor, device int32, position int) {
	c.Device, c.Position = device, int16(position)
	b.c.Conductors = append(b.c.Conductors, c)
}

func (b *builder) spot(s Spot) int32 {
	b.c.Spots = append(b.c.Spots, s)
	return int32(len(b.c.Spots) - 1)
}

func (b *builder) way(w Way) { b.c.Ways = append(b.c.Ways, w) }

func (b *builder) device(d Device) int32 {
	b.c.Devices = append(b.c.Devices, d)
	return int32(len(b.c.Devices) - 1)
}

func (b *builder) leaveOut(what, why string, pos source.Pos) {
	b.c.NotModelled = append(b.c.NotModelled, NotModelled{What: what, Why: why, Pos: pos})
}

// unknownFrog leaves out what a frog gets in one position.
func (b *builder) unknownFrog(frog, device int32, position int, what, why string, pos source.Pos) {
	b.leaveOut(what, why, pos)
	b.c.UnknownFrogs = append(b.c.UnknownFrogs, UnknownFrog{Frog: frog, Device: device, Position: int16(position)})
}

// pieceEnds gives every end of every piece its spot and two nodes; tracks get theirs
// when they are walked.
func (b *builder) pieceEnds() {
	l := b.l
	b.c.EndSpot = make([][]int32, len(l.Pieces))
	b.c.PieceDevice = make([]int32, len(l.Pieces))
	for id := range l.Pieces {
		p := &l.Pieces[id]
		ends := make([]int32, len(p.Ends))
		for e := range ends {
			ends[e] = -1
			if p.Kind != layout.TrackPiece {
				ends[e] = b.spot(Spot{Piece: layout.PieceID(id), End: int32(e), Node: b.nodes()})
			}
		}
		b.c.EndSpot[id] = ends
		b.c.PieceDevice[id] = -1
	}
}
