package generate

import (
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/source"
)

// turnoutNumber is the frog number of every turnout.
const turnoutNumber = 6

// values are the ratings and sizes that everything of a kind shares.
type values struct {
	mainRail, yardRail       layout.RailStock
	frogLength, gapWidth     quantity.Length
	feederWire, commonWire   quantity.Wire
	feederLength             quantity.Length
	beside                   quantity.Length
	supplyVolts, boostVolts  quantity.Voltage
	supplyRating             quantity.Current
	tolerance                quantity.Percent
	inside, deviceResistance quantity.Resistance
	boosterTrip              quantity.Current
	boosterTime, retry       quantity.Time
	breakerTrip              quantity.Current
	breakerTime              quantity.Time
	reverserTrip             quantity.Current
	reverserTime             quantity.Time
	drop                     quantity.Voltage
	sees                     quantity.Resistance
	oreLength, localLength   quantity.Length
	oreCurrent, localCurrent quantity.Current
	pickup                   quantity.Length
}

// newValues reads the values. A breaker trips before its booster, and a reverser before
// its breaker.
func newValues() values {
	return values{
		mainRail: layout.RailStock{Code: 83, Metal: "nickel silver", Said: true}, yardRail: layout.RailStock{Code: 70, Metal: "nickel silver", Said: true},
		frogLength: length("1.1 in"), gapWidth: length("0.8 mm"),
		feederWire: wire("20 AWG"), commonWire: wire("14 AWG"), feederLength: length("10 in"), beside: length("0 in"),
		supplyVolts: volts("18 V"), boostVolts: volts("15 V"), supplyRating: current("6 A"), tolerance: percent("5 %"),
		inside: ohms("0.1 Ω"), deviceResistance: ohms("60 mΩ"),
		boosterTrip: current("5 A"), boosterTime: seconds("40 ms"), retry: seconds("2 s"),
		breakerTrip: current("4 A"), breakerTime: seconds("10 ms"),
		reverserTrip: current("3 A"), reverserTime: seconds("2 ms"),
		drop: volts("0.7 V"), sees: ohms("12 kΩ"),
		oreLength: length("10 ft"), localLength: length("5 ft"), oreCurrent: current("1.2 A"), localCurrent: current("0.5 A"),
		pickup: length("2 in"),
	}
}

func wire(text string) quantity.Wire {
	v, _ := quantity.ParseWire(text, source.Pos{})
	return v
}

func volts(text string) quantity.Voltage {
	v, _ := quantity.ParseVoltage(text, source.Pos{})
	return v
}

func current(text string) quantity.Current {
	v, _ := quantity.ParseCurrent(text, source.Pos{})
	return v
}

func ohms(text string) quantity.Resistance {
	v, _ := quantity.ParseResistance(text, source.Pos{})
	return v
}

func seconds(text string) quantity.Time {
	v, _ := quantity.ParseTime(text, source.Pos{})
	return v
}

func percent(text string) quantity.Percent {
	v, _ := quantity.ParsePercent(text, source.Pos{})
	return v
}
