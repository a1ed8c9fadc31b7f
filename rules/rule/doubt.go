package rule

import (
	"strings"

	"gapwise/netlist/circuit"
)

// Doubt is what may or may not conduct beside some metal, by the key that would settle it.
type Doubt struct{ Joints, Jumpers, Feeders bool }

// doubts finds, for the metal that surely hangs together, what doubtful things touch it.
type doubts struct {
	of   []int32 // by node
	here map[int32]Doubt
}

// DoubtAt says what doubtful joints, jumpers and feeders touch the metal of some nodes.
func (c *Case) DoubtAt(nodes ...int32) Doubt {
	if c.doubts == nil {
		c.doubts = newDoubts(c.C)
	}
	var out Doubt
	for _, n := range nodes {
		d := c.doubts.here[c.doubts.root(n)]
		out = Doubt{out.Joints || d.Joints, out.Jumpers || d.Jumpers, out.Feeders || d.Feeders}
	}
	return out
}

func newDoubts(c *circuit.Circuit) *doubts {
	d := &doubts{of: make([]int32, c.Nodes), here: map[int32]Doubt{}}
	for n := range d.of {
		d.of[n] = int32(n)
	}
	for i := range c.Conductors {
		if k := &c.Conductors[i]; k.Sure && k.Device < 0 {
			d.of[d.root(k.A)] = d.root(k.B)
		}
	}
	for i := range c.Conductors {
		k := &c.Conductors[i]
		if k.Sure {
			continue
		}
		for _, n := range [2]int32{k.A, k.B} {
			at := d.root(n)
			x := d.here[at]
			switch k.Kind {
			case circuit.JointMetal:
				x.Joints = true
			case circuit.PiecePart:
				x.Jumpers = true
			case circuit.FeederWire:
				x.Feeders = true
			}
			d.here[at] = x
		}
	}
	return d
}

func (d *doubts) root(n int32) int32 {
	for d.of[n] != n {
		d.of[n] = d.of[d.of[n]]
		n = d.of[n]
	}
	return n
}

// Things names what is in doubt: "rail joints and jumpers"; "joints, jumpers or feeders" where
// the doubt lies farther off.
func (d Doubt) Things() string {
	return d.list("rail joints", "jumpers", "a feeder", "joints, jumpers or feeders")
}

// Keys names what the layout may say to settle it.
func (d Doubt) Keys() string {
	return d.list("`joint: {kind: soldered}`", "`jumpers: yes`", "`broken: no`", "`joint`, `jumpers` or `broken`")
}

func (d Doubt) list(joints, jumpers, feeders, none string) string {
	var out []string
	if d.Jumpers {
		out = append(out, jumpers)
	}
	if d.Joints {
		out = append(out, joints)
	}
	if d.Feeders {
		out = append(out, feeders)
	}
	if len(out) == 0 {
		return none
	}
	return strings.Join(out, " and ")
}

// Open says why a rail that hangs on what is in doubt is not checked, and what would settle it.
func (d Doubt) Open() string {
	return "it hangs on " + d.Things() + " that the file does not call sound; if they are, say " + d.Keys()
}
