package layout

// MaxUncertainOrders is how many uncertain orders a layout keeps. A layout with more has
// measures too vague to check.
const MaxUncertainOrders = 1000

// UncertainOrder names two things on one track whose measures leave open which comes
// first. First is the one that comes first by the middle of its measure.
type UncertainOrder struct {
	Track         int32
	First, Second OrderItem
}

// OrderItem is something on a track: Index into Gaps, Joints or Feeders, or into the
// track's own Stands.
type OrderItem struct {
	Kind  OrderKind
	Index int32
}

// OrderKind tells what an OrderItem is.
type OrderKind uint8

const (
	OrderGap OrderKind = iota
	OrderJoint
	OrderFeeder
	OrderBody
)
