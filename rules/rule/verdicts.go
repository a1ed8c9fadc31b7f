package rule

import (
	"cmp"
	"slices"

	"gapwise/netlist/circuit"

	"gapwise/rules/finding"
)

// Culprit is the entry that one electrical mistake is laid to: most often the wire with the
// largest share. Kind is that of its conductors, Ref the entry.
type Culprit struct {
	Kind circuit.Kind
	Ref  int32
}

// Verdict is what one electrical rule finds at one culprit. Where several rules find
// something at one culprit, the gravest is told, and what the others say in a line stands
// with it: a thin wire drops volts, keeps a breaker from tripping and gets hot, and is one mistake.
type Verdict struct {
	Culprit Culprit
	Brief   string  // the matter in a line, for another rule's finding
	Group   string  // verdicts of one rule with one Group are about one matter; "" stands alone
	Worse   float64 // of a group the one with most is told
	Finding finding.Finding
}

// Judge is one electrical rule's part in that: it lists verdicts, and what it leaves open.
type Judge struct {
	Rule *Rule
	Find func(*Case) []Verdict
}

// Verdicts are the judged verdicts of one case, shared by the rules that judge.
type Verdicts struct {
	Apart bool // verdicts on one culprit are told one by one: what is told hides nothing
	done  bool
	by    map[string][]Verdict            // by rule
	open  map[string][]finding.NotChecked // by rule
}

// Judged gives a rule the verdicts that are its to tell: of the verdicts on one culprit the
// gravest, and of those as grave the one whose judge comes first. What its judge left open is
// left open.
func (c *Case) Judged(judges []Judge) []Verdict {
	if !c.Shared.done {
		c.Shared.done = true
		c.Shared.judge(c, judges)
	}
	c.Open = append(c.Open, c.Shared.open[c.Rule.ID]...)
	return c.Shared.by[c.Rule.ID]
}

func (vs *Verdicts) judge(c *Case, judges []Judge) {
	vs.by, vs.open = map[string][]Verdict{}, map[string][]finding.NotChecked{}
	type told struct {
		judge int
		v     Verdict
	}
	var all []told
	for j := range judges {
		own := *c
		own.Rule, own.Findings, own.Open = judges[j].Rule, nil, nil
		for _, v := range judges[j].Find(&own) {
			all = append(all, told{j, v})
		}
		vs.open[own.Rule.ID] = own.Open
	}
	slices.SortStableFunc(all, func(x, y told) int {
		return cmp.Or(
			cmp.Compare(x.v.Culprit.Kind, y.v.Culprit.Kind), cmp.Compare(x.v.Culprit.Ref, y.v.Culprit.Ref),
			-cmp.Compare(x.v.Finding.Severity, y.v.Finding.Severity), cmp.Compare(x.judge, y.judge),
		)
	})
	for i := 0; i < len(all); {
		j := i + 1
		for !vs.Apart && j < len(all) && all[j].v.Culprit == all[i].v.Culprit {
			j++
		}
		v := all[i].v
		for _, o := range all[i+1 : j] {
			if o.v.Finding.Severity == finding.Note && v.Finding.Severity > finding.Note {
				continue
			}
			v.Finding.Also = append(v.Finding.Also, o.v.Brief)
			v.Finding.Numbers = append(v.Finding.Numbers, o.v.Finding.Numbers...)
		}
		id := judges[all[i].judge].Rule.ID
		vs.by[id] = append(vs.by[id], v)
		i = j
	}
}
