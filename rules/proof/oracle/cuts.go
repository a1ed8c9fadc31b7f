package oracle

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gopkg.in/yaml.v3"
)

// groupWords are keys beside the places of a group of feeders or gaps.
var groupWords = []string{"A", "wire", "length", "rails", "broken", "label", "like", "name", "kind", "joint", "width", "fill"}

// readCuts reads gaps and joints, the typed ones before the rows of defaults.
func (b *builder) readCuts() error {
	for _, section := range []string{"gaps", "joints"} {
		for _, e := range b.doc.sections[section] {
			for _, item := range items(e.node) {
				if err := b.cutEntry(section, e, item); err != nil {
					return fmt.Errorf("%s of %s: %w", section, e.name, err)
				}
			}
		}
	}
	for t := range b.tracks {
		if err := b.defaultJoints(t); err != nil {
			return err
		}
	}
	for j := range b.joints {
		jt := &b.joints[j]
		for rail := range 2 {
			if jt.lift && !jt.typed[rail] {
				jt.rails[rail].conducts = maybe
			}
		}
	}
	for r := range b.runs {
		for rail := range 2 {
			cuts := b.runs[r].cuts[rail]
			slices.SortFunc(cuts, func(x, y cut) int { return cmp.Compare(x.at, y.at) })
			for i := 1; i < len(cuts); i++ {
				if cuts[i].at-cuts[i-1].at <= tiny {
					return fmt.Errorf("%s: two cuts at one place", b.label(spot{r, cuts[i].at, -1}))
				}
			}
		}
	}
	return nil
}

func (b *builder) cutEntry(section string, e entry, item *yaml.Node) error {
	kind := map[string]string{"gaps": "gap", "joints": "joint"}[section]
	f := b.doc.mapFields(kind, e.file, item)
	where := item.Value
	if n := f.own["at"]; n != nil {
		where = n.Value
	}
	c, err := b.cutKind(section, f)
	if err != nil {
		return err
	}
	rails := f.text("rails")
	if rails == "" && section == "joints" {
		rails = "both"
	}
	t := b.trackNamed(e.name)
	if t < 0 {
		s, err := b.groupSpot(e.name, where)
		if err != nil {
			return err
		}
		return b.cutAt(s, rails, e.name, c)
	}
	ats, err := b.row(t, where, fieldText(item, "every"))
	if err != nil {
		return err
	}
	for _, at := range ats {
		s, err := b.trackSpot(t, at)
		if err != nil {
			return err
		}
		if err := b.cutAt(s, rails, e.name, c); err != nil {
			return err
		}
	}
	return nil
}

func (b *builder) cutKind(section string, f fields) (cut, error) {
	if section == "joints" {
		return cut{conducts: b.jointWord(f.text("kind"))}, nil
	}
	switch f.text("kind") {
	case "insulated":
		c := cut{conducts: open, insulated: true}
		if f.text("bridged-by") != "" {
			c.conducts = sure
		}
		return c, nil
	case "expansion":
		switch f.text("joint") {
		case "cut":
			return cut{conducts: open}, nil
		case "sliding":
			return cut{conducts: maybe}, nil
		case "bonded":
			return cut{conducts: sure}, nil
		}
	}
	return cut{}, fmt.Errorf("this kind of gap is not modelled")
}

// cutRails are the rails that a word names at a spot.
func (b *builder) cutRails(s spot, word, name string) ([]int, error) {
	switch word {
	case "both":
		return []int{0, 1}, nil
	case "left", "right":
		r, _ := railWord(word)
		return []int{r}, nil
	case "A", "B":
		t := b.trackNamed(name)
		if t < 0 || len(b.tracks[t].legA) == 0 {
			return nil, fmt.Errorf("which rail is leg %s?", word)
		}
		near := slices.MinFunc(b.tracks[t].legA, func(x, y legA) int {
			return cmp.Compare(math.Abs(x.at-s.at), math.Abs(y.at-s.at))
		})
		if word == "B" {
			return []int{1 - near.rail}, nil
		}
		return []int{near.rail}, nil
	case "inner", "outer":
		if s.run >= 0 {
			break
		}
		inner := b.ends[s.end].inner
		if o, turned := b.other(s.end); inner < 0 && o >= 0 && b.ends[o].inner >= 0 {
			inner = b.ends[o].inner
			if turned {
				inner = 1 - inner
			}
		}
		if inner < 0 {
			break
		}
		if word == "outer" {
			inner = 1 - inner
		}
		return []int{inner}, nil
	}
	return nil, fmt.Errorf("rails %q are not modelled here", word)
}

func (b *builder) cutAt(s spot, word, name string, c cut) error {
	rails, err := b.cutRails(s, word, name)
	if err != nil {
		return err
	}
	for _, rail := range rails {
		if s.run >= 0 {
			c.at = s.at
			b.runs[s.run].cuts[rail] = append(b.runs[s.run].cuts[rail], c)
			continue
		}
		j := b.ends[s.end].joint
		if j < 0 {
			continue // beyond a bare end there is nothing to part
		}
		jt := &b.joints[j]
		if jt.turned && jt.ends[0] != s.end {
			rail = 1 - rail
		}
		if jt.typed[rail] {
			return fmt.Errorf("%s: two cuts at one place", b.label(s))
		}
		jt.typed[rail] = true
		jt.rails[rail].conducts, jt.rails[rail].insulated = c.conducts, c.insulated
	}
	return nil
}

// defaultJoints sets the joints that a file's defaults put every so often; only
// those that may fail matter.
func (b *builder) defaultJoints(t int) error {
	n := field(b.doc.defaults[b.tracks[t].file]["joint"], "every")
	if n == nil || b.jointKind(b.tracks[t].file) == sure {
		return nil
	}
	step, _, err := lengthRange(n.Value)
	if err != nil || step <= b.tracks[t].length/mostInRow {
		return fmt.Errorf("no step %q", n.Value)
	}
	for _, r := range b.tracks[t].runs {
		ru := &b.runs[r]
		for i := 1; float64(i)*step < ru.s1-tiny; i++ {
			at := float64(i) * step
			if at <= ru.s0+tiny {
				continue
			}
			for rail := range 2 {
				taken := slices.ContainsFunc(ru.cuts[rail], func(c cut) bool { return math.Abs(c.at-at) <= tiny })
				if !taken {
					ru.cuts[rail] = append(ru.cuts[rail], cut{at: at, conducts: maybe})
				}
			}
		}
	}
	return nil
}

// layMetal makes the nodes of runs and the conductors over cuts and joints.
func (b *builder) layMetal() {
	for r := range b.runs {
		ru := &b.runs[r]
		b.making = b.tracks[ru.track].name
		for rail := range 2 {
			for range len(ru.cuts[rail]) + 1 {
				ru.nodes[rail] = append(ru.nodes[rail], b.node())
			}
			for i, c := range ru.cuts[rail] {
				if c.conducts != open {
					b.join(ru.nodes[rail][i], ru.nodes[rail][i+1], c.conducts == sure)
				}
			}
			b.ends[ru.ends[0]].rails[rail] = ru.nodes[rail][0]
			b.ends[ru.ends[1]].rails[rail] = ru.nodes[rail][len(ru.cuts[rail])]
		}
	}
	for j := range b.joints {
		for rail := range 2 {
			x, y := b.jointNodes(j, rail)
			if b.joints[j].rails[rail].conducts != open && !b.atPit(j) {
				b.join(x, y, b.joints[j].rails[rail].conducts == sure)
			}
		}
	}
}

func (l *Layout) atPit(j int) bool {
	return l.ends[l.joints[j].ends[0]].pit || l.ends[l.joints[j].ends[1]].pit
}

// jointNodes are the two nodes that meet in a rail of a joint.
func (l *Layout) jointNodes(j, rail int) (int, int) {
	jt := l.joints[j]
	far := rail
	if jt.turned {
		far = 1 - rail
	}
	return l.ends[jt.ends[0]].rails[rail], l.ends[jt.ends[1]].rails[far]
}
