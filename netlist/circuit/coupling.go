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
			step := matched(b.c.Devices[seen[k]].Positions, b.c.Devices[next].Positions)
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

// matched pairs positions by name, and by order where no name fits.
func matched(from, to []string) []int16 {
	out := make([]int16, len(from))
	for i, name := range from {
		if k := slices.Index(to, name); k >= 0 {
			out[i] = int16(k)
		} else {
			out[i] = int16(min(i, len(to)-1))
		}
	}
	return out
}
