package circuit_test

import (
	"slices"
	"strings"

	"gapwise/netlist/circuit"
)

// groups is a plain union-find over node ids, kept apart from the program's own.
type groups []int32

func newGroups(n int) groups {
	g := make(groups, n)
	for i := range g {
		g[i] = int32(i)
	}
	return g
}

func (g groups) find(x int32) int32 {
	for g[x] != x {
		x = g[x]
	}
	return x
}

func (g groups) join(x, y int32) { g[g.find(x)] = g.find(y) }

// joined is what the conductors that take allows make one.
func joined(c *circuit.Circuit, take func(*circuit.Conductor) bool) groups {
	g := newGroups(c.Nodes)
	for i := range c.Conductors {
		if k := &c.Conductors[i]; take(k) {
			g.join(k.A, k.B)
		}
	}
	return g
}

// surely takes what conducts in every setting, for certain.
func surely(k *circuit.Conductor) bool { return k.Device < 0 && k.Sure }

// perhaps takes what may conduct in every setting.
func perhaps(k *circuit.Conductor) bool { return k.Device < 0 }

// partition lists members by group, a group a line: members sorted in their group,
// groups sorted by their first member.
func partition(members []string, groupOf func(member string) int32) []string {
	byGroup := map[int32][]string{}
	for _, m := range slices.Sorted(slices.Values(members)) {
		byGroup[groupOf(m)] = append(byGroup[groupOf(m)], m)
	}
	lines := make([]string, 0, len(byGroup))
	for _, group := range byGroup {
		lines = append(lines, strings.Join(group, " "))
	}
	slices.Sort(lines)
	return lines
}

// difference is "" for equal partitions; otherwise it shows the lines that one has and the other has not.
func difference(picture, program []string) string {
	var b strings.Builder
	show := func(whose string, lines, other []string) {
		for _, line := range lines {
			if !slices.Contains(other, line) {
				b.WriteString("\n  " + whose + ": " + line)
			}
		}
	}
	show("picture", picture, program)
	show("program", program, picture)
	return b.String()
}
