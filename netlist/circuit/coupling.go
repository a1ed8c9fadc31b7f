package circuit

import (
	"slices"

	"gapwise/netlist/layout"
)

// mostTogether bounds how many devices are followed from one that is thrown with others.
const mostTogether = 64

// coupling ties devices that are thrown together, directly or through others.
func (b *builder) coupling() {
	direct := make([][]int32, len(b.c.Devices))
	couple := func(d int32, with layout.PieceID) {
		if d < 0 || with < 0 || b.c.PieceDevice[with] < 0 || b.c.PieceDevice[with] == d {
			return
		}
		e := b.c.PieceDevice[with]
		if len(b.c.Devices[d].Positions) == 0 {
			return // a changeover of which no position is said
		}
		direct[d], direct[e] = append(direct[d], e), append(direct[e], d)
	}
	for i := range b.l.Turnouts {
		couple(b.c.PieceDevice[b.l.Turnouts[i].Piece], b.l.Turnouts[i].ThrowsWith)
	}
	for d := range b.c.Devices {
		if b.c.Devices[d].Kind == ChangeoverDevice {
			couple(int32(d), b.l.Changeovers[b.c.Devices[d].Ref].ThrowsWith)
		}
	}
	for d := range direct {
		b.follow(int32(d), direct)
	}
}

// follow lists every device that is thrown with d: those tied to it first, then what is
// tied to them, each position by position.
func (b *builder) follow(d int32, direct [][]int32) {
	own := &b.c.Devices[d]
	seen := []int32{d}
	to := [][]int16{identity(len(own.Positions))}
	for k := 0; k < len(seen); k++ {
		for _, next := range direct[seen[k]] {
			if slices.Contains(seen, next) {
				continue
			}
			if len(seen) > mostTogether {
				b.leaveOut("all that is thrown together with "+own.Name, "more than 64 devices are", own.Pos)
				return
			}
			step := matched(&b.c.Devices[seen[k]], &b.c.Devices[next])
			positions := make([]int16, len(own.Positions))
			for at, via := range to[k] {
				positions[at] = step[via]
			}
			seen, to = append(seen, next), append(to, positions)
			own.Coupled = append(own.Coupled, Coupling{Device: next, To: positions})
		}
	}
}

func identity(n int) []int16 {
	out := make([]int16, n)
	for i := range out {
		out[i] = int16(i)
	}
	return out
}

// matched pairs the settings of two devices thrown together by name, and by order where no name fits; a moment is paired
// as inMoment says.
func matched(from, to *Device) []int16 {
	out := make([]int16, len(from.Positions))
	for at, name := range from.Positions[:from.Rests()] {
		if k := slices.Index(to.Positions[:to.Rests()], name); k >= 0 {
			out[at] = int16(k)
		} else {
			out[at] = int16(min(at, to.Rests()-1))
		}
	}
	for i := range from.Moments {
		out[from.Rests()+i] = inMoment(from, to, i, out)
	}
	return out
}

// inMoment is the position of a device while another, thrown with it, passes through a moment: the same moment, if
// there is one. If not, it is a setting: a changeover moves with the contacts, a piece with the blades; while both are in the air
// it has gone over. settings pairs their settings.
func inMoment(from, to *Device, i int, settings []int16) int16 {
	m := from.Moments[i]
	if m == inTheAir {
		if k := slices.Index(to.Positions[to.Rests():], from.Positions[from.Rests()+i]); k >= 0 {
			return int16(to.Rests() + k)
		}
		return settings[from.Rests()-1]
	}
	there := Moment{settings[m.Blades], settings[m.Contacts]}
	switch k := slices.Index(to.Moments, there); {
	case k >= 0:
		return int16(to.Rests() + k)
	case to.Kind == ChangeoverDevice:
		return there.Contacts
	default:
		return there.Blades
	}
}
