package reader

// link resolves `like` and then reports what every entry lacks.
func (r *reader) link() {
	for k := range r.byThing {
		for _, rec := range r.byThing[k] {
			r.linkOne(rec)
		}
	}
	r.linkFeeders()
	for k := range r.byThing {
		r.breakCycles(r.byThing[k])
	}
	feeders := make([]*record, len(r.railEntries))
	for i := range r.railEntries {
		feeders[i] = r.railEntries[i].rec
	}
	r.breakCycles(feeders)
	for k := range r.byThing {
		r.limitCopies(r.byThing[k])
	}
	r.limitCopies(feeders)
	for k := range r.byThing {
		for _, rec := range r.byThing[k] {
			r.require(rec)
		}
	}
}

// maxCopies is how many entries may copy one another in a row.
const maxCopies = 20

// limitCopies cuts chains of copies that are longer than anybody types. It looks at
// entries in order, so that what an entry copies is cut before it where it can be.
func (r *reader) limitCopies(recs []*record) {
	for _, rec := range recs {
		n := 0
		for c := rec.copied; c != nil && n <= maxCopies; c = c.copied {
			n++
		}
		if n > maxCopies {
			r.blamef(rec.at("like"), "over the bound, %d copies of copies", maxCopies)
			rec.copied, rec.bad = nil, true
		}
	}
}

// linkOne finds what an entry is like.
func (r *reader) linkOne(rec *record) {
	t, ok := get[text](rec, "like")
	if !ok {
		return
	}
	i, found := r.lookup(rec.section.thing, rec.unit, t)
	if !found {
		rec.bad = true
		return
	}
	other := r.byThing[rec.section.thing][i]
	if other.section != rec.section {
		r.blame(t, problem{message: t.s + " is " + other.section.noun + "; `like` copies " + rec.section.noun})
		rec.bad = true
		return
	}
	rec.copied = other
}

// linkFeeders finds the feeder, by name, that a feeder is like.
func (r *reader) linkFeeders() {
	byName := map[string]*record{}
	for i := range r.railEntries {
		if rec := r.railEntries[i].rec; rec.section == feederSection && rec.name.s != "" && byName[rec.full] == nil {
			byName[rec.full] = rec
		}
	}
	for i := range r.railEntries {
		rec := r.railEntries[i].rec
		t, ok := get[text](rec, "like")
		if !ok || rec.section != feederSection {
			continue
		}
		if other := byName[rec.unit.prefix+t.s]; other != nil {
			rec.copied = other
			continue
		}
		r.unknownName(feederThing, rec.unit, t)
		rec.bad = true
	}
}

// breakCycles reports entries that copy each other round in a ring, each ring once.
func (r *reader) breakCycles(recs []*record) {
	state := make(map[*record]int, len(recs))
	for i, first := range recs {
		for rec := first; rec != nil && state[rec] == 0; rec = rec.copied {
			state[rec] = i + 1
			if next := rec.copied; next != nil && state[next] == i+1 {
				chain := next.name.s
				for c := next.copied; c != next; c = c.copied {
					chain += " > " + c.name.s
				}
				r.blamef(rec.at("like"), "`like` goes round: %s > %s", chain, next.name.s)
				for c := next; c != nil; {
					c.bad = true
					after := c.copied
					c.copied = nil
					c = after
				}
			}
		}
	}
}
