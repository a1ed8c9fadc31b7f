package oracle

import "slices"

// bar is a length of track between neighbouring places where something stands.
type bar struct {
	track    int
	from, to float64
	a, b     [2]int // by rail, the nodes at both ends
	ohms     interval
	run      int
}

// post is an end of a piece of track work, where a short may lie too.
type post struct {
	piece int
	end   string
	rails [2]int
}

// layRails lays the rails of every run from stop to stop.
func (e *electric) layRails() error {
	for r := range e.runs {
		ru := e.runs[r]
		stops := e.stops[r]
		slices.SortFunc(stops, func(x, y stop) int {
			if x.at < y.at {
				return -1
			}
			return 1
		})
		perMetre, known := readRail(e.trackFields[ru.track].text("rail")).ohmsPerMetre(e.room)
		here, at := e.newPair(), ru.s0
		e.endRails[ru.ends[0]] = here
		lay := func(to float64) {
			b := bar{track: ru.track, from: at, to: to, a: here, b: e.newPair(), ohms: perMetre.scaled(to - at), run: r}
			for rail := range 2 {
				i := e.put(b.a[rail], b.b[rail], b.ohms, ofRail, true)
				e.branches[i].assumed = !known
			}
			e.bars = append(e.bars, b)
			here, at = b.b, to
		}
		for i := range stops {
			lay(stops[i].at)
			stops[i].before, stops[i].after = here, here
			for rail := range 2 {
				for _, s := range e.seams.inRun[[2]int{r, rail}] {
					if near := s.at - stops[i].at; near <= tiny && near >= -tiny {
						stops[i].after[rail] = e.newNode()
						e.putSeam(here[rail], stops[i].after[rail], s.seam)
					}
				}
			}
			here = stops[i].after
		}
		lay(ru.s1)
		e.endRails[ru.ends[1]] = here
	}
	return nil
}

// layJoints joins the rails of ends that meet.
func (e *electric) layJoints() error {
	for j, jt := range e.joints {
		if e.atPit(j) {
			continue
		}
		kind := seam{kind: certainty[min(e.certaintyAt(jt.ends[0]), e.certaintyAt(jt.ends[1]))]}
		if jt.lift {
			kind.kind = "unknown"
		}
		for rail := range 2 {
			s, typed := e.seams.atJoint[[2]int{j, rail}]
			if !typed {
				s = kind
			}
			far := rail
			if jt.turned {
				far = 1 - rail
			}
			e.putSeam(e.endRails[jt.ends[0]][rail], e.endRails[jt.ends[1]][far], s)
		}
	}
	return nil
}

// certaintyAt is how certain the joints of an end's file are by default.
func (e *electric) certaintyAt(x int) int {
	file := 0
	if r := e.ends[x].run; r >= 0 {
		file = e.tracks[e.runs[r].track].file
	} else {
		file = e.pieceFile(e.pieces[e.ends[x].piece].name)
	}
	return slices.Index(certainty, e.defaultSeam(file))
}

// railBeside is the rail of the first track that a piece's ends meet.
func (e *electric) railBeside(p int) (ohms interval, known bool) {
	for _, x := range e.pieces[p].ends {
		if o, _ := e.other(x); o >= 0 && e.ends[o].run >= 0 {
			t := e.runs[e.ends[o].run].track
			return readRail(e.trackFields[t].text("rail")).ohmsPerMetre(e.room)
		}
	}
	return railKind{}.ohmsPerMetre(e.room)
}
