package conductor

// metal is what rail is rolled from.
type metal struct {
	name        string
	resistivity Range // ohm metre at 20 degrees Celsius
	perK        Range // of its resistance at 20 degrees Celsius
	expansion   Value // per kelvin
}

const perKelvin = "1/K"

// metals in the order of the language. What stands here beside the expansion of nickel
// silver and brass is from memory, but brass begins at the 28 % of copper's conductivity that
// the data sheet of UNS C26000 has. Steel's resistivity is doubled at its upper end: DCC's
// current keeps to the skin of a magnetic metal.
var metals = []metal{
	{"nickel silver", Range{190e-9, 290e-9}, Range{0.0002, 0.0005}, Value{Exact(16.7e-6), perKelvin, "expansion of nickel silver rail", "data sheet of the alloy UNS C77000, 20 to 300 °C"}},
	{"brass", Range{61.6e-9, 80e-9}, Range{0.001, 0.002}, Value{Exact(19.9e-6), perKelvin, "expansion of brass rail", "data sheet of the alloy UNS C26000, 20 to 200 °C"}},
	{"steel", Range{100e-9, 400e-9}, Range{0.003, 0.006}, Value{Range{11e-6, 12e-6}, perKelvin, "expansion of steel rail", Memory}},
	{"stainless steel", Range{600e-9, 800e-9}, Range{0.0005, 0.0015}, Value{Range{10e-6, 17.5e-6}, perKelvin, "expansion of stainless steel rail", Memory}},
	{"aluminium", Range{27e-9, 45e-9}, Range{0.003, 0.0042}, Value{Range{22.5e-6, 24e-6}, perKelvin, "expansion of aluminium rail", Memory}},
	{"copper", Range{17.2e-9, 25e-9}, Range{0.003, 0.0042}, Value{Range{16.5e-6, 17.5e-6}, perKelvin, "expansion of copper rail", Memory}},
}

// findMetal looks a metal up by the language's name for it.
func findMetal(name string) (metal, bool) {
	for _, m := range metals {
		if m.name == name {
			return m, true
		}
	}
	return metal{}, false
}

// RailMetalKnown reports whether the tables have a metal, by the language's name for it.
func RailMetalKnown(name string) bool {
	_, ok := findMetal(name)
	return ok
}

// RailExpansion is how much rail of a metal grows per kelvin, relative to its length.
func RailExpansion(name string) (Value, bool) {
	m, ok := findMetal(name)
	return m.expansion, ok
}
