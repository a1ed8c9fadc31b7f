package audit

import (
	"strings"

	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"

	"gapwise/districts/difference"
	"gapwise/rules/rule"
)

// Change is one entry that differs, in words.
type Change struct {
	Fate    difference.Fate
	Kind    string   // "track", "gap", "bus"
	Before  []string // what it is called before: its name, else where it stands; several for tracks that were joined
	After   []string
	Renamed bool
	Turned  bool
	MovedM  float64
	Keys    []difference.Change
}

// Changes are all entries that differ, in words.
func (a *Audit) Changes() []Change {
	out := make([]Change, len(a.Difference.Entries))
	for i := range a.Difference.Entries {
		e := &a.Difference.Entries[i]
		c := Change{Fate: e.Fate, Renamed: e.Renamed, Turned: e.Turned, MovedM: e.MovedM, Keys: e.Changes}
		for _, j := range e.Before {
			c.Before = append(c.Before, title(a.old, e.Kind, j))
			c.Kind = kindWord(a.old.L, e.Kind, j)
		}
		for _, j := range e.After {
			c.After = append(c.After, title(a.new, e.Kind, j))
			c.Kind = kindWord(a.new.L, e.Kind, j)
		}
		out[i] = c
	}
	return out
}

// kindWord is what an entry is.
func kindWord(l *layout.Layout, k difference.Kind, i int32) string {
	switch k {
	case difference.KindPiece:
		return [...]string{"track", "turnout", "three-way", "crossing", "turntable", "transfer table"}[l.Pieces[i].Kind]
	case difference.KindCommon:
		return "common wire"
	case difference.KindInLine:
		return layout.InLineKindWords[l.InLines[i].Kind]
	default:
		return k.String()
	}
}

// title is what an entry is called: its name, else where it stands or what it joins.
func title(c *rule.Case, k difference.Kind, i int32) string {
	l := c.L
	switch k {
	case difference.KindGap:
		return strings.TrimPrefix(c.GapPlace(i).Text, "gap ")
	case difference.KindFeeder:
		return strings.TrimPrefix(c.FeederPlace(i).Text, "feeder ")
	case difference.KindJoint:
		return c.Place(l.Joints[i].Place).Text
	case difference.KindBond:
		return c.Place(l.Bonds[i].From).Text + " to " + c.Place(l.Bonds[i].To).Text
	case difference.KindTerminator:
		return standing(c, l.Terminators[i].OnRail, l.Terminators[i].Place, l.Terminators[i].Tap)
	case difference.KindLoad:
		if name := l.Loads[i].Name; name != "" {
			return name
		}
		return standing(c, l.Loads[i].OnRail, l.Loads[i].Place, l.Loads[i].Tap)
	case difference.KindCommon:
		names := make([]string, len(l.Commons[i].Joins))
		for n, b := range l.Commons[i].Joins {
			names[n] = l.Boosters[b].Name
		}
		return strings.Join(names, " to ")
	case difference.KindExclusion:
		names := make([]string, len(l.NeverTogether[i].Pieces))
		for n, p := range l.NeverTogether[i].Pieces {
			names[n] = l.Pieces[p].Name + " " + l.NeverTogether[i].Settings[n]
		}
		return strings.Join(names, ", ")
	case difference.KindAccept:
		return l.Accepts[i].Finding + " at " + l.Accepts[i].At
	case difference.KindCommonRails, difference.KindOperations:
		return ""
	case difference.KindWords:
		return "names of legs, rails and scale"
	default:
		return difference.EntryOf(l, k, i).Name
	}
}

func standing(c *rule.Case, onRail bool, p layout.Place, t layout.Tap) string {
	if onRail {
		return c.Place(p).Text
	}
	if t.Bus < 0 {
		return "an unknown place"
	}
	return "bus " + c.L.Buses[t.Bus].Name + " @ " + quantity.FormatLength(t.At.Mid())
}
