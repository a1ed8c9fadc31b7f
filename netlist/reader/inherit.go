package reader

// find is the value of a key: the record's own, its group's, the copied entry's, or the
// default of its file; nil when nobody said.
func (rec *record) find(name string) *val {
	i, ok := rec.section.index[name]
	if !ok {
		return nil
	}
	k := &rec.section.keys[i]
	for from := rec; from != nil; from = from.copied {
		if v := &from.vals[i]; v.set && (from == rec || !k.own) {
			return v
		}
		if g := from.beside; g != nil && g.vals[i].set && (from == rec || !k.own) {
			return &g.vals[i]
		}
	}
	if k.own || rec.section.defaults == "" {
		return nil
	}
	for u := rec.unit; u != nil; u = u.outer {
		if d := u.defaults[rec.section.defaults]; d != nil && d.vals[i].set {
			return &d.vals[i]
		}
		if !k.lent {
			break
		}
	}
	return nil
}

// borrowed reports whether a value found for rec is a default of a file that includes
// rec's own.
func (rec *record) borrowed(v *val) bool {
	for u := rec.unit.outer; u != nil; u = u.outer {
		if d := u.defaults[rec.section.defaults]; d != nil && within(d.vals, v) {
			return true
		}
	}
	return false
}

// set reports whether a key was typed, copied or has a default, well or badly.
func (rec *record) set(name string) bool { return rec.find(name) != nil }

// require reports the required keys that nobody said.
func (r *reader) require(rec *record) bool {
	ok := true
	for i := range rec.section.keys {
		k := &rec.section.keys[i]
		if !k.required {
			continue
		}
		switch v := rec.find(k.name); {
		case v != nil && v.ok:
		case v != nil || rec.excused(k.name):
			ok = false
		default:
			ok = false
			r.blame(rec.place(), problem{message: k.missing(), expected: k.askedFor()})
		}
	}
	return ok
}

// inDoubt reports whether keys may be missing, of the record or of what it copies,
// because of a mistake that was reported.
func (rec *record) inDoubt() bool {
	for c := rec; c != nil; c = c.copied {
		if c.bad || c.beside != nil && c.beside.bad {
			return true
		}
		if i, ok := c.section.index["like"]; ok && c.vals[i].set && !c.vals[i].ok {
			return true
		}
	}
	if rec.section.defaults == "" {
		return false
	}
	d := rec.unit.defaults[rec.section.defaults]
	return rec.unit.lostDefaults || d != nil && d.bad
}

// excused reports whether a key was not understood, or may be missing, because of a
// mistake that was reported.
func (rec *record) excused(name string) bool {
	if v := rec.find(name); v != nil {
		return !v.ok
	}
	return rec.inDoubt()
}

func (k *key) askedFor() string {
	if k.ask != "" {
		return k.hint
	}
	return k.expected()
}

// place is where the record is blamed as a whole: its name, or its first key.
func (rec *record) place() text {
	if rec.name.pos.IsValid() {
		return rec.name
	}
	return nodeText(rec.node)
}
