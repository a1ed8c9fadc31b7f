package dcc

// Pattern is a signal of which the short current is looked at.
type Pattern uint8

const (
	Ones Pattern = iota
	Zeros
	IdlePacket
)

func (p Pattern) String() string { return [...]string{"one bits", "zero bits", "idle packets"}[p] }

// idleBits are an idle packet: a preamble of 14 ones, then address 11111111, data 00000000 and check 11111111, each after a zero,
// and a one to end it. NMRA S-9.2, from memory.
const idleBits = "11111111111111" + "0" + "11111111" + "0" + "00000000" + "0" + "11111111" + "1"

// Halves are the half-bits of one period of a pattern, in seconds.
func (p Pattern) Halves() []float64 {
	switch p {
	case Ones:
		return []float64{OneHalf, OneHalf}
	case Zeros:
		return []float64{ZeroHalf, ZeroHalf}
	default:
		var out []float64
		for _, bit := range idleBits {
			h := OneHalf
			if bit == '0' {
				h = ZeroHalf
			}
			out = append(out, h, h)
		}
		return out
	}
}

// Worst is the least that a sensor of each kind sees over one bits, zero bits and idle packets, and the pattern
// that gives the least mean: a booster that trips on it trips on all.
func Worst(volts float64, bs []Branch) (Short, Pattern) {
	worst, by := Periodic(volts, Ones.Halves(), bs), Ones
	for _, p := range []Pattern{Zeros, IdlePacket} {
		s := Periodic(volts, p.Halves(), bs)
		if s.MeanAbs < worst.MeanAbs {
			by = p
		}
		worst = Short{min(worst.Peak, s.Peak), min(worst.MeanAbs, s.MeanAbs), min(worst.RMS, s.RMS)}
	}
	return worst, by
}
