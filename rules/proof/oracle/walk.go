package oracle

// walker stands in a run and looks along it, or at an end and looks into what the
// end belongs to (run -1).
type walker struct {
	run  int
	at   float64
	back bool
	end  int
}

// beyond looks over the joint of an end; ok is false where there is nothing.
func (l *Layout) beyond(e int) (walker, bool) {
	j := l.ends[e].joint
	if j < 0 {
		return walker{}, false
	}
	o := l.joints[j].ends[0] + l.joints[j].ends[1] - e
	return l.into(o), true
}

func (l *Layout) into(e int) walker {
	if r := l.ends[e].run; r >= 0 {
		if l.ends[e].start {
			return walker{r, l.runs[r].s0, false, e}
		}
		return walker{r, l.runs[r].s1, true, e}
	}
	return walker{-1, 0, false, e}
}

// served says whether a vehicle that stands here may go on: with the pieces lying
// so, no leg lies ahead that the setting does not use, up to where both rails are
// cut or the track ends. Pieces at -1 lie as it likes.
func (l *Layout) served(from walker, lie []int) bool {
	return l.walk(from, lie, func(int) {})
}

// walk is served, telling the pieces that it comes through.
func (l *Layout) walk(from walker, lie []int, met func(piece int)) bool {
	var parted [2]bool
	w := from
	for range 4 * (len(l.ends) + 1) {
		var out int
		if w.run >= 0 {
			r := l.runs[w.run]
			for rail := range 2 {
				for _, c := range r.cuts[rail] {
					if c.conducts == open && (w.back && c.at < w.at-tiny || !w.back && c.at > w.at+tiny) {
						parted[rail] = true
					}
				}
			}
			out = r.ends[1]
			if w.back {
				out = r.ends[0]
			}
		} else {
			met(l.ends[w.end].piece)
			next, use := l.through(w.end, lie)
			if !use {
				return false
			}
			if next < 0 {
				return true
			}
			out = next
		}
		if parted[0] && parted[1] || l.ends[out].pit {
			return true
		}
		j := l.ends[out].joint
		if j < 0 {
			return true
		}
		jt := l.joints[j]
		for rail := range 2 {
			if jt.rails[rail].conducts == open {
				if jt.turned && jt.ends[0] != out {
					parted[1-rail] = true
				} else {
					parted[rail] = true
				}
			}
		}
		if parted[0] && parted[1] {
			return true
		}
		if jt.turned {
			parted[0], parted[1] = parted[1], parted[0]
		}
		w, _ = l.beyond(out)
	}
	return true
}

// through finds the end where a vehicle leaves a piece that it entered at e; -1
// where that is open. use is false where the piece lies against it.
func (l *Layout) through(e int, lie []int) (out int, use bool) {
	p := l.ends[e].piece
	if l.ends[e].pit {
		return -1, true
	}
	settings := l.pieces[p].settings
	if lie[p] >= 0 {
		settings = settings[lie[p] : lie[p]+1]
	}
	found := -1
	for _, s := range settings {
		for _, r := range s.routes {
			to := ""
			switch l.ends[e].name {
			case r[0]:
				to = r[1]
			case r[1]:
				to = r[0]
			default:
				continue
			}
			o := l.endOf(p, to)
			if found >= 0 && found != o {
				return -1, true
			}
			found = o
		}
	}
	return found, found >= 0
}

func (l *Layout) endOf(p int, name string) int {
	for _, e := range l.pieces[p].ends {
		if l.ends[e].name == name {
			return e
		}
	}
	return -1
}
