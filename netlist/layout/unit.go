package layout

// Unit is the unit of a Limit's value.
type Unit uint8

const (
	UnitNone Unit = iota // of an unknown value
	UnitPercent
	UnitOhm
	UnitVolt
	UnitAmpere
	UnitMetre
	UnitSecond
	UnitCelsius
	UnitDegree
	UnitFarad
	UnitSquareMetre
)

// UnitWords are how units are written, by value.
var UnitWords = []string{"", "%", "Ω", "V", "A", "m", "s", "°C", "deg", "F", "m²"}

func (u Unit) String() string { return UnitWords[u] }
