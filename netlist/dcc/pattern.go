package dcc

// Pattern is a signal that is sent over and over.
type Pattern uint8

// The patterns under which a short is looked at.
const (
	Ones Pattern = iota
	Zeros
	IdlePacket
)

func (p Pattern) String() string {
	switch p {
	case Ones:
		return "one bits"
	case Zeros:
		return "zero bits"
	default:
		return "idle packets"
	}
}

// idleBits are an idle packet: a preamble of 14 ones, then address 11111111, data 00000000 and
// check 11111111, each after a zero, and a one that ends it. From memory of NMRA S-9.2.
const idleBits = "11111111111111" + "0" + "11111111" + "0" + "00000000" + "0" + "11111111" + "1"

// Halves are the half-bits of one period of a pattern, in seconds.
func (p Pattern) Halves() []float64 {
	switch p {
	case Ones:
		return []float64{OneHalf, OneHalf}
	case Zeros:
		return []float64{ZeroHalf, ZeroHalf}
	}
	var halves []float64
	for _, bit := range idleBits {
		h := ZeroHalf
		if bit == '1' {
			h = OneHalf
		}
		halves = append(halves, h, h)
	}
	return halves
}
