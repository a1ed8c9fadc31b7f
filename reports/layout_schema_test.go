package reports

import (
	"bytes"
	"context"
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"gopkg.in/yaml.v3"

	"gapwise/netlist/generate"
	"gapwise/netlist/reader"

	"gapwise/rules"
)

// compiledSchema is the layout schema in an independent validator.
func compiledSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	var b bytes.Buffer
	if err := WriteLayoutSchema(&b); err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(&b)
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("layout.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("layout.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// handed is a YAML text as an editor hands it to a validator: keys as typed, values by
// the library's own types.
func handed(text []byte) (any, error) {
	var twice any // which the library refuses: a key twice
	if err := yaml.Unmarshal(text, &twice); err != nil {
		return nil, err
	}
	var n yaml.Node
	if err := yaml.Unmarshal(text, &n); err != nil {
		return nil, err
	}
	return handedNode(n.Content[0])
}

func handedNode(n *yaml.Node) (any, error) {
	switch n.Kind {
	case yaml.MappingNode:
		m := map[string]any{}
		for i := 0; i < len(n.Content); i += 2 {
			x, err := handedNode(n.Content[i+1])
			if err != nil {
				return nil, err
			}
			m[n.Content[i].Value] = x
		}
		return m, nil
	case yaml.SequenceNode:
		list := []any{}
		for _, item := range n.Content {
			x, err := handedNode(item)
			if err != nil {
				return nil, err
			}
			list = append(list, x)
		}
		return list, nil
	}
	var x any
	err := n.Decode(&x)
	if _, date := x.(time.Time); date {
		return n.Value, err
	}
	return x, err
}

// misfit is what is wrong with a layout's text by the schema, or as YAML.
func misfit(s *jsonschema.Schema, text []byte) error {
	x, err := handed(text)
	if err != nil {
		return err
	}
	return s.Validate(x)
}

// layoutFile is one file that the reader was given, with what it found wrong.
type layoutFile struct {
	name     string
	text     []byte
	problems int
}

// read gives a layout's files as the reader sees them.
func read(t *testing.T, open func(string) ([]byte, error), name, shown string) []layoutFile {
	t.Helper()
	l, problems, err := reader.Read(context.Background(), open, name, rules.ReaderOptions())
	if err != nil {
		t.Fatalf("%s: %v", shown, err)
	}
	var files []layoutFile
	for _, f := range l.Files {
		files = append(files, layoutFile{shown + " " + f.Name, f.Text, len(problems)})
	}
	return files
}

func openIn(a *txtar.Archive) func(string) ([]byte, error) {
	return func(name string) ([]byte, error) {
		for _, f := range a.Files {
			if f.Name == filepath.ToSlash(name) {
				return f.Data, nil
			}
		}
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
}

// layoutsBelow reads every layout that stands below a folder: files of their own, and
// those in archives.
func layoutsBelow(t *testing.T, root string) []layoutFile {
	t.Helper()
	var files []layoutFile
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && path != root && strings.HasPrefix(d.Name(), "."):
			return filepath.SkipDir
		case strings.HasSuffix(path, ".yaml") && strings.Contains(path, "testdata"):
			files = append(files, read(t, os.ReadFile, path, "")...)
		case strings.HasSuffix(path, ".txtar"):
			a, err := txtar.ParseFile(path)
			if err != nil {
				return err
			}
			for _, f := range a.Files {
				if strings.HasSuffix(f.Name, ".yaml") {
					files = append(files, read(t, openIn(a), f.Name, path)...)
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// TestLayoutSchemaTakesWhatIsRead: every layout of the repository that the reader
// understands fits the schema.
func TestLayoutSchemaTakesWhatIsRead(t *testing.T) {
	s := compiledSchema(t)
	good := 0
	for _, f := range layoutsBelow(t, "..") {
		if f.problems > 0 {
			continue
		}
		good++
		if err := misfit(s, f.text); err != nil {
			t.Errorf("%s: %v", f.name, err)
		}
	}
	if good < 150 {
		t.Errorf("only %d good files were found", good)
	}
}

// TestLayoutSchemaTakesGenerated: a large sound layout fits.
func TestLayoutSchemaTakesGenerated(t *testing.T) {
	text := generate.YAML(generate.Layout(1000, 1))
	if err := misfit(compiledSchema(t), text); err != nil {
		t.Error(err)
	}
}

// TestLayoutSchemaTakesSpellings: what an editor hands over of legal values fits.
func TestLayoutSchemaTakesSpellings(t *testing.T) {
	s := compiledSchema(t)
	text := `# yaml-language-server: $schema=gapwise.schema.json
gapwise: 1
layout: 14
scale: N
label: yes
tracks:
  14:  {closed: yes, length: 57' 6½", hidden: no, label: 2026-11-02}
  010: {from: 12 d, to: end, length: 5'-6"}
  M3:  {from: T1 points, to: bumper, length: unknown}
  M4:  {like: M3, from: T1 straight}
turnouts:
  T1: {hand: left, number: 6, wiring: dead-frog, throws-with: 2}
turntables:
  TT: {bridge: 12 in, tracks: {1: 0, 2: 30 deg}, feed: plain, from: 14, A: left}
transfer-tables:
  XT: {bridge: 4 ft, a: {1: 0}, b: {1: 2 in}, from: booster 14, A: left}
gaps:
  TT: [{at: 1, rails: both, kind: insulated}]
  14: [{at: 0, rails: both, kind: insulated}, {at: 8 in from end, rails: A, kind: insulated}]
feeders:
  14: {A: left, 0: ring @ 0, 1 ft: [ring @ start, {from: unknown}], 2 .. 34 ft: {every: 8 ft, from: ring @ 35 .. 3 ft}}
buses:
  ring: {from: breaker 14, wire: 16 .. 18 AWG, length: 0.5 m, under: {0 .. 3 ft: [14 @ 41 ft .. 3 ft, 14 @ gap .. end]}}
trains:
  long: {at-once: 2, resistor-cars: 0}
joins: [T1 curved, X1 a]
limits: {bus-drop: 5 %}
`
	if err := misfit(s, []byte(text)); err != nil {
		t.Error(err)
	}
	for _, old := range []any{true, false} { // a YAML 1.1 editor hands these over for yes and no
		x, err := handed([]byte(text))
		if err != nil {
			t.Fatal(err)
		}
		d := x.(map[string]any)
		d["tracks"].(map[string]any)["14"].(map[string]any)["hidden"] = old
		d["label"] = old
		if err := s.Validate(d); err != nil {
			t.Error(err)
		}
	}
}

// beyondSchemas are the mistakes of the reader's tests that a schema cannot see, by what
// one would have to know.
var beyondSchemas = map[string][]string{
	"a name that stands elsewhere, or not at all": {
		"mistakes/13-end-name", "mistakes/15-no-piece", "mistakes/29-bus-or-breaker",
		"mistakes/44-from-nothing", "mistakes/46-not-there",
		"further/accept-two-kinds", "further/include-missing", "further/include-module-twice",
		"further/include-same-name", "further/like-unknown", "further/names-alike", "further/throws-with",
	},
	"a name, which may be that of a module's end": {
		"mistakes/14-which-end",
	},
	"what joins what": {
		"mistakes/16-joined-twice", "mistakes/17-end-unused", "mistakes/18-disagree",
		"further/body-end-taken", "further/disagree-chain", "further/track-end-twice",
		"further/turnout-alone",
	},
	"a way round through names": {
		"mistakes/30-bus-from-itself", "further/include-itself", "further/like-round",
	},
	"the size of a number in a text": {
		"mistakes/05-length-bound", "mistakes/09-range-falls",
	},
	"arithmetic with places": {
		"mistakes/19-past-the-end", "mistakes/21-gap-in-body", "mistakes/24-row-hits-body",
		"mistakes/25-range-without-every", "mistakes/27-two-feeders", "mistakes/28-past-the-bus",
		"mistakes/31-feeder-on-gap", "mistakes/35-three-gaps", "mistakes/37-bodies-overlap", "mistakes/45-beyond",
		"further/body-past-end", "further/body-vague", "further/gap-twice-at-joint",
		"further/include-same-place", "further/rows",
	},
	"what a device or piece of that name has": {
		"mistakes/23-no-route", "mistakes/32-leg-not-carried", "further/never-together", "further/one-leg",
	},
	"two keys that belong together, which no table says": {
		"mistakes/22-at-without-via", "mistakes/33-expansion-joint", "mistakes/53-frog-from-alone", "further/ring-with-from",
		"further/wiring-jumpers-full", "further/wiring-jumpers", "further/wiring-metal",
		"further/wiring-plastic",
	},
	"an editor may hand over true for yes": {
		"mistakes/12-yes-no",
	},
	"gone before a schema sees it: a comment, an alias, a second document": {
		"mistakes/39-hash", "mistakes/40-aliases",
	},
}

func beyond(name string) (reason string, exempt bool) {
	for why, names := range beyondSchemas {
		if slices.Contains(names, name) {
			return why, true
		}
	}
	return "", false
}

// TestLayoutSchemaRefusesMistakes: the reader's mistakes do not fit, but for those that
// cannot be seen in the form of one file.
func TestLayoutSchemaRefusesMistakes(t *testing.T) {
	s := compiledSchema(t)
	refused := 0
	for _, dir := range []string{"mistakes", "further"} {
		paths, err := filepath.Glob("../netlist/reader/testdata/" + dir + "/*.txtar")
		if err != nil || len(paths) < 40 {
			t.Fatalf("%d mistakes, %v", len(paths), err)
		}
		for _, path := range paths {
			name := dir + "/" + strings.TrimSuffix(filepath.Base(path), ".txtar")
			a, err := txtar.ParseFile(path)
			if err != nil {
				t.Fatal(err)
			}
			fits := true
			for _, f := range a.Files {
				if strings.HasSuffix(f.Name, ".yaml") {
					fits = fits && misfit(s, f.Data) == nil
				}
			}
			reason, exempt := beyond(name)
			switch {
			case fits && !exempt:
				t.Errorf("%s fits", name)
			case !fits && exempt:
				t.Errorf("%s does not fit, and is said to need: %s", name, reason)
			case !fits:
				refused++
			}
		}
	}
	if refused < 20 {
		t.Errorf("only %d mistakes were refused", refused)
	}
}

// TestLayoutSchemaRefuses: mistakes of form, each in a layout that fits without it.
func TestLayoutSchemaRefuses(t *testing.T) {
	s := compiledSchema(t)
	const base = `gapwise: 1
layout: Test
tracks:
  M1: {from: end, to: end, length: 3 ft}
`
	if err := misfit(s, []byte(base)); err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{
		strings.Replace(base, "gapwise: 1", "gapwise: 2", 1),
		strings.Replace(base, "gapwise: 1\n", "", 1),
		strings.Replace(base, "layout: Test\n", "", 1),
		base + "module: too\n",
		base + "trakcs: {}\n",
		base + "turnouts:\n",
		base + "turnouts: [T1]\n",
		base + "turnouts: {T1: dead-frog}\n",
		base + "turnouts: {T1: {hand: left}}\n",
		base + "turnouts: {T1: {wiring: dead-frog}}\n",
		base + "turnouts: {T1: {hand: left, wiring: {blades: stock, closures: blade}}}\n",
		base + "turnouts: {T1: {hand: left, wiring: {blades: stock, closures: blade, frog: wood}}}\n",
		base + "turnouts: {T1: {hand: left, wiring: dead-frog, number: 0.5}}\n",
		base + "turnouts: {T1: {hand: left, wiring: dead-frog, via: points straight}}\n",
		base + "turnouts: {T1: {hand: left, wiring: dead-frog, frog-gets: {straight: stock}}}\n",
		base + "turnouts: {start: {hand: left, wiring: dead-frog}}\n",
		base + "turnouts: {T 1: {hand: left, wiring: dead-frog}}\n",
		base + "gaps: {M1: [1 ft]}\n",
		base + "gaps: {M1: [{at: 1 ft, rails: both}]}\n",
		base + "gaps: {M1: [{at: 1.5, rails: both, kind: insulated}]}\n",
		base + "gaps: {M1: [[{at: 1 ft, rails: both, kind: insulated}]]}\n",
		base + "defaults: {gap: {rails: both}}\ngaps: {M1: [1 ft]}\n",
		base + "defaults: {gap: {at: 1 ft}}\n",
		base + "feeders: {M1: {1 ft: ring @ 3 ft}}\n",
		base + "feeders: {M1: {A: left, 1 ft: ring}}\n",
		base + "feeders: {M1: {A: left, from: ring @ 3 ft}}\n",
		base + "feeders: {M1: [ring @ 3 ft]}\n",
		base + "supplies: {wall: {volts: 18}}\n",
		base + "supplies: {wall: {volts: -18 V}}\n",
		base + "supplies: {wall: {rating: 5 A}}\n",
		base + "buses: {ring: {from: booster one, wire: 14 AWG}}\n",
		base + "buses: {ring: {from: boster one, wire: 14 AWG, length: 3 ft}}\n",
		base + "breakers: {one: {like: two}}\n",
		base + "reversers: {one: {from: booster one}}\n",
		base + "in-line: {one: {from: booster one, kind: lamp}}\n",
		base + "changeovers: {one: {positions: {run: {legs: crossed}}}}\n",
		base + "bonds: [{from: M1 start, to: M1 end, rails: [left]}]\n",
		base + "blocks: {B1: {covers: M1 4 ft .. 9 ft}}\n",
		base + "blocks: {B1: {covers: [null]}}\n",
		base + "trains: {long: {at-once: 0}}\n",
		base + "trains: {long: {at-once: 1.5}}\n",
		base + "limits: {bus-dorp: 5 %}\n",
		base + "limits: {bus-drop: 5}\n",
		base + "stock: {bus: [{wire: 14 AWG, price: 12}]}\n",
		base + "stock: {bus: [{wire: 14 AWG, price: -1, per: 1 m}]}\n",
		base + "stock: {feeder: {wire: 20 AWG, price: $4, per: 1 m}}\n",
		base + "practice: [feeder-every-5-ft]\n",
		base + "accept: [{finding: leg-to-leg-short, at: M1, because: meant}]\n",
		base + "accept: [{finding: gap-unfilled, at: M1}]\n",
		base + "include: [{as: east}]\n",
		base + "joins: [[T1 curved]]\n",
		base + "wire-colours: {A: brown, C: red}\n",
		base + "scale: HOO\n",
	} {
		if misfit(s, []byte(text)) == nil {
			t.Errorf("fits:\n%s", text)
		}
	}
}

// TestLayoutSchemaHasEveryKey: every key of the reference is in the schema, where its
// section's entries are, with its sentence.
func TestLayoutSchemaHasEveryKey(t *testing.T) {
	file := reader.FileShape()
	root := schemaOf(reader.Reference(), file, rules.ReaderOptions())
	for _, s := range reader.Reference() {
		var properties map[string]*layoutSchema
		switch s.Name {
		case "the file itself":
			properties = root.Properties
		case "never-together":
			properties = root.Properties[s.Name].AnyOf[0].Properties
		default:
			if def := root.Defs["entry-"+s.Name]; def != nil {
				properties = def.Properties
			}
		}
		for _, k := range s.Keys {
			p := properties[k.Name]
			if p == nil || !strings.HasPrefix(p.Description, k.Doc) {
				t.Errorf("%s: no %s, or no sentence for it", s.Name, k.Name)
			}
		}
	}
	for _, k := range file.Keys {
		if root.Properties[k.Name] == nil || root.Properties[k.Name].Description == "" {
			t.Errorf("the file has no %s, or no sentence for it", k.Name)
		}
	}
}

// TestLayoutSchemaGrows: a key that is new in a table is in the schema by itself.
func TestLayoutSchemaGrows(t *testing.T) {
	sections := reader.Reference()
	i := slices.IndexFunc(sections, func(s reader.Section) bool { return s.Name == "breakers" })
	sections[i].Keys = append(slices.Clone(sections[i].Keys), reader.Key{
		Name: "mood", Required: true, Doc: "how it feels", Shape: reader.Shape{Form: reader.OneWord, Words: []string{"calm", "cross"}},
	})
	root := schemaOf(sections, reader.FileShape(), rules.ReaderOptions())
	text, err := json.Marshal(root.Defs["entry-breakers"])
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"mood":{"description":"how it feels","enum":["calm","cross"]}`, `"anyOf":[{"required":["mood"]},{"required":["like"]}]`} {
		if !strings.Contains(string(text), want) {
			t.Errorf("no %s in %s", want, text)
		}
	}
}

// TestLayoutSchemaSameBytes: no order of a map reaches the schema.
func TestLayoutSchemaSameBytes(t *testing.T) {
	var first bytes.Buffer
	for i := range 5 {
		var b bytes.Buffer
		if err := WriteLayoutSchema(&b); err != nil {
			t.Fatal(err)
		}
		if i == 0 {
			first = b
		}
		if !bytes.Equal(b.Bytes(), first.Bytes()) {
			t.Fatal("another schema")
		}
	}
}
