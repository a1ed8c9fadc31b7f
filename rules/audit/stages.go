package audit

// Stage is when a finding is to be mended: what shorts first, then what keeps a short from being cleared, then
// wire, then what only makes trains misbehave.
type Stage uint8

// The stages of what is to be done, in order.
const (
	Polarity Stage = iota
	Protection
	Wire
	Running
	Measuring
	TakingDown
	MeterOff
	PowerUp
)

// StageWords head the stages, by value.
var StageWords = []string{
	"shorts and polarity", "what clears a short", "wire and volts", "running and detection", "measure what is unknown",
	"take down what is gone, everything off", "test with a meter, everything off", "power up, one part at a time",
}

func (s Stage) String() string { return StageWords[s] }

// stages are the rules whose findings come before Running.
var stages = map[string]Stage{
	"leg-to-leg-short": Polarity, "feeder-crossed": Polarity, "plug-fits-both-ways": Polarity, "gap-polarity-mismatch": Polarity,
	"frog-shorts-when-set": Polarity, "leg-back-fed": Polarity, "crossing-frogs-conflict": Polarity, "turntable-crosses-polarity": Polarity,
	"loop-ungapped": Polarity, "loop-gap-one-rail": Polarity, "loop-gap-missing-end": Polarity, "reverser-missing": Polarity,
	"reversing-section-short": Polarity, "reversing-sections-touch": Polarity, "gaps-bridged-together": Polarity, "gap-missing-between-districts": Polarity,
	"gap-one-rail": Polarity, "gap-staggered": Polarity, "boosters-in-parallel": Polarity, "boosters-out-of-phase": Polarity,
	"changeover-ties-sources": Polarity, "changeover-leg-stays": Polarity, "cab-meets-dcc": Polarity, "programming-track-joined": Polarity,
	"command-stations-meet": Polarity, "gap-beyond-fouling-point": Polarity, "household-mains": Polarity, "gap-may-close": Polarity, "track-end-conducts": Polarity,
	"boosters-differ-in-volts": Protection, "boosters-without-common-reference": Protection, "breakers-open-different-legs": Protection,
	"reversing-gap-weakly-fed": Protection, "reverser-trips-late": Protection, "short-too-weak-to-trip": Protection,
	"short-too-weak-under-dcc": Protection, "breaker-not-before-booster": Protection, "breaker-trips-at-inrush": Protection,
	"source-exceeds-limited-power": Protection, "district-overloaded": Protection, "supply-undersized": Protection,
	"booster-volts-out-of-range": Protection, "wire-hot-before-trip": Wire, "wire-energy-let-through": Wire, "bus-drop": Wire,
	"feeder-drop": Wire, "rail-drop": Wire, "bus-ringing": Wire, "bus-closed-ring": Wire, "feeder-too-long": Wire, "feeder-too-thin": Wire,
}

// stageOf is when findings of a rule are to be mended.
func stageOf(rule string) Stage {
	if s, early := stages[rule]; early {
		return s
	}
	return Running
}
