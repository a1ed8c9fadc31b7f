package finding

// MendKind is what a mend changes.
type MendKind uint8

const (
	MendBusWire    MendKind = iota // the wire of a bus; Ref: Layout.Buses
	MendFeederWire                 // the wire of a feeder; Ref: Layout.Feeders
	MendBondWire                   // the wire of a bond; Ref: Layout.Bonds
	MendTwist                      // a bus's wires are twisted; Ref: Layout.Buses
	MendFeeder                     // one more feeder, like Ref of Layout.Feeders, at AtM of its track
)

// Mend is a change to a layout that may mend a finding, as data, so that it can be tried on the model in memory. Text
// is the change in words.
type Mend struct {
	Kind     MendKind
	Ref      int32
	SquareM  float64 // of a wire
	Gauge    int
	HasGauge bool
	AtM      float64
	Text     string
}
