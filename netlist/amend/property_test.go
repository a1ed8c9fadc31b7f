package amend

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/format"
	"gapwise/netlist/generate"
	"gapwise/netlist/layout"
	"gapwise/netlist/quantity"
	"gapwise/netlist/reader"
	"gapwise/netlist/source"
	"gapwise/netlist/tree"

	"pgregory.net/rapid"
)

// sample is a layout's files by name.
type sample struct {
	root  string
	files map[string]string
}

// samples are the layouts of the project and some that are generated.
func samples(t *testing.T) []sample {
	t.Helper()
	var all []sample
	roots, err := filepath.Glob("../../testdata/*/*sound.yaml")
	if err != nil || len(roots) < 5 {
		t.Fatal(roots, err)
	}
	for _, root := range append(roots, "../reader/testdata/language/pieces.yaml") {
		s := sample{root: filepath.Base(root), files: map[string]string{}}
		beside, err := filepath.Glob(filepath.Join(filepath.Dir(root), "*.yaml"))
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range beside {
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			s.files[filepath.Base(name)] = string(text)
		}
		all = append(all, s)
	}
	for seed := range uint64(3) {
		all = append(all, sample{"town.yaml", map[string]string{"town.yaml": string(generate.YAML(generate.Layout(150, seed)))}})
	}
	return all
}

// wish is one random change with what it may make different.
type wish struct {
	make    func(*Writer)
	differs []string     // patterns of paths in the layout
	lines   []source.Pos // of the entries that may change
	within  []string     // keys of what gets a new entry, from the file's down
	check   func(was, is *layout.Layout) string
}

// wishes draws changes to a layout, no two of them to one key.
func wishes(t *rapid.T, l *layout.Layout) []wish {
	var all []wish
	taken := map[string]bool{}
	for n := range rapid.IntRange(1, 6).Draw(t, "changes") {
		w, name := oneWish(t, l, n)
		if name != "" && !taken[name] {
			taken[name] = true
			all = append(all, w)
		}
	}
	return all
}

func oneWish(t *rapid.T, l *layout.Layout, n int) (wish, string) {
	index := func(n int) int32 { return int32(rapid.IntRange(0, n-1).Draw(t, "index")) }
	wire := rapid.SampledFrom([]string{"13 AWG", "2.5 mm²", "9 AWG"}).Draw(t, "wire")
	area, bad := quantity.ParseWire(wire, source.Pos{})
	if bad != nil {
		t.Fatalf("%v", bad)
	}
	switch kind := rapid.IntRange(0, 5).Draw(t, "kind"); {
	case kind == 0 && len(l.Buses) > 0:
		i := index(len(l.Buses))
		b := &l.Buses[i]
		same := copiesOf(l, b.Pos, func(i int) *layout.Entry { return &l.Buses[i].Entry }, len(l.Buses))
		if likeBus(l, b) {
			return wish{}, ""
		}
		return wish{
			make: func(w *Writer) {
				for _, i := range same {
					w.Set("buses", l.Buses[i].Name, Key{"wire", wire})
				}
			},
			differs: paths("Buses", same, `Wire.*`),
			lines:   []source.Pos{b.Pos},
			check: func(_, is *layout.Layout) string {
				if is.Buses[i].Wire.Lo != area.Lo || is.Buses[i].Wire.Hi != area.Hi {
					return "bus " + b.Name + " has another wire"
				}
				return ""
			},
		}, fmt.Sprint("bus ", b.Pos)
	case kind == 1 && len(l.Breakers) > 0:
		i := index(len(l.Breakers))
		b := &l.Breakers[i]
		if slices.ContainsFunc(l.Breakers, func(o layout.Breaker) bool { return o.TripTime.Pos == b.TripTime.Pos && o.Pos != b.Pos }) {
			return wish{}, ""
		}
		same := copiesOf(l, b.Pos, func(i int) *layout.Entry { return &l.Breakers[i].Entry }, len(l.Breakers))
		return wish{
			make: func(w *Writer) {
				for _, i := range same {
					w.Set("breakers", l.Breakers[i].Name, Key{"trip-time", "unknown"})
				}
			},
			differs: paths("Breakers", same, `TripTime.*`),
			lines:   []source.Pos{b.Pos},
			check: func(_, is *layout.Layout) string {
				if is.Breakers[i].TripTime.State != quantity.Unknown {
					return "breaker " + b.Name + " trips in a known time"
				}
				return ""
			},
		}, fmt.Sprint("breaker ", b.Pos)
	case kind <= 3 && len(l.Feeders) > 0:
		i := index(len(l.Feeders))
		f := &l.Feeders[i]
		all := feedersAt(l, i, kind == 3)
		place := feedersAt(l, i, true)
		differs := paths("Feeders", all, `Wire.*`)
		if kind == 2 {
			differs = append(differs, paths("Feeders", atPlace(l, f.Place.Pos), `Row\..*`, `Place\.Text`, `Place\.At\.Text`, `Place\.FromEnd`, `From\[.\]\.Text`, `From\[.\]\.At\.Text`)...)
			differs = append(differs, `Accepts\[\d+\]\..*`)
		}
		return wish{
			make: func(w *Writer) {
				for _, m := range all {
					if kind == 3 {
						w.SetRow(m, Key{"wire", wire})
					} else {
						w.SetFeeder(m, Key{"wire", wire})
					}
				}
			},
			differs: differs,
			lines:   []source.Pos{f.Place.Pos},
			check: func(_, is *layout.Layout) string {
				for _, m := range all {
					if is.Feeders[m].Wire.Lo != area.Lo {
						return "feeder " + f.Place.Text + " has another wire"
					}
				}
				return ""
			},
		}, fmt.Sprint("feeders ", place[0], f.Place.Pos)
	case kind == 4:
		name := fmt.Sprint("fresh", n)
		return wish{
			make: func(w *Writer) {
				w.Add("supplies", name, "{volts: 16 V, rating: 3 A}")
			},
			differs: []string{"Supplies"},
			within:  []string{"supplies"},
			check: func(was, is *layout.Layout) string {
				for i := range was.Supplies {
					if is.Supplies[i].Name != was.Supplies[i].Name {
						return "supplies moved"
					}
				}
				if !slices.ContainsFunc(is.Supplies, func(s layout.Supply) bool { return s.Name == name && s.Rating.Lo == 3 }) {
					return "no supply " + name
				}
				return ""
			},
		}, "supplies" + name
	case kind == 5:
		i := index(len(l.Tracks))
		tr := &l.Tracks[i]
		if len(tr.Stands) > 0 || !tr.Length.Known() || tr.Closed {
			return wish{}, ""
		}
		at := tr.Length.Lo * float64(rapid.IntRange(1, 12).Draw(t, "share")) / 13
		return wish{
			make: func(w *Writer) {
				w.AddPlaced("joints", tr.Name, fmt.Sprintf("%.4f m", at), "{kind: plain, label: new}")
			},
			differs: []string{"Joints", `UncertainOrders.*`},
			within:  []string{"joints", tr.Name},
			check: func(_, is *layout.Layout) string {
				for _, j := range is.Joints {
					if j.Label == "new" && is.Pieces[j.Place.Piece].Name == tr.Name && j.Place.At.Lo-at < 1e-4 && at-j.Place.At.Lo < 1e-4 && j.Kind == layout.Plain {
						return ""
					}
				}
				return "no joint at " + fmt.Sprint(at)
			},
		}, "track " + tr.Name
	}
	return wish{}, ""
}

// likeBus reports whether another bus copies what b says.
func likeBus(l *layout.Layout, b *layout.Bus) bool {
	return slices.ContainsFunc(l.Buses, func(o layout.Bus) bool { return o.Pos != b.Pos && o.Wire.Pos.IsValid() && o.Wire.Pos == b.Wire.Pos })
}

// copiesOf are the entries that stand at one place of the text.
func copiesOf(_ *layout.Layout, at source.Pos, entry func(int) *layout.Entry, n int) []int32 {
	var same []int32
	for i := range n {
		if entry(i).Pos == at {
			same = append(same, int32(i))
		}
	}
	return same
}

// atPlace are the feeders at one place of the text.
func atPlace(l *layout.Layout, at source.Pos) []int32 {
	var all []int32
	for i := range l.Feeders {
		if l.Feeders[i].Place.Pos == at {
			all = append(all, int32(i))
		}
	}
	return all
}

// feedersAt are the feeders that are one in the text: the copies of one, or of its row.
func feedersAt(l *layout.Layout, feeder int32, row bool) []int32 {
	type id struct{ entry, number int }
	ids := map[int32]id{}
	n, piece := 0, layout.PieceID(-1)
	for _, i := range atPlace(l, l.Feeders[feeder].Place.Pos) {
		f := &l.Feeders[i]
		if f.Place.Piece != piece {
			n, piece = 0, f.Place.Piece
		}
		if f.Row.Number <= 1 {
			n++
		}
		ids[i] = id{n, f.Row.Number}
	}
	var all []int32
	for _, i := range atPlace(l, l.Feeders[feeder].Place.Pos) {
		if ids[i].entry == ids[feeder].entry && (row || ids[i].number == ids[feeder].number) {
			all = append(all, i)
		}
	}
	return all
}

func paths(slice string, indexes []int32, fields ...string) []string {
	var out []string
	for _, i := range indexes {
		for _, f := range fields {
			out = append(out, fmt.Sprintf(`%s\[%d\]\.%s`, slice, i, f))
		}
	}
	return out
}

// TestChangesAreAsAsked makes random changes to layouts in random styles. What was asked
// for, and nothing else, differs; lines of other entries stay byte for byte; the same
// changes again change nothing more; and the result can be formatted.
func TestChangesAreAsAsked(t *testing.T) {
	all := samples(t)
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(all).Draw(t, "layout")
		files := map[string]string{}
		for _, name := range sortedKeys(s.files) {
			files[name] = s.files[name]
			if rapid.Bool().Draw(t, "restyle") {
				files[name] = restyled(t, []byte(s.files[name]))
			}
		}
		was := read(t, files, s.root)
		asked := wishes(t, was)
		if len(asked) == 0 {
			return
		}
		w := New(was, reader.Options{})
		if rapid.Bool().Draw(t, "mark") {
			w.Mark = "changed"
		}
		var allowed []string
		for _, a := range asked {
			a.make(w)
			allowed = append(allowed, a.differs...)
		}
		texts, err := w.Texts()
		if err != nil {
			t.Fatalf("%v", err)
		}
		is := reread(t, w)
		for _, a := range asked {
			if wrong := a.check(was, is); wrong != "" {
				t.Errorf("%s", wrong)
			}
		}
		if found := without(differences(was, is), allowed...); len(found) > 0 {
			t.Errorf("also different:\n%s\n%s", strings.Join(found, "\n"), texts[0])
		}
		for i, f := range was.Files {
			linesStay(t, int32(i), f, texts[i], asked)
			for _, comment := range regexp.MustCompile(`# it's \{n: \d+\}`).FindAll(f.Text, -1) {
				if bytes.Count(texts[i], comment) != 1 {
					t.Errorf("%s stands %d times in\n%s", comment, bytes.Count(texts[i], comment), texts[i])
				}
			}
			if _, problems, err := format.Format(&source.File{Text: texts[i]}); err != nil || len(problems) > 0 {
				t.Errorf("%v %v", problems, err)
			}
		}
		again := New(is, reader.Options{})
		again.Mark = w.Mark
		if sameFeeders(was, is) {
			for _, a := range asked {
				a.make(again)
			}
			more, err := again.Texts()
			if err != nil {
				t.Fatalf("%v", err)
			}
			for i := range more {
				if !bytes.Equal(more[i], texts[i]) {
					t.Errorf("the same again changes\n%s\nto\n%s", texts[i], more[i])
				}
			}
		}
	})
}

// sameFeeders reports whether indexes of feeders still mean the same entries.
func sameFeeders(a, b *layout.Layout) bool {
	return slices.EqualFunc(a.Feeders, b.Feeders, func(x, y layout.Feeder) bool { return x.Row == y.Row })
}

func sortedKeys(m map[string]string) []string {
	var keys []string
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// linesStay checks that every line of a file which holds nothing of what was to change is
// there unchanged, in order.
func linesStay(t failer, index int32, was *source.File, is []byte, asked []wish) {
	t.Helper()
	d := newDocument(was)
	touched := map[int]bool{}
	for _, a := range asked {
		for _, p := range a.lines {
			if p.File == index {
				touchEntry(d, d.root, p, touched)
			}
		}
		if len(a.within) > 0 {
			touchWithin(d, a.within, touched)
		}
	}
	now := strings.Split(string(is), "\n")
	for i, line := range strings.Split(string(was.Text), "\n") {
		if touched[i+1] || line == "" {
			continue
		}
		at := slices.Index(now, line)
		if at < 0 {
			t.Errorf("line %d is gone or moved: %s", i+1, line)
			return
		}
		now = now[at+1:]
	}
}

// touchWithin notes the lines that may change when what some keys lead to gets a new entry:
// none where that has lines of its own, else all it stands on.
func touchWithin(d *document, keys []string, lines map[int]bool) {
	n, found := d.root, 0
	for _, key := range keys {
		f := n.Field(key)
		for rest := key; f == nil && strings.Contains(rest, "/"); f = n.Field(rest) {
			_, rest, _ = strings.Cut(rest, "/") // as a module calls it
		}
		if f == nil {
			break
		}
		n, found = f.Value, found+1
	}
	if d.bracketed(n) || n.Kind == tree.Scalar || found == 2 && n.Kind == tree.Map {
		touch(d, d.start(n), d.end(n), lines)
	}
}

// touchEntry notes the lines of the key that stands at a place, with its value.
func touchEntry(d *document, n *tree.Node, p source.Pos, lines map[int]bool) {
	for i := range n.Fields {
		f := &n.Fields[i]
		if f.KeyPos.Line == p.Line && f.KeyPos.Col == p.Col {
			touch(d, d.keyStart(f), d.fieldEnd(f), lines)
			return
		}
		touchEntry(d, f.Value, p, lines)
	}
	for _, item := range n.Items {
		touchEntry(d, item, p, lines)
	}
}

// touch notes the lines on which text[from:to] stands.
func touch(d *document, from, to int, lines map[int]bool) {
	for at := from; at < to; at = d.nextLine(at) {
		lines[1+bytes.Count(d.text[:at], []byte("\n"))] = true
	}
}
