package oracle

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gopkg.in/yaml.v3"
)

// seam is how a joint in one rail conducts, by its kind.
type seam struct {
	kind string   // soldered, plain, unknown, sliding, bonded, bridged; open for a gap or cut
	ohms interval // of what bridges it
}

// certainty orders the kinds of joint that defaults know.
var certainty = []string{"unknown", "plain", "soldered"}

// seams are the joints that were read, by where they are.
type seams struct {
	inRun   map[[2]int][]seamAt // by run and rail
	atJoint map[[2]int]seam     // by joint and rail of its first end
}

type seamAt struct {
	at float64
	seam
}

// stop is a place in a run where something stands, in either rail.
type stop struct {
	at            float64
	before, after [2]int
}

// hang is a feeder that waits for the rails to be laid.
type hang struct {
	name    string
	spot    spot
	rail    int // of leg A
	rails   [2]bool
	from    [2]int
	size    wireSize
	known   bool
	length  interval
	assumed bool
	sure    bool
}

// strap is a bond that waits for the rails to be laid.
type strap struct {
	from, to spot
	ways     [][2]int
	ohms     interval
	assumed  bool
}

// mark notes that something stands at a place in a run.
func (e *electric) mark(s spot) {
	if s.run < 0 {
		return
	}
	if !slices.ContainsFunc(e.stops[s.run], func(x stop) bool { return math.Abs(x.at-s.at) <= tiny }) {
		e.stops[s.run] = append(e.stops[s.run], stop{at: s.at})
	}
}

// readSeams reads joints and gaps once more, for what they are made of.
func (e *electric) readSeams() error {
	e.seams = &seams{map[[2]int][]seamAt{}, map[[2]int]seam{}}
	for _, section := range []string{"gaps", "joints"} {
		for _, x := range e.doc.sections[section] {
			for _, item := range items(x.node) {
				if err := e.readSeam(section, x, item); err != nil {
					return fmt.Errorf("%s of %s: %w", section, x.name, err)
				}
			}
		}
	}
	for t := range e.tracks {
		if err := e.usualSeams(t); err != nil {
			return err
		}
	}
	return nil
}

func (e *electric) readSeam(section string, x entry, item *yaml.Node) error {
	f := e.doc.mapFields(map[string]string{"gaps": "gap", "joints": "joint"}[section], x.file, item)
	where := item.Value
	if n := f.own["at"]; n != nil {
		where = n.Value
	}
	kind := seam{kind: f.text("kind")}
	if section == "gaps" {
		switch by := f.text("bridged-by"); {
		case by != "":
			part, ok := e.doc.find("in-line", by)
			if !ok {
				return fmt.Errorf("no in-line part %s", by)
			}
			pf, err := e.doc.fields("in-line", "in-line", part)
			if err != nil {
				return err
			}
			kind = seam{"bridged", inLineOhms(pf)}
		case f.text("kind") == "expansion" && f.text("joint") != "cut":
			kind.kind = f.text("joint")
		default:
			kind.kind = "open"
		}
	}
	rails := f.text("rails")
	if rails == "" {
		rails = "both"
	}
	var spots []spot
	if t := e.trackNamed(x.name); t >= 0 {
		ats, err := e.row(t, where, fieldText(item, "every"))
		if err != nil {
			return err
		}
		for _, at := range ats {
			s, err := e.trackSpot(t, at)
			if err != nil {
				return err
			}
			spots = append(spots, s)
		}
	} else {
		s, err := e.groupSpot(x.name, where)
		if err != nil {
			return err
		}
		spots = append(spots, s)
	}
	for _, s := range spots {
		which, err := e.cutRails(s, rails, x.name)
		if err != nil {
			return err
		}
		for _, rail := range which {
			if s.run >= 0 {
				key := [2]int{s.run, rail}
				e.seams.inRun[key] = append(e.seams.inRun[key], seamAt{s.at, kind})
				e.mark(s)
				continue
			}
			j := e.ends[s.end].joint
			if j < 0 {
				continue
			}
			if jt := e.joints[j]; jt.turned && jt.ends[0] != s.end {
				rail = 1 - rail
			}
			e.seams.atJoint[[2]int{j, rail}] = kind
		}
	}
	return nil
}

// defaultSeam is the kind of joint that a file's defaults say.
func (e *electric) defaultSeam(file int) string {
	if kind := fieldText(e.doc.defaults[file]["joint"], "kind"); slices.Contains(certainty, kind) {
		return kind
	}
	return "unknown"
}

// usualSeams sets the joints that defaults put every so often along a track, where none was typed.
func (e *electric) usualSeams(t int) error {
	file := e.tracks[t].file
	every := fieldText(e.doc.defaults[file]["joint"], "every")
	if every == "" {
		return nil
	}
	step := lengthOf(every)
	if !step.known() || step.lo <= e.tracks[t].length/mostInRow {
		return fmt.Errorf("no step %q", every)
	}
	for _, r := range e.tracks[t].runs {
		for i := 1; float64(i)*step.lo < e.runs[r].s1-tiny; i++ {
			at := float64(i) * step.lo
			if at <= e.runs[r].s0+tiny {
				continue
			}
			for rail := range 2 {
				key := [2]int{r, rail}
				if !slices.ContainsFunc(e.seams.inRun[key], func(s seamAt) bool { return math.Abs(s.at-at) <= tiny }) {
					e.seams.inRun[key] = append(e.seams.inRun[key], seamAt{at, seam{kind: e.defaultSeam(file)}})
					e.mark(spot{r, at, -1})
				}
			}
		}
	}
	return nil
}

// putSeam joins two nodes as a joint does.
func (e *electric) putSeam(a, b int, s seam) {
	switch s.kind {
	case "soldered", "bonded":
		e.put(a, b, solderedOhms, ofRail, true)
	case "plain":
		e.put(a, b, joinerOhms, ofRail, !slices.Contains(e.doc.practice, "joiners-not-trusted"))
	case "sliding":
		e.put(a, b, slidingOhms, ofRail, false)
	case "bridged":
		e.put(a, b, s.ohms, ofDevice, true)
	case "open":
	default:
		e.put(a, b, joinerOhms, ofRail, false)
	}
}

// readHangs reads the feeders once more, for their wire.
func (e *electric) readHangs() error {
	for _, x := range e.doc.sections["feeders"] {
		for _, at := range pairsOf(x.node) {
			if slices.Contains(groupWords, at.key) {
				continue
			}
			for _, item := range items(at.value) {
				if err := e.readHang(x, at.key, item); err != nil {
					return fmt.Errorf("feeder %s @ %s: %w", x.name, at.key, err)
				}
			}
		}
	}
	return nil
}

func (e *electric) readHang(x entry, where string, item *yaml.Node) error {
	if field(item, "every") != nil {
		return fmt.Errorf("a row: write the layout flat")
	}
	f := e.doc.mapFields("feeder", x.file, item, x.node)
	if f.text("broken") == "yes" {
		return nil
	}
	h := hang{rails: [2]bool{true, true}, sure: f.text("broken") != "unknown", from: nowhere}
	if n := field(item, "from"); n != nil || item.Kind != yaml.MappingNode {
		text := item.Value
		if n != nil {
			text = n.Value
		}
		var err error
		if h.from, err = e.sourceNodes(text); err != nil {
			return err
		}
	}
	for leg, key := range []string{"A-from", "B-from"} {
		if text := f.text(key); text != "" {
			own, err := e.sourceNodes(text)
			if err != nil {
				return err
			}
			h.from[leg] = own[leg]
		}
	}
	var err error
	if h.rail, err = railWord(f.text("A")); err != nil {
		return err
	}
	if only, err := railWord(f.text("rails")); err == nil {
		h.rails[1-only] = false
	}
	if h.spot, err = e.groupSpot(x.name, where); err != nil {
		return err
	}
	h.name = "feeder " + e.label(h.spot)
	if h.size, h.known = readWire(f.text("wire")); !h.known {
		h.size = gauges(feederGauges)
	}
	long := lengthOf(f.text("length"))
	h.length, h.assumed = long.or(feederMetres), !h.known || !long.known()
	e.mark(h.spot)
	e.hangs = append(e.hangs, h)
	return nil
}

func (e *electric) readStraps() error {
	for _, x := range e.doc.sections["bonds"] {
		from, err := e.freeSpot(fieldText(x.node, "from"))
		if err != nil {
			return err
		}
		to, err := e.freeSpot(fieldText(x.node, "to"))
		if err != nil {
			return err
		}
		s := strap{from: from, to: to, ways: [][2]int{{0, 0}, {1, 1}}}
		if rails := words(field(x.node, "rails")); len(rails) == 2 {
			here, err1 := railWord(rails[0])
			there, err2 := railWord(rails[1])
			if err := cmp.Or(err1, err2); err != nil {
				return err
			}
			s.ways = [][2]int{{here, there}}
		}
		size, known := readWire(fieldText(x.node, "wire"))
		if !known {
			size = gauges(feederGauges)
		}
		long := lengthOf(fieldText(x.node, "length"))
		s.ohms = size.ohmsPerMetre(e.room).times(long.or(feederMetres)).plus(spliceOhms.scaled(2))
		s.assumed = !known || !long.known()
		e.mark(from)
		e.mark(to)
		e.straps = append(e.straps, s)
	}
	return nil
}

// railNodeAt is the node of a rail at a spot.
func (e *electric) railNodeAt(s spot, rail int) int {
	if s.run < 0 {
		return e.endRails[s.end][rail]
	}
	at := slices.IndexFunc(e.stops[s.run], func(x stop) bool { return math.Abs(x.at-s.at) <= tiny })
	return e.stops[s.run][at].before[rail]
}

func (e *electric) hangAll() error {
	for _, h := range e.hangs {
		for rail := range 2 {
			leg := 0
			if rail != h.rail {
				leg = 1
			}
			if !h.rails[rail] {
				continue
			}
			if h.from[leg] < 0 {
				return fmt.Errorf("%s: no leg %s there", h.name, []string{"A", "B"}[leg])
			}
			ohms := h.size.ohmsPerMetre(e.room).times(h.length).plus(spliceOhms.scaled(2))
			n := e.railNodeAt(h.spot, rail)
			at := e.put(h.from[leg], n, ohms, ofFeeder, h.sure)
			e.branches[at].assumed = h.assumed
			if h.known {
				e.branches[at].wire = &wireAt{h.name, 0, leg, h.size, [2]int{h.from[1-leg], e.railNodeAt(h.spot, 1-rail)}}
			}
		}
	}
	return nil
}

func (e *electric) strapAll() error {
	for _, s := range e.straps {
		for _, w := range s.ways {
			at := e.put(e.railNodeAt(s.from, w[0]), e.railNodeAt(s.to, w[1]), s.ohms, ofFeeder, true)
			e.branches[at].assumed = s.assumed
		}
	}
	return nil
}
