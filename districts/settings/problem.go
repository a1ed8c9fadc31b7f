// Package settings answers whether nets can be joined by setting devices, and by how few. It
// knows nets, devices with positions, and edges that join two nets while a device is in one
// position; devices that are thrown together count as one lever, and sets of settings that may
// never hold together are honoured in full: an answer always extends to a whole setting of all
// devices. The search is exact; a bound on counted work ends it where it would take too long, and
// the answer says so.
package settings

// Setting is a device in one of its positions.
type Setting struct {
	Device   int32
	Position int16
}

// Edge joins nets A and B while Device is in Position.
type Edge struct {
	A, B     int32
	Device   int32
	Position int16
}

// Coupling says in which position another device is: To[p] when this one is in p.
type Coupling struct {
	Device int32
	To     []int16
}

// Problem is a set of nets, 0 to Nets-1, with devices that join them.
type Problem struct {
	Nets      int
	Edges     []Edge
	Positions []int        // how many, by device
	Coupled   [][]Coupling // by device; none for nil
	// Never are sets of settings of which no valid setting of all devices holds all.
	Never [][]Setting
	// Stop are nets at which a way may end but through which none leads; none for nil.
	Stop []bool
}

// Connection asks for a way from a net of From to a net of To.
type Connection struct{ From, To []int32 }

// mostConnections bounds how many connections one query asks for.
const mostConnections = 7

// Query asks for one valid setting in which every connection is there at once.
type Query struct {
	Connect []Connection // at most 7
	// Given are settings that hold already; they cost nothing.
	Given []Setting
	// Joined are nets that are one besides; a group of them is a stop if one of its nets is.
	Joined [][2]int32
	// Told are sets of settings that an answer, with what is given, may not hold all of.
	Told [][]Setting
	// Work bounds the search in looks at states; 0 for the usual.
	Work int
}

// usualWork is the bound on looks for one query.
const usualWork = 1 << 22

// Verdict of a query.
type Verdict uint8

const (
	// Open says that the bound on work was reached first.
	Open Verdict = iota
	// Absent says that no valid setting joins them.
	Absent
	// Found says that the answer's settings do, and that no fewer levers would.
	Found
)

// Answer is what a query found.
type Answer struct {
	Verdict Verdict
	// Settings are those given, then the others in order from From to To, each with what is thrown along.
	Settings []Setting
	// Levers counts what is thrown beyond what is given: devices thrown together once.
	Levers int
	// Ways are the nets of each connection's way, from From to To.
	Ways [][]int32
	// At are the devices at which the bound stopped the search, rising.
	At []int32
	// Work is how many looks it took.
	Work int
}
