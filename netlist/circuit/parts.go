package circuit

// Part names a rail or contact inside track work.
type Part uint8

const (
	NoPart Part = iota
	StockLeft
	StockRight
	BladeLeft
	BladeRight
	BladeBondLeft
	BladeBondRight
	BladesTied
	BladeTouchLeft
	BladeTouchRight
	ClosureLeft
	ClosureRight
	ClosureFrogLeft
	ClosureFrogRight
	FrogBlades
	FrogLegLeft
	FrogLegRight
	FrogContact
	FrogDevicePart
	JumperLeft
	JumperRight
	JumperRail
	OuterLeft
	OuterRight
	RouteLeft
	RouteRight
	SlipTie
	FrogNorth
	FrogSouth
	FrogWest
	FrogEast
	BridgeRail
	RingFeed
	ThroughRail
	parts
)

// partText is how a witness names a part; NoPart has none.
var partText = [parts]string{
	StockLeft:        "left stock rail",
	StockRight:       "right stock rail",
	BladeLeft:        "left blade",
	BladeRight:       "right blade",
	BladeBondLeft:    "bond from the left stock rail to its blade",
	BladeBondRight:   "bond from the right stock rail to its blade",
	BladesTied:       "tie between the two blades",
	BladeTouchLeft:   "left blade touching its stock rail",
	BladeTouchRight:  "right blade touching its stock rail",
	ClosureLeft:      "left closure rail",
	ClosureRight:     "right closure rail",
	ClosureFrogLeft:  "left closure rail into the frog",
	ClosureFrogRight: "right closure rail into the frog",
	FrogBlades:       "wire from the blades to the frog",
	FrogLegLeft:      "frog into the inner rail of the left leg",
	FrogLegRight:     "frog into the inner rail of the right leg",
	FrogContact:      "frog contact",
	FrogDevicePart:   "device that feeds the frog",
	JumperLeft:       "jumper from the left closure rail to the rail beyond the frog",
	JumperRight:      "jumper from the right closure rail to the rail beyond the frog",
	JumperRail:       "jumper across the frogs",
	OuterLeft:        "left outer rail",
	OuterRight:       "right outer rail",
	RouteLeft:        "left rail of the route, wired through",
	RouteRight:       "right rail of the route, wired through",
	SlipTie:          "tie between the routes",
	FrogNorth:        "north frog",
	FrogSouth:        "south frog",
	FrogWest:         "west frog",
	FrogEast:         "east frog",
	BridgeRail:       "bridge rail",
	RingFeed:         "ring contact",
	ThroughRail:      "rail",
}

func (p Part) String() string { return partText[p] }
