package catalogue

import (
	"gapwise/netlist/layout"

	"gapwise/rules/rule"
)

// What an owner can test with a meter without opening anything. Nothing is switched on
// across a short that is not mended yet. Common practice, no source.
const (
	// shortTest is for rails that metal joins, before and after the repair.
	shortTest = ". Test with everything off: a meter on ohms from rail to rail must not read near 0"
	// liveOnly begins a test that needs the booster on.
	liveOnly = ". Test once no fault is left: "
	// liveTest is for rail that was dead.
	liveTest = liveOnly + "a meter on AC volts from rail to rail there should read as elsewhere"
	// passTest is for rails that should go through a turnout.
	passTest = ". Test with everything off: a meter on ohms reads near 0 from each rail there to the same rail across the turnout, set either way"
)

// acrossTest is for a gap whose two sides should be alike, after the repair.
func acrossTest(c *rule.Case, way int32) string {
	near, far := layout.Left, layout.Left
	if c.C.Ways[way].Turned {
		far = layout.Right
	}
	return liveOnly + "a meter on AC volts from " + c.RailWord(near) + " rail to " + c.RailWord(far) + " rail over the gap should read near 0"
}

// apartTest is for two sources that should not meet, after the repair.
func apartTest(c *rule.Case, sources [2]int32) string {
	off := sources[0]
	if behind(c, sources[1], off) {
		off = sources[1]
	}
	return liveOnly + "with " + c.SourceName(off) + " unplugged, a meter on AC volts from rail to rail of its track should read near 0"
}
