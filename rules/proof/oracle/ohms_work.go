package oracle

// work is a piece of track work while its rails are laid.
type work struct {
	e       *electric
	p       int
	rail    interval // ohms of the piece's whole length of rail
	assumed bool
}

// layWork lays the rails of every piece, from tables of the pieces' anatomy.
func (e *electric) layWork() error {
	for p := range e.pieces {
		f := e.pieceFields[p]
		w := work{e: e, p: p}
		perMetre, known := e.railBeside(p)
		length := exactly(e.pieces[p].length)
		if e.pieces[p].bridge > 0 {
			length = exactly(e.pieces[p].bridge)
		}
		w.assumed = !known || length.lo == 0
		if length.lo == 0 {
			length = pieceMetres
		}
		w.rail = perMetre.times(length)
		var err error
		switch e.pieces[p].kind {
		case "turnout":
			err = w.turnout(f)
		case "three-way":
			w.threeWay(f)
		case "crossing", "slip":
			w.crossing(f)
		default:
			err = w.table(f)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// bar lays a share of the piece's length of rail and gives its far node.
func (w *work) bar(from int, share float64) int {
	to := w.e.newNode()
	at := w.e.put(from, to, w.rail.scaled(share), ofRail, true)
	w.e.branches[at].assumed = w.assumed
	return to
}

// tie joins two rails by a wire.
func (w *work) tie(a, b int) { w.e.put(a, b, spliceOhms, ofRail, true) }

// jumper is a tie that may not be there.
func (w *work) jumper(said string, a, b int) {
	if said != "no" {
		w.e.put(a, b, spliceOhms, ofRail, said == "yes")
	}
}

// end says which nodes an end has.
func (w *work) end(name string, left, right int) {
	x := w.e.pieceEnd(w.p, name)
	w.e.endRails[x] = [2]int{left, right}
	w.e.posts = append(w.e.posts, post{w.p, name, w.e.endRails[x]})
}

// in is the set of positions of one name.
func (w *work) in(name string) uint64 {
	var in uint64
	for i, s := range w.e.pieces[w.p].settings {
		if s.name == name && !s.passing {
			in |= 1 << i
		}
	}
	return in
}

// turnout: stock rails whole, closure rails with their blades half the length, and as much beyond the frog.
func (w *work) turnout(f fields) error {
	left, right, _, err := legNames(f.text("hand"))
	if err != nil {
		return err
	}
	a, err := readAnatomy(f)
	if err != nil {
		return err
	}
	e := w.e
	sl, sr, bl, br, frog := e.newNode(), e.newNode(), e.newNode(), e.newNode(), e.newNode()
	slFar, srFar := w.bar(sl, 1), w.bar(sr, 1)
	switch a.blades {
	case "stock":
		w.tie(sl, bl)
		w.tie(sr, br)
	case "each-other":
		w.tie(bl, br)
	}
	if a.blades != "stock" {
		touch := amount(f.text("blade-contact"), ohmUnits).or(bladeOhms)
		e.putIn(w.p, w.in(left), br, sr, touch, ofRail)
		e.putIn(w.p, w.in(right), bl, sl, touch, ofRail)
	}
	cl, cr, ilNear, irNear := frog, frog, frog, frog
	if !a.metal || a.toe {
		cl, cr = e.newNode(), e.newNode()
	}
	if !a.metal || a.heel {
		ilNear, irNear = e.newNode(), e.newNode()
	}
	if a.closures != "frog" {
		for _, c := range [][2]int{{bl, cl}, {br, cr}} {
			at := e.put(c[0], c[1], w.rail.scaled(0.5), ofRail, true)
			e.branches[at].assumed = w.assumed
		}
	}
	w.jumper(a.jumpers, cl, irNear)
	w.jumper(a.jumpers, cr, ilNear)
	il, ir := w.bar(ilNear, 0.5), w.bar(irNear, 0.5)
	w.end("points", sl, sr)
	w.end(left, slFar, il)
	w.end(right, ir, srFar)
	if !a.metal || a.frogFrom != "contacts" && f.node("frog-gets") == nil {
		return nil
	}
	gets := map[string]string{left: "stock-right", right: "stock-left"}
	for _, k := range pairsOf(f.node("frog-gets")) {
		gets[k.key] = k.value.Value
	}
	var tap *[2]int
	for _, name := range []string{left, right} {
		from := -1
		switch word := gets[name]; word {
		case "stock-left":
			from = sl
		case "stock-right":
			from = sr
		case "A", "B":
			if tap == nil {
				nodes, err := e.sourceNodes(f.text("frog-from"))
				if err != nil {
					return err
				}
				tap = &nodes
			}
			leg, _ := legWord(word)
			from = tap[leg]
		}
		if from >= 0 {
			e.putIn(w.p, w.in(name), from, frog, contactOhms, ofRail)
		}
	}
	return nil
}

// threeWay: outer rails whole, the others half before their first frog and half beyond their last. The frogs
// are apart from all rails, so what they get changes no rail.
func (w *work) threeWay(f fields) {
	e := w.e
	said := f.text("jumpers")
	sl, sr := e.newNode(), e.newNode()
	// across lays a rail from the stock rail that it goes with over so many frogs.
	across := func(stock, frogs int) int {
		from := e.newNode()
		w.tie(stock, from)
		at := w.bar(from, 0.5)
		for range frogs {
			next := e.newNode()
			w.jumper(said, at, next)
			at = next
		}
		return w.bar(at, 0.5)
	}
	w.end("points", sl, sr)
	w.end("left", w.bar(sl, 1), across(sr, 2))
	w.end("straight", across(sl, 1), across(sr, 1))
	w.end("right", across(sl, 2), w.bar(sr, 1))
}

// crossing: four through rails, tied in their middles where a slip or joined frogs tie them. The wires through it
// are its jumpers, there unless it says otherwise.
func (w *work) crossing(f fields) {
	e := w.e
	var near, mid, far [4]int // ac left, ac right, db left, db right
	for i := range near {
		near[i] = e.newNode()
		mid[i], far[i] = w.bar(near[i], 0.5), e.newNode()
		if said := f.text("jumpers"); said != "no" {
			at := e.put(mid[i], far[i], w.rail.scaled(0.5), ofRail, said != "unknown")
			e.branches[at].assumed = w.assumed
		}
	}
	w.end("a", near[0], near[1])
	w.end("b", far[2], far[3])
	w.end("c", far[0], far[1])
	w.end("d", near[2], near[3])
	if f.text("slip") != "" {
		w.tie(mid[0], mid[2])
		w.tie(mid[1], mid[3])
	}
	if f.text("wiring") == "joined" {
		for _, ac := range mid[:2] {
			for _, db := range mid[2:] {
				w.tie(ac, db)
			}
		}
	}
}

// table: a bridge whose rails are fed in their middles by rings, in the settings that the pieces' tables say.
func (w *work) table(f fields) error {
	e := w.e
	tap, err := e.sourceNodes(f.text("from"))
	if err != nil {
		return err
	}
	legs, _, err := e.tableFeed(f)
	if err != nil {
		return err
	}
	var mid [2]int
	var tail, head [2]int
	for rail := range 2 {
		mid[rail] = e.newNode()
		tail[rail] = w.bar(mid[rail], 0.5)
		head[rail] = w.bar(mid[rail], 0.5)
	}
	e.posts = append(e.posts, post{w.p, "tail", tail}, post{w.p, "head", head})
	for _, x := range e.pieces[w.p].ends { // an approach's rails end at the pit
		e.endRails[x] = e.newPair()
	}
	var in [2][2]uint64 // by rail and leg
	for _, c := range e.conductors {
		if c.piece != w.p {
			continue
		}
		rail := 0
		for _, x := range e.edges {
			if x.piece == w.p && x.right == c.a {
				rail = 1
			}
		}
		for _, h := range e.hung {
			if h.node != c.b {
				continue
			}
			leg := 0
			if h.terminal == legs[1] {
				leg = 1
			}
			in[rail][leg] |= c.in
		}
	}
	for rail := range 2 {
		for leg := range 2 {
			if in[rail][leg] != 0 && tap[leg] >= 0 {
				e.putIn(w.p, in[rail][leg], tap[leg], mid[rail], ringOhms, ofDevice)
			}
		}
	}
	return nil
}
