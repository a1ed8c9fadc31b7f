package dcc

// By says under which pattern each measure is least.
type By struct{ Peak, MeanAbs, RMS Pattern }

// same is how far apart two currents may lie that count as one; the first pattern has it then.
const same = 1e-9

// WorstOfEach is the weakest that a short shows itself over the patterns, each measure by itself.
func WorstOfEach(volts float64, bs []Branch) (Short, By) {
	var by By
	worst := Periodic(volts, Ones.Halves(), bs)
	for _, p := range []Pattern{Zeros, IdlePacket} {
		s := Periodic(volts, p.Halves(), bs)
		lower(&worst.Peak, &by.Peak, s.Peak, p)
		lower(&worst.MeanAbs, &by.MeanAbs, s.MeanAbs, p)
		lower(&worst.RMS, &by.RMS, s.RMS, p)
	}
	return worst, by
}

// Worst is the same with the pattern of the least mean.
func Worst(volts float64, bs []Branch) (Short, Pattern) {
	worst, by := WorstOfEach(volts, bs)
	return worst, by.MeanAbs
}

func lower(least *float64, by *Pattern, amps float64, p Pattern) {
	if amps < *least*(1-same) {
		*least, *by = amps, p
	}
}
