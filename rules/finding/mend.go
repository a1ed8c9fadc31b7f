package finding

// Op is what a change does to a layout's text. Each is one call of the writer of layout files.
type Op uint8

const (
	OpSet        Op = iota // Keys of the entry Name of Section get their values
	OpSetFeeder            // so do those of a feeder; Ref: Layout.Feeders
	OpMoveFeeder           // a feeder stands at Where of its piece; Ref: Layout.Feeders
	OpSetGap               // keys of a gap; Ref: Layout.Gaps
	OpMoveGap              // a gap stands at Where of its piece; Ref: Layout.Gaps
	OpCloseGap             // a gap goes: its rails are joined by metal again; Ref: Layout.Gaps
	OpSetItem              // keys of an entry of a section that is a list; Ref: its slice of the layout
	OpSetJoint             // keys of a rail joint; Ref: Layout.Joints
	OpPlace                // a new gap, joint or feeder (Section) at Where of Piece: Value
	OpAdd                  // a new entry Name of Section: Value
	OpAddItem              // a new entry of a section that is a list: Value
	OpUnset                // Keys of the entry Name of Section go
	OpRemoveItem           // an entry of a section that is a list goes, a wire or what matches nothing; Ref: its slice of the layout
)

// Key is one key of an entry and its value as the language has it.
type Key struct{ Name, Value string }

// Change is one change to a layout's text, as data.
type Change struct {
	Op                                 Op
	Section, Name, Piece, Where, Value string
	Ref                                int32
	Keys                               []Key
}

// Work is what a mend costs whoever does it: rails cut or closed, wires hung, moved or exchanged, devices to be
// bought, and settings of devices or lines of the file that change without a tool in hand.
type Work struct{ Cuts, Wires, Devices, Settings int }

// Mend is something to do that may mend a finding: all its changes together. Text says it in words, as a person does it
// ("cut the right rail at BL @ 12 ft 10 in (3.91 m) too"), without a full stop.
type Mend struct {
	Text    string
	Work    Work
	Changes []Change
}
