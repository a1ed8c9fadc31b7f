package districts_test

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gapwise/districts"
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
)

// A second opinion on settings by brute force over all settings of the circuit. It shares no
// code with the search: every device is put in every position, metal is followed by plain search.

var drawings = flag.Int("drawings", 500, "how many small layouts are compared with every setting of theirs")

// randomDrawing draws a small layout of up to ten turnouts of mixed wirings, some thrown together, some
// never together.
func randomDrawing(r *rand.Rand) string {
	wirings := []string{"selective", "power-routing", "tied-blades", "dead-frog", "switched-frog", "swapped", "selective", "power-routing-gapped"}
	d := &drawing{together: r.IntN(2) == 0}
	for range 1 + r.IntN(3) {
		d.wirings = append(d.wirings, wirings[r.IntN(len(wirings))])
	}
	switch r.IntN(5) {
	case 4:
		if d.fan([]string{"lapped, first: left", "symmetric"}[r.IntN(2)], []string{"break-first", "make-first"}[min(1, r.IntN(4))], r.IntN(2) == 0); r.IntN(3) == 0 {
			d.yard(2, r.IntN(2) == 0)
		}
	case 0:
		d.ladders(2+r.IntN(3), r.IntN(4) == 0)
	case 1:
		d.grid(2+r.IntN(2), 2+r.IntN(3), r.IntN(4) == 0)
	case 2:
		d.yard(2+r.IntN(5), r.IntN(3) == 0)
	default:
		d.sidings(1 + r.IntN(2))
		d.yard(2, r.IntN(2) == 0)
	}
	fed := len(d.feeders)
	for range r.IntN(3) {
		d.feeders = append(d.feeders, fmt.Sprintf("  K%d: {A: %s, 1 ft: main @ %d ft}", r.IntN(len(d.tracks)), []string{"left", "right"}[r.IntN(2)], 50+len(d.feeders)))
	}
	d.feeders = slices.CompactFunc(d.feeders, func(x, y string) bool { return strings.SplitN(x, ":", 2)[0] == strings.SplitN(y, ":", 2)[0] })
	for i := fed; i < len(d.feeders); i++ {
		name := strings.SplitN(d.feeders[i], ":", 2)[0]
		if slices.ContainsFunc(d.feeders[:i], func(o string) bool { return strings.SplitN(o, ":", 2)[0] == name }) {
			d.feeders = slices.Delete(d.feeders, i, i+1)
			i--
		}
	}
	text := d.text()
	if r.IntN(2) == 0 && d.n > 2 {
		text += "never-together:\n"
		for range 1 + r.IntN(3) {
			a := r.IntN(d.n - 1)
			b := a + 1 + r.IntN(d.n-1-a)
			text += fmt.Sprintf("  - {T%d: %s, T%d: %s, because: levers lock}\n", a, []string{"straight", "curved"}[r.IntN(2)], b, []string{"straight", "curved"}[r.IntN(2)])
		}
	}
	return text
}

// bruteCircuit looks at a circuit setting by setting.
type bruteCircuit struct {
	c     *circuit.Circuit
	group []int // of a device
	take  func(i int) bool
}

func newBrute(c *circuit.Circuit, take func(i int) bool) *bruteCircuit {
	b := &bruteCircuit{c: c, take: take, group: make([]int, len(c.Devices))}
	for d := range b.group {
		b.group[d] = d
	}
	for range b.group {
		for d := range b.group {
			for _, k := range c.Devices[d].Coupled {
				low := min(b.group[d], b.group[k.Device])
				b.group[d], b.group[k.Device] = low, low
			}
		}
	}
	return b
}

// each calls f with every setting of all devices that couplings and the layout's exclusions allow.
func (b *bruteCircuit) each(f func(all []int16)) {
	n := len(b.c.Devices)
	all := make([]int16, n)
	var next func(d int)
	next = func(d int) {
		if d < n {
			for at := range b.c.Devices[d].Positions {
				all[d] = int16(at)
				next(d + 1)
			}
			return
		}
		for d := range n {
			for _, k := range b.c.Devices[d].Coupled {
				if all[k.Device] != k.To[all[d]] {
					return
				}
			}
		}
		for i := range b.c.Layout.NeverTogether {
			e := &b.c.Layout.NeverTogether[i]
			held := true
			for k, p := range e.Pieces {
				x := b.c.PieceDevice[p]
				held = held && x >= 0 && b.c.Devices[x].Positions[all[x]] == e.Settings[k]
			}
			if held {
				return
			}
		}
		f(all)
	}
	next(0)
}

// groups numbers the metal that is one with the devices of some groups (bits of used) set so.
func (b *bruteCircuit) groups(all []int16, used uint64) []int {
	beside := make([][]int32, b.c.Nodes)
	for i := range b.c.Conductors {
		k := &b.c.Conductors[i]
		if !b.take(i) || k.Parts() || k.Device >= 0 && (used&(1<<b.group[k.Device]) == 0 || all[k.Device] != k.Position) {
			continue
		}
		beside[k.A], beside[k.B] = append(beside[k.A], k.B), append(beside[k.B], k.A)
	}
	of := make([]int, b.c.Nodes)
	n := 0
	for first := range of {
		if of[first] != 0 {
			continue
		}
		n++
		of[first] = n
		stack := []int32{int32(first)}
		for len(stack) > 0 {
			x := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for _, y := range beside[x] {
				if of[y] == 0 {
					of[y] = n
					stack = append(stack, y)
				}
			}
		}
	}
	return of
}

// shorts reports whether the two legs of the one booster are one.
func (b *bruteCircuit) shorts(all []int16, used uint64) bool {
	of := b.groups(all, used)
	at := slices.IndexFunc(b.c.Sources, func(s circuit.Source) bool { return s.Kind == circuit.BoosterSource })
	out := b.c.Sources[at].Out
	return of[out[layout.A]] == of[out[layout.B]]
}

// bits are the groups of some settings, and whether all devices stand so.
func (b *bruteCircuit) bits(list []districts.Setting, all []int16) (used uint64, held bool) {
	held = true
	for _, s := range list {
		used |= 1 << b.group[s.Device]
		held = held && all[s.Device] == s.Position
	}
	return used, held
}

// TestSettingsAgainstEverySetting compares shorts and feeding with every setting of the circuit.
func TestSettingsAgainstEverySetting(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	count := map[string]int{}
	rounds := *drawings
	if testing.Short() {
		rounds /= 5
	}
	for range rounds {
		text := randomDrawing(r)
		tr, err := traceText(text)
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		if len(tr.Unproven)+len(tr.FedOpen) > 0 {
			t.Fatalf("the bound was reached on a small layout\n%s", text)
		}
		checkShorts(t, tr, text, count)
		checkWheels(t, tr, text, count)
		checkFed(t, tr, text, count)
	}
	t.Logf("%v", count)
	for _, k := range []string{"sound", "short by itself", "short together", "wrong leg under wheels", "dead", "fed in some setting", "valid settings without short"} {
		if count[k] < 15 && !testing.Short() {
			t.Errorf("only %d: %s", count[k], k)
		}
	}
}

func checkShorts(t *testing.T, tr *districts.Trace, text string, count map[string]int) {
	t.Helper()
	explained := tr.Explained()
	b := newBrute(tr.C, func(i int) bool { return !explained[i] })
	told := []districts.Conflict{}
	for _, x := range tr.Conflicts {
		if x.Demand < 0 && len(x.Settings) > 0 {
			told = append(told, x)
		}
	}
	proven := make([]bool, len(told))
	fewest, least := -1, -1
	b.each(func(all []int16) {
		named := false
		for i, x := range told {
			used, held := b.bits(x.Settings, all)
			if !held {
				continue
			}
			named = true
			if proven[i] {
				continue
			}
			if proven[i] = true; !b.shorts(all, used) {
				t.Fatalf("%v does not short\n%s", x.Settings, text)
			}
			for rest := used; rest != 0; rest &= rest - 1 {
				if less := used &^ (rest & -rest); x.Several && b.shorts(all, less) {
					t.Fatalf("%v shorts without one of them\n%s", x.Settings, text)
				}
			}
			if n := ones(used); x.Several && (least < 0 || n < least) {
				least = n
			}
		}
		if short := b.shorts(all, ^uint64(0)); !tr.ConflictsCut && short && !named {
			t.Fatalf("%v shorts and nothing says so\n%s", all, text)
		} else if !short {
			count["valid settings without short"]++
		} else if n := b.fewest(all, told); n >= 0 && (fewest < 0 || n < fewest) {
			fewest = n
		}
	})
	if i := slices.Index(proven, false); i >= 0 {
		t.Fatalf("%v is part of no valid setting\n%s", told[i].Settings, text)
	}
	if fewest != least {
		t.Fatalf("shorts together take %d, by every setting %d\n%s", least, fewest, text)
	}
	switch {
	case least > 0:
		count["short together"]++
	case len(told) > 0:
		count["short by itself"]++
	default:
		count["sound"]++
	}
}

func ones(x uint64) (n int) {
	for ; x != 0; x &= x - 1 {
		n++
	}
	return n
}

// fewest is the number of groups that short in a whole setting with no device that shorts by itself
// among them; -1 for none.
func (b *bruteCircuit) fewest(all []int16, told []districts.Conflict) int {
	var free uint64
	for _, g := range b.group {
		free |= 1 << g
	}
	for _, x := range told {
		if used, held := b.bits(x.Settings, all); held && !x.Several {
			free &^= used
		}
	}
	best := -1
	for used := free; ; used = (used - 1) & free {
		if n := ones(used); (best < 0 || n < best) && b.shorts(all, used) {
			best = n
		}
		if used == 0 || best < 0 && used == free {
			return best // without all of them there is none
		}
	}
}

// checkWheels asserts that a frog is told just where some valid setting without a short gives it another
// leg than the wheels on it have, and that what is told does so by itself.
func checkWheels(t *testing.T, tr *districts.Trace, text string, count map[string]int) {
	t.Helper()
	explained := tr.Explained()
	b := newBrute(tr.C, func(i int) bool {
		k := &tr.C.Conductors[i]
		return !explained[i] && (k.Device < 0 || tr.C.Devices[k.Device].Kind != circuit.FrogDevice)
	})
	at := slices.IndexFunc(tr.C.Sources, func(s circuit.Source) bool { return s.Kind == circuit.BoosterSource })
	out := tr.C.Sources[at].Out
	wrong := func(of []int, d *circuit.Demand) bool {
		x, y := of[d.Frog], of[d.As]
		return x == of[out[0]] && y == of[out[1]] || x == of[out[1]] && y == of[out[0]]
	}
	found, proven := make([]bool, len(tr.C.Demands)), make([]bool, len(tr.Conflicts))
	b.each(func(all []int16) {
		if of := b.groups(all, ^uint64(0)); of[out[0]] != of[out[1]] {
			for i := range tr.C.Demands {
				d := &tr.C.Demands[i]
				found[i] = found[i] || d.Device >= 0 && all[d.Device] == d.Position && wrong(of, d)
			}
		}
		for i, x := range tr.Conflicts {
			if x.Demand < 0 || proven[i] {
				continue
			}
			if used, held := b.bits(x.Settings, all); held {
				if x.Several != (ones(used) > 1) {
					t.Fatalf("%v is said to take several levers: %t\n%s", x.Settings, x.Several, text)
				}
				if of := b.groups(all, used); of[out[0]] == of[out[1]] && !tr.ConflictsCut {
					t.Fatalf("%v shorts, wheels or not\n%s", x.Settings, text)
				}
				own := uint64(1) << b.group[tr.C.Demands[x.Demand].Device]
				for rest := used &^ own; rest != 0; rest &= rest - 1 {
					if wrong(b.groups(all, used&^(rest&-rest)), &tr.C.Demands[x.Demand]) {
						t.Fatalf("%v gives the frog a wrong leg without one of them\n%s", x.Settings, text)
					}
				}
				if proven[i] = true; !wrong(b.groups(all, used), &tr.C.Demands[x.Demand]) {
					t.Fatalf("%v gives the frog no wrong leg\n%s", x.Settings, text)
				}
			}
		}
	})
	for i, x := range tr.Conflicts {
		if x.Demand < 0 {
			continue
		}
		count["wrong leg under wheels"]++
		if !proven[i] {
			t.Fatalf("%v is part of no valid setting\n%s", x.Settings, text)
		}
	}
	for i, is := range found {
		told := slices.ContainsFunc(tr.Conflicts, func(x districts.Conflict) bool { return x.Demand == int32(i) })
		if is && !told && !tr.ConflictsCut {
			t.Fatalf("the %s of %s gets a wrong leg and nothing says so\n%s", tr.C.Demands[i].Name, tr.C.Devices[tr.C.Demands[i].Device].Name, text)
		}
	}
}

func checkFed(t *testing.T, tr *districts.Trace, text string, count map[string]int) {
	t.Helper()
	b := newBrute(tr.C, func(i int) bool { return tr.C.Conductors[i].Sure })
	some, every := make([]bool, tr.C.Nodes), make([]bool, tr.C.Nodes)
	for n := range every {
		every[n] = true
	}
	valid := false
	b.each(func(all []int16) {
		valid = true
		of := b.groups(all, ^uint64(0))
		live := map[int]bool{}
		for _, s := range tr.C.Sources {
			live[of[s.Out[0]]], live[of[s.Out[1]]] = true, true
		}
		for n, g := range of {
			fed := live[g]
			some[n], every[n] = some[n] || fed, every[n] && fed
		}
	})
	if !valid {
		return
	}
	for n, state := range tr.Fed {
		if sure := state == districts.InSetting || state == districts.FedAlways; sure != some[n] {
			t.Fatalf("node %d is %d, but trying every setting says %t\n%s", n, state, some[n], text)
		}
		if state == districts.FedAlways && !every[n] {
			t.Fatalf("node %d is not fed in every setting\n%s", n, text)
		}
		switch {
		case state == districts.Dead:
			count["dead"]++
		case state == districts.InSetting:
			count["fed in some setting"]++
		}
	}
}
