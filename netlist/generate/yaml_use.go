package generate

import "strconv"

// wheelsWords are the words of the language for layout.Wheels, by value.
var wheelsWords = [...]string{"", "metal", "plastic", "unknown"}

// blocks writes what the owner means: blocks and districts.
func (w *writer) blocks() {
	l := w.l
	w.section("blocks")
	for i := range l.Blocks {
		b := &l.Blocks[i]
		var covers []string
		for k := range b.Covers {
			covers = append(covers, b.Covers[k].Text)
		}
		f := fields{"covers: " + list(covers), "use: " + b.Use.String()}
		if b.Detector >= 0 {
			f.add("detector", l.Detectors[b.Detector].Name)
		}
		w.entry(b.Name, f)
	}
	w.section("districts")
	for i := range l.Districts {
		d := &l.Districts[i]
		var names []string
		for _, b := range d.Blocks {
			names = append(names, l.Blocks[b].Name)
		}
		w.entry(d.Name, fields{"from: " + d.From.Text, "blocks: " + list(names)})
	}
}

// trains writes how the layout is run, and the owner's rules of thumb.
func (w *writer) trains() {
	l := w.l
	w.section("trains")
	for i := range l.Trains {
		t := &l.Trains[i]
		w.entry(t.Name, fields{"length: " + t.Length.Text, "current: " + t.Current.Text, "at-once: " + strconv.Itoa(t.AtOnce), "wheels: " + wheelsWords[t.Wheels]})
	}
	o := &l.Operations
	w.line("operations: ", fields{"at-once: " + strconv.Itoa(o.AtOnce), "pickup: " + o.Pickup.Text, "wheels: " + wheelsWords[o.Wheels]}.String())
	w.section("practice")
	for _, p := range l.Practices {
		w.line("  - ", p.Name)
	}
}
