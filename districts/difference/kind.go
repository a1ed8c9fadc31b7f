package difference

import "gapwise/netlist/layout"

// Kind tells what an entry is, and which slice of the layout it indexes.
type Kind uint8

// The kinds, in the order in which they are listed. KindPiece is tracks and all track work, by
// PieceID. KindCommonRails, KindOperations, KindStock and KindWords are one entry a layout, index 0.
const (
	KindPiece Kind = iota
	KindGap
	KindJoint
	KindCommonRails
	KindBond
	KindExclusion
	KindSupply
	KindBooster
	KindCommon
	KindCab
	KindBreaker
	KindReverser
	KindDetector
	KindInLine
	KindChangeover
	KindPlug
	KindBus
	KindFeeder
	KindTerminator
	KindLoad
	KindBlock
	KindDistrict
	KindTrain
	KindOperations
	KindLimit
	KindPractice
	KindAccept
	KindWords
	kindEnd
)

// KindNames name the kinds, by value.
var KindNames = []string{
	"piece", "gap", "joint", "common rails", "bond", "never-together", "supply", "booster", "common", "cab",
	"breaker", "reverser", "detector", "in-line", "changeover", "plug", "bus", "feeder", "terminator", "load",
	"block", "district", "train", "operations", "limit", "practice", "acceptance", "layout",
}

func (k Kind) String() string { return KindNames[k] }

// Count is how many entries of a kind a layout has.
func Count(l *layout.Layout, k Kind) int {
	return [kindEnd]int{
		KindPiece: len(l.Pieces), KindGap: len(l.Gaps), KindJoint: len(l.Joints), KindCommonRails: 1, KindBond: len(l.Bonds),
		KindExclusion: len(l.NeverTogether), KindSupply: len(l.Supplies), KindBooster: len(l.Boosters), KindCommon: len(l.Commons),
		KindCab: len(l.Cabs), KindBreaker: len(l.Breakers), KindReverser: len(l.Reversers), KindDetector: len(l.Detectors),
		KindInLine: len(l.InLines), KindChangeover: len(l.Changeovers), KindPlug: len(l.Plugs), KindBus: len(l.Buses),
		KindFeeder: len(l.Feeders), KindTerminator: len(l.Terminators), KindLoad: len(l.Loads), KindBlock: len(l.Blocks),
		KindDistrict: len(l.Districts), KindTrain: len(l.Trains), KindOperations: 1, KindLimit: len(l.Limits),
		KindPractice: len(l.Practices), KindAccept: len(l.Accepts), KindWords: 1,
	}[k]
}

func (s *side) count(k Kind) int { return Count(s.l, k) }

// EntryOf is the name, label and place in the file of an entry.
func EntryOf(l *layout.Layout, k Kind, i int32) layout.Entry {
	switch k {
	case KindPiece:
		return layout.Entry{Name: l.Pieces[i].Name, Pos: l.Pieces[i].Pos}
	case KindGap:
		return l.Gaps[i].Entry
	case KindJoint:
		return l.Joints[i].Entry
	case KindBond:
		return l.Bonds[i].Entry
	case KindExclusion:
		return l.NeverTogether[i].Entry
	case KindSupply:
		return l.Supplies[i].Entry
	case KindBooster:
		return l.Boosters[i].Entry
	case KindCommon:
		return l.Commons[i].Entry
	case KindCab:
		return l.Cabs[i].Entry
	case KindBreaker:
		return l.Breakers[i].Entry
	case KindReverser:
		return l.Reversers[i].Entry
	case KindDetector:
		return l.Detectors[i].Entry
	case KindInLine:
		return l.InLines[i].Entry
	case KindChangeover:
		return l.Changeovers[i].Entry
	case KindPlug:
		return l.Plugs[i].Entry
	case KindBus:
		return l.Buses[i].Entry
	case KindFeeder:
		return l.Feeders[i].Entry
	case KindTerminator:
		return l.Terminators[i].Entry
	case KindLoad:
		return l.Loads[i].Entry
	case KindBlock:
		return l.Blocks[i].Entry
	case KindDistrict:
		return l.Districts[i].Entry
	case KindTrain:
		return l.Trains[i].Entry
	case KindLimit:
		return layout.Entry{Name: l.Limits[i].Name, Pos: l.Limits[i].Pos}
	case KindPractice:
		return layout.Entry{Name: l.Practices[i].Name, Pos: l.Practices[i].Pos}
	case KindAccept:
		return l.Accepts[i].Entry
	default:
		return layout.Entry{}
	}
}

func (s *side) entry(k Kind, i int32) layout.Entry { return EntryOf(s.l, k, i) }

// onRails reports whether entries of a kind are found by where they stand: they seldom have names.
func (k Kind) onRails() bool {
	switch k {
	case KindGap, KindJoint, KindBond, KindFeeder, KindTerminator, KindLoad:
		return true
	default:
		return false
	}
}

// single reports whether a layout has exactly one entry of a kind.
func (k Kind) single() bool { return k == KindCommonRails || k == KindOperations || k == KindWords }
