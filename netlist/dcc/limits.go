package dcc

// Limits of NMRA S-9.1, Electrical Standards for Digital Command Control, 3/07/2020, Tables 1 to
// 3; NEM 670:2013, 2.2 and 3.1, has the same zeros. Times are seconds of half a bit.
const (
	OneHalf     = 58e-6 // nominal
	OneHalfMin  = 55e-6 // as sent
	OneHalfMax  = 61e-6
	ZeroHalf    = 100e-6 // nominal
	ZeroHalfMin = 95e-6  // as sent
	ZeroHalfMax = 9900e-6

	OneHalfReceivedMin  = 52e-6
	OneHalfReceivedMax  = 64e-6
	ZeroHalfReceivedMin = 90e-6
	ZeroHalfReceivedMax = 10000e-6

	ZeroBitMax          = 12000e-6 // a whole stretched zero
	OneMismatchSent     = 3e-6     // most between the halves of a one
	OneMismatchReceived = 6e-6
)

// The least steepness of an edge between -4 V and +4 V, volts a second: S-9.1. NEM 670 has 2.5e6
// as sent.
const (
	Slew         = 2.4e6 // as sent
	SlewReceived = 2e6
)

// Volts are limits of a peak voltage.
type Volts struct{ Min, Nominal, Max float64 }

// Peak volts at the track of a power station and at a decoder, by kind of scale: S-9.1. Its list
// of revisions has 24 V as the most of a power station for large scales, its table 22.
var (
	VoltsN     = Volts{8.5, 12, 22} // N and smaller
	VoltsHO    = Volts{8.5, 15, 22} // HO, S and O
	VoltsLarge = Volts{8.5, 18, 22}

	DecoderVoltsN     = Volts{7, 12, 24}
	DecoderVoltsHO    = Volts{7, 15, 27}
	DecoderVoltsLarge = Volts{7, 18, 27}
)
