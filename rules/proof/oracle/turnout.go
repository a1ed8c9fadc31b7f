package oracle

import "fmt"

// anatomy is a turnout's wiring said in full.
type anatomy struct {
	blades, closures string // stock, each-other, neither; blade, frog, both
	metal            bool
	toe, heel        bool // isolated there
	frogFrom         string
	jumpers          string // yes, no or unknown
}

var presets = map[string]anatomy{
	"dead-frog":            {"stock", "blade", false, true, true, "nothing", ""},
	"unfed-frog":           {"stock", "blade", true, true, true, "nothing", ""},
	"switched-frog":        {"stock", "blade", true, true, true, "contacts", ""},
	"flipped-frog":         {"stock", "blade", true, true, true, "device", ""},
	"selective":            {"neither", "blade", false, true, true, "nothing", ""},
	"tied-blades":          {"each-other", "blade", true, true, true, "nothing", ""},
	"power-routing":        {"each-other", "both", true, false, false, "blades", ""},
	"power-routing-gapped": {"each-other", "both", true, false, true, "blades", ""},
}

// legNames gives a turnout's leg on the left and on the right, and their order.
func legNames(hand string) (left, right string, leftRank int, err error) {
	switch hand {
	case "right":
		return "straight", "curved", 0, nil
	case "left":
		return "curved", "straight", 1, nil
	case "wye":
		return "left", "right", 0, nil
	case "curved-left":
		return "inner", "outer", 0, nil
	case "curved-right":
		return "outer", "inner", 1, nil
	}
	return "", "", 0, fmt.Errorf("no hand %q", hand)
}

func readAnatomy(f fields) (anatomy, error) {
	var a anatomy
	n := f.node("wiring")
	if n == nil {
		return a, fmt.Errorf("wiring unsaid")
	}
	said := ""
	if in := pairsOf(n); in != nil {
		w := map[string]string{}
		for _, p := range in {
			w[p.key] = p.value.Value
		}
		a.blades, a.closures, a.frogFrom = w["blades"], w["closures"], w["frog-from"]
		a.metal = w["frog"] == "metal"
		a.toe = !a.metal || w["isolated"] == "both" || w["isolated"] == "toe"
		a.heel = !a.metal || w["isolated"] == "both" || w["isolated"] == "heel"
		said = w["jumpers"]
		if !oneOf(a.blades, "stock", "each-other", "neither") || !oneOf(a.closures, "blade", "frog", "both") ||
			!oneOf(w["frog"], "plastic", "metal") || (a.metal && !oneOf(w["isolated"], "both", "toe", "heel", "none")) ||
			!oneOf(a.frogFrom, "", "nothing", "contacts", "device", "blades") {
			return a, fmt.Errorf("this wiring is not modelled")
		}
	} else {
		preset, ok := presets[n.Value]
		if !ok {
			return a, fmt.Errorf("wiring %q is not modelled", n.Value)
		}
		a = preset
	}
	if a.metal && a.toe && a.frogFrom == "blades" {
		return a, fmt.Errorf("a frog isolated from the blades that feed it is not modelled")
	}
	if own, ok := f.own["jumpers"]; ok {
		said = own.Value
	}
	possible := !a.metal || a.toe && a.heel
	if !possible && said == "yes" {
		return a, fmt.Errorf("no jumpers fit this wiring")
	}
	switch {
	case !possible:
		a.jumpers = "no"
	case said != "":
		a.jumpers = said
	default:
		a.jumpers = f.text("jumpers")
	}
	if a.jumpers == "" {
		a.jumpers = "unknown"
	}
	return a, nil
}

func oneOf(s string, of ...string) bool {
	for _, o := range of {
		if s == o {
			return true
		}
	}
	return false
}

// jumper joins what a jumper would, unless there is none.
func (b *builder) jumper(said string, x, y int) {
	if said != "no" {
		b.join(x, y, said == "yes")
	}
}

func (b *builder) turnout(e entry, f fields) error {
	left, right, leftRank, err := legNames(f.text("hand"))
	if err != nil {
		return err
	}
	a, err := readAnatomy(f)
	if err != nil {
		return err
	}
	length, err := b.pieceLength(f)
	if err != nil {
		return err
	}
	var sl, sr, bl, br, cl, cr, frog, il, ir int
	for _, n := range []*int{&sl, &sr, &bl, &br, &cl, &cr, &frog, &il, &ir} {
		*n = b.node()
	}
	p := b.addPiece(piece{name: e.name, kind: "turnout", length: length})
	b.addEnd(p, "points", sl, sr, true, -1)
	b.addEnd(p, left, sl, il, false, 1)
	b.addEnd(p, right, ir, sr, false, 0)
	b.pieces[p].rails = []pieceRail{{sl, length, nil}, {sr, length, nil}}
	setLeft := setting{name: left, routes: [][2]string{{"points", left}}, rank: leftRank}
	setRight := setting{name: right, routes: [][2]string{{"points", right}}, rank: 1 - leftRank}
	setLeft.wheels = []wheelPath{{near: []int{sr, br, cr}, beyond: []int{il}, end: left}}
	setRight.wheels = []wheelPath{{near: []int{sl, bl, cl}, beyond: []int{ir}, end: right}}
	if a.metal && a.frogFrom != "device" {
		setLeft.wheels[0].near = append(setLeft.wheels[0].near, frog)
		setRight.wheels[0].near = append(setRight.wheels[0].near, frog)
	}
	isLeft, isRight := uint64(1), uint64(2)
	b.pieces[p].settings = []setting{setLeft, setRight}
	if leftRank == 1 {
		isLeft, isRight = 2, 1
		b.pieces[p].settings = []setting{setRight, setLeft}
	}

	switch a.blades {
	case "stock":
		b.join(sl, bl, true)
		b.join(sr, br, true)
	case "each-other":
		b.join(bl, br, true)
	}
	if a.blades != "stock" {
		b.when(p, isLeft, br, sr)
		b.when(p, isRight, bl, sl)
	}
	if a.closures != "frog" {
		b.join(bl, cl, true)
		b.join(br, cr, true)
	}
	if a.metal && !a.toe {
		b.join(cl, frog, true)
		b.join(cr, frog, true)
	}
	if a.metal && !a.heel {
		b.join(frog, il, true)
		b.join(frog, ir, true)
	}
	b.jumper(a.jumpers, cl, ir)
	b.jumper(a.jumpers, cr, il)

	gets := map[string]string{left: "stock-right", right: "stock-left"}
	if typed := f.node("frog-gets"); typed != nil {
		if !a.metal || a.frogFrom == "device" {
			return fmt.Errorf("a frog of this wiring gets nothing by contacts")
		}
		for _, k := range pairsOf(typed) {
			if _, ok := gets[k.key]; !ok {
				return fmt.Errorf("frog-gets: no setting %s", k.key)
			}
			gets[k.key] = k.value.Value
		}
	} else if a.frogFrom != "contacts" {
		return nil
	}
	return b.contacts(p, frog, f, map[uint64]string{isLeft: gets[left], isRight: gets[right]},
		map[string]int{"stock-left": sl, "stock-right": sr}, pieceplace(e.name))
}

func pieceplace(name string) string { return name + " @ 0.00 m" }
