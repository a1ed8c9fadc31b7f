package oracle

import "fmt"

// threeWay expands a three-way turnout. L.right crosses the middle frog, then the
// left one; R.left the middle one, then the right one; S.left crosses the left
// frog, S.right the right one.
func (b *builder) threeWay(e entry, f fields) error {
	wiring := f.text("wiring")
	if !oneOf(wiring, "dead-frog", "unfed-frog", "switched-frog", "flipped-frog") {
		return fmt.Errorf("wiring %q is not modelled", wiring)
	}
	length, err := b.pieceLength(f)
	if err != nil {
		return err
	}
	jumpers := f.text("jumpers")
	if jumpers == "" {
		jumpers = "unknown"
	}
	var sl, sr, mid, left, right int
	var lr, rl [3]int // rail pieces before, between and beyond the frogs
	var s, t [2]int   // S.left and S.right, before and beyond their frog
	for _, n := range []*int{&sl, &sr, &mid, &left, &right, &lr[0], &lr[1], &lr[2], &rl[0], &rl[1], &rl[2], &s[0], &s[1], &t[0], &t[1]} {
		*n = b.node()
	}
	p := b.addPiece(piece{name: e.name, kind: "three-way", length: length})
	b.addEnd(p, "points", sl, sr, true, -1)
	b.addEnd(p, "left", sl, lr[2], false, 1)
	b.addEnd(p, "straight", s[1], t[1], false, -1)
	b.addEnd(p, "right", rl[2], sr, false, 0)
	b.pieces[p].rails = []pieceRail{{sl, length, nil}, {sr, length, nil}}

	b.join(sl, s[0], true)
	b.join(sl, rl[0], true)
	b.join(sr, lr[0], true)
	b.join(sr, t[0], true)
	for i := range 2 {
		b.jumper(jumpers, lr[i], lr[i+1])
		b.jumper(jumpers, rl[i], rl[i+1])
	}
	b.jumper(jumpers, s[0], s[1])
	b.jumper(jumpers, t[0], t[1])

	// A frog that a device flips gives way to the wheel; one of plastic is no metal.
	touch := func(frogs ...int) []int {
		if wiring == "dead-frog" || wiring == "flipped-frog" {
			return nil
		}
		return frogs
	}
	route := map[string][]wheelPath{
		"left":     {{append([]int{sr, lr[0], lr[1]}, touch(mid, left)...), []int{lr[2]}, "left"}},
		"straight": {{append([]int{sl, s[0]}, touch(left)...), []int{s[1]}, "straight"}, {append([]int{sr, t[0]}, touch(right)...), []int{t[1]}, "straight"}},
		"right":    {{append([]int{sl, rl[0], rl[1]}, touch(mid, right)...), []int{rl[2]}, "right"}},
	}
	add := func(name, leg string) {
		b.pieces[p].settings = append(b.pieces[p].settings, setting{name: name, routes: [][2]string{{"points", leg}}, rank: len(b.pieces[p].settings), wheels: route[leg]})
	}
	// thrownLeft and thrownRight are the settings where those blades, or throws, divert.
	var thrownLeft, thrownRight uint64
	midLeft := true // the middle frog follows the left throw
	switch f.text("construction") {
	case "symmetric":
		add("left", "left")
		add("straight", "straight")
		add("right", "right")
		thrownLeft, thrownRight = 1, 4
	case "lapped":
		switch f.text("first") {
		case "left":
			add("left", "left")
			add("straight", "straight")
			add("right", "right")
			add("left", "left")
			thrownLeft, thrownRight = 1|8, 4|8
		case "right":
			add("left", "left")
			add("straight", "straight")
			add("right", "right")
			add("right", "right")
			thrownLeft, thrownRight = 1|8, 4|8
			midLeft = false
		default:
			return fmt.Errorf("which throw is first?")
		}
	default:
		return fmt.Errorf("construction unsaid")
	}
	every := uint64(1)<<len(b.pieces[p].settings) - 1
	type follow struct {
		key        string
		frog       int
		thrown     uint64
		leftThrows bool
	}
	frogs := []follow{{"left-frog", left, thrownLeft, true}, {"right-frog", right, thrownRight, false}}
	if midLeft {
		frogs = append(frogs, follow{"middle-frog", mid, thrownLeft, true})
	} else {
		frogs = append(frogs, follow{"middle-frog", mid, thrownRight, false})
	}
	typed := f.node("frog-gets")
	if wiring != "switched-frog" {
		if typed != nil {
			return fmt.Errorf("a frog of this wiring gets nothing by contacts")
		}
		return nil
	}
	nodes := map[string]int{"stock-left": sl, "stock-right": sr}
	for _, fr := range frogs {
		// The left throw diverts onto rails of the right stock rail, the right one
		// onto rails of the left.
		diverted, through, name := "stock-right", "stock-left", "left"
		if !fr.leftThrows {
			diverted, through, name = "stock-left", "stock-right", "right"
		}
		for _, k := range pairsOf(field(typed, fr.key)) {
			if k.key == name {
				diverted = k.value.Value
			} else {
				through = k.value.Value
			}
		}
		if err := b.contacts(p, fr.frog, f, map[uint64]string{fr.thrown: diverted, every &^ fr.thrown: through}, nodes, pieceplace(e.name)); err != nil {
			return err
		}
	}
	return nil
}
