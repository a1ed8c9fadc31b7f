package audit

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"gapwise/districts/difference"
	"gapwise/rules/finding"
)

// FindingChange is one finding of both checks, or of one of them. Of the severities and then the numbers, what decided
// is Number, with its value before and after; it is "" where severity or acceptance did, or nothing.
type FindingChange struct {
	Outcome       Outcome
	Before, After *finding.Finding
	Number        string
	From, To      string
}

// nearby is how far apart two findings of one rule may lie along one track, in metres, to be about one thing:
// 12 in. Common practice, no source.
const nearby = 0.3048

// everywhere are rules whose findings are about something whole, or its worst point: which place of it they name may
// change with anything. They are matched by what they say.
var everywhere = map[string]bool{
	"feeder-drop": true, "rail-drop": true, "bus-drop": true, "short-too-weak-to-trip": true, "short-too-weak-under-dcc": true,
	"expansion-gap-missing": true, "loop-ungapped": true,
}

// match is two findings that may be one.
type match struct {
	old, new int
	metres   float64
	unlike   int
	where    float64
}

// matchFindings pairs the findings of the two checks: by rule, by what they are about, by where they lie, never by
// line or measured value. The nearest pair up first.
func (a *Audit) matchFindings(n *names) []FindingChange {
	old, now := a.Before.Findings, a.After.Findings
	found := append(near(n, old, now), alike(n, old, now)...)
	oldOf, newOf := make([]int, len(now)), make([]int, len(old))
	for i := range oldOf {
		oldOf[i] = -1
	}
	for i := range newOf {
		newOf[i] = -1
	}
	for _, m := range found {
		if oldOf[m.new] < 0 && newOf[m.old] < 0 {
			oldOf[m.new], newOf[m.old] = m.old, m.new
		}
	}
	var out []FindingChange
	for j := range now {
		if i := oldOf[j]; i >= 0 {
			out = append(out, weigh(&old[i], &now[j]))
		} else {
			out = append(out, FindingChange{Outcome: New, After: &now[j]})
		}
	}
	for i := range old {
		if newOf[i] < 0 {
			out = append(out, FindingChange{Outcome: Gone, Before: &old[i]})
		}
	}
	slices.SortStableFunc(out, func(x, y FindingChange) int { return cmp.Compare(rank(&x), rank(&y)) })
	return out
}

// near lists pairs of one rule, about one thing, at one place, the nearest first.
func near(n *names, old, now []finding.Finding) []match {
	xs, said := make([]about, len(old)), make([]string, len(old))
	byRule := map[string][]int{}
	for i := range old {
		xs[i], said[i] = n.where(difference.Before, &old[i]), n.same(difference.Before, old[i].Message)
		key := old[i].Rule + " " + xs[i].token
		byRule[key] = append(byRule[key], i)
	}
	var out []match
	for j := range now {
		y, says := n.where(difference.After, &now[j]), n.same(difference.After, now[j].Message)
		for _, i := range byRule[now[j].Rule+" "+y.token] {
			x := xs[i]
			off := min(math.Abs(x.at-y.at), max(math.Abs(x.lo-y.lo), math.Abs(x.hi-y.hi)))
			m := match{old: i, new: j, metres: off, where: x.lo + y.lo}
			if said[i] != says {
				m.unlike = 1
			}
			if x.along != y.along || off > nearby && (m.unlike > 0 || !x.within(y) && !y.within(x)) {
				continue
			}
			out = append(out, m)
		}
	}
	slices.SortFunc(out, func(x, y match) int {
		return cmp.Or(cmp.Compare(x.unlike, y.unlike), cmp.Compare(x.metres, y.metres), cmp.Compare(x.where, y.where), cmp.Compare(x.old+x.new, y.old+y.new))
	})
	return out
}

// within reports whether a stretch lies in another that is longer: it grew, or shrank.
func (x about) within(y about) bool {
	return x.hi > x.lo && x.lo >= y.lo-nearby && x.hi <= y.hi+nearby
}

// alike lists pairs of one of the rules about something whole that say the same.
func alike(n *names, old, now []finding.Finding) []match {
	byText := map[string][]int{}
	for i := range old {
		if f := &old[i]; everywhere[f.Rule] {
			key := f.Rule + " " + inAnyOrder(n.same(difference.Before, f.Message))
			byText[key] = append(byText[key], i)
		}
	}
	var out []match
	for j := range now {
		f := &now[j]
		for _, i := range byText[f.Rule+" "+inAnyOrder(n.same(difference.After, f.Message))] {
			out = append(out, match{old: i, new: j})
		}
	}
	slices.SortFunc(out, func(x, y match) int { return cmp.Compare(x.old+x.new, y.old+y.new) })
	return out
}

// inAnyOrder is a text with its words sorted: a ring may be told from any of its tracks, either way round.
func inAnyOrder(text string) string {
	words := strings.Fields(strings.ReplaceAll(text, ",", ""))
	slices.Sort(words)
	return strings.Join(words, " ")
}

// rank orders changes: new and worse together, gravest first, as the checks order them.
func rank(f *FindingChange) int {
	if f.Outcome <= Worse {
		return -gravity(f.After)
	}
	return int(f.Outcome)
}

// gravity is how much a finding weighs; an accepted one counts as none.
func gravity(f *finding.Finding) int {
	if f.Accepted {
		return 0
	}
	return 1 + int(f.Severity)
}

// muchTheSame is the share by which a number may differ without counting as worse or better: joints in plain track
// come to less. Common practice, no source.
const muchTheSame = 0.01

// deadTrack is a number that has no limit, and of which more is worse.
const deadTrack = "dead track"

// weigh says whether a finding got worse: by severity, then by its first number with a limit.
func weigh(old, now *finding.Finding) FindingChange {
	f := FindingChange{Outcome: Same, Before: old, After: now}
	switch x, y := gravity(old), gravity(now); {
	case y > x:
		f.Outcome = Worse
		return f
	case y < x:
		f.Outcome = Better
		return f
	}
	for i := range now.Numbers {
		y := &now.Numbers[i]
		if y.Limit == "" && y.Name != deadTrack {
			continue
		}
		k := slices.IndexFunc(old.Numbers, func(x finding.Number) bool {
			return x.Name == y.Name && x.Unit == y.Unit && (x.Limit == "") == (y.Limit == "")
		})
		if k < 0 {
			continue
		}
		x := &old.Numbers[k]
		if math.Abs(x.SI-y.SI) <= muchTheSame*max(math.Abs(x.SI), math.Abs(y.SI)) {
			return f
		}
		if direction(y.Limit) == 0 {
			return f
		}
		f.Number, f.From, f.To = y.Name, x.Text, y.Text
		if f.Outcome = Better; (y.SI > x.SI) == (direction(y.Limit) > 0) {
			f.Outcome = Worse
		}
		return f
	}
	return f
}

// direction reads a limit in words: -1 where less is worse ("at least 5 A"), 1 where more is, 0 where a value may
// be off on either side.
func direction(limit string) int {
	switch {
	case strings.HasPrefix(limit, "at least"), strings.HasPrefix(limit, "more than"):
		return -1
	case strings.HasPrefix(limit, "at most"), strings.HasPrefix(limit, "below"), strings.HasPrefix(limit, "shorter than"):
		return 1
	case strings.Contains(limit, " to "), strings.Contains(limit, " .. "):
		return 0
	default:
		return 1
	}
}

// OpenChange is a line about what was not checked that only one of the checks has.
type OpenChange struct {
	Outcome Outcome // New or Gone
	Line    finding.NotChecked
}

// matchOpen compares what the two checks left open.
func (a *Audit) matchOpen(n *names) (out []OpenChange, same int) {
	key := func(s difference.Side, x *finding.NotChecked) string {
		return x.Rule + "|" + n.same(s, x.What) + "|" + n.same(s, x.Why)
	}
	left := map[string]int{}
	for i := range a.Before.NotChecked {
		left[key(difference.Before, &a.Before.NotChecked[i])]++
	}
	for i := range a.After.NotChecked {
		x := &a.After.NotChecked[i]
		if k := key(difference.After, x); left[k] > 0 {
			left[k]--
			same++
			continue
		}
		out = append(out, OpenChange{New, *x})
	}
	for i := len(a.Before.NotChecked) - 1; i >= 0; i-- { // the first of several alike are those that stayed
		x := &a.Before.NotChecked[i]
		if k := key(difference.Before, x); left[k] > 0 {
			left[k]--
			out = append(out, OpenChange{Gone, *x})
		}
	}
	return out, same
}
