package reader

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"gapwise/netlist/layout"
	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

// maxUnits is how many files, each use counted, one layout may have.
const maxUnits = 400

// reader is the state of reading one layout.
type reader struct {
	ctx  context.Context
	open func(name string) ([]byte, error)
	opts Options

	lay      *layout.Layout
	problems []source.Problem
	guessed  int // names compared so far to find nearest ones

	units  []*unit
	parsed map[string]*parsedFile

	names     [thingCount]names
	lostNames map[string]bool // names in sections that were not understood
	blind     bool            // a whole file is missing: unknown names are not blamed

	byThing     [thingCount][]*record // entries by kind, in reading order
	railEntries []railEntry           // gaps, joints and feeders, in reading order

	doubt     doubts
	meets     meets
	lacking   map[source.Pos]bool // groups whose lack of a key was told, by their piece
	lostOn    map[lostKey]bool
	asked     map[*unit]bool // modules whose borrowed defaults were asked about
	feederAt  []text         // parallel to Layout.Feeders: where its place was typed
	gapAt     []text         // parallel to Layout.Gaps
	jointAt   []text         // parallel to Layout.Joints
	hanging   []onRail
	practised map[string]source.Pos // by name, where first listed
	limited   map[string]source.Pos
	gapsOn    [][]gapOn    // parallel to Layout.Tracks
	claims    [][]claim    // parallel to Layout.Tracks
	tracks    []trackState // parallel to Layout.Tracks
	exposed   map[layout.EndRef]exposure
	endList   []layout.EndRef // of the modules' `ends`, by their index
}

// unit is one use of one file: a module that is included twice, under two prefixes, is
// two units of one file.
type unit struct {
	file     int32
	path     string
	prefix   string // of names: "" or "east/"
	outer    *unit  // the including unit
	root     *tree.Node
	module   bool
	defaults map[string]*record
}

// parsedFile is a file read once. Used are the prefixes under which it stands.
type parsedFile struct {
	index int32
	root  *tree.Node
	used  map[string]bool
}

func newReader(ctx context.Context, open func(string) ([]byte, error), o Options) *reader {
	return &reader{
		ctx: ctx, open: open, opts: o, lay: &layout.Layout{},
		parsed: map[string]*parsedFile{}, lostNames: map[string]bool{},
		exposed: map[layout.EndRef]exposure{}, lostOn: map[lostKey]bool{}, asked: map[*unit]bool{}, lacking: map[source.Pos]bool{}, practised: map[string]source.Pos{}, limited: map[string]source.Pos{},
	}
}

// load reads the root file and everything it includes. The error is about the root.
func (r *reader) load(name string) error {
	f, err := r.parseFile(name)
	if err != nil {
		return fmt.Errorf("cannot read %s: %w", source.Safe(name), err)
	}
	return r.use(f, &unit{file: f.index, path: name, root: f.root})
}

// parseFile reads a file, or gives it again if it was read before.
func (r *reader) parseFile(path string) (*parsedFile, error) {
	clean := filepath.Clean(path)
	if f := r.parsed[clean]; f != nil {
		return f, nil
	}
	data, err := r.open(path)
	if err != nil {
		return nil, err
	}
	file := &source.File{Name: path, Text: data}
	f := &parsedFile{index: int32(len(r.lay.Files)), used: map[string]bool{}}
	r.lay.Files = append(r.lay.Files, file)
	root, problems := tree.Parse(f.index, file)
	r.problems = append(r.problems, problems...)
	f.root = root
	r.parsed[clean] = f
	return f, nil
}

// use adds one use of a file and follows its includes.
func (r *reader) use(f *parsedFile, u *unit) error {
	if err := r.ctx.Err(); err != nil {
		return err
	}
	f.used[u.prefix] = true
	r.units = append(r.units, u)
	if u.root == nil {
		r.blind = true
		return nil
	}
	if u.root.Kind != tree.Map {
		r.blind = true
		if !u.root.Bad {
			r.blame(nodeText(u.root), problem{message: "a layout file is keys with values", expected: "gapwise: 1, layout: a name, tracks: ..."})
		}
		return nil
	}
	if u.root.Bad {
		r.blind = true
	}
	include := u.root.Field("include")
	if include == nil || include.Value.Bad {
		return nil
	}
	for _, item := range include.Value.List() {
		if err := r.include(u, item); err != nil {
			return err
		}
	}
	return nil
}

// include follows one item of `include`.
func (r *reader) include(u *unit, item *tree.Node) error {
	file, prefix, ok := r.includeItem(u, item)
	if !ok {
		r.blind = true
		return nil
	}
	path := filepath.Join(filepath.Dir(u.path), filepath.FromSlash(file.s))
	for v := u; v != nil; v = v.outer {
		if prefix != "" && filepath.Clean(v.path) == filepath.Clean(path) {
			r.blind = true
			r.blamef(file, "%s would include itself", file.s)
			return nil
		}
	}
	f, err := r.parseFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		r.blind = true
		r.blamef(file, "no such file")
		return nil
	case err != nil:
		r.blind = true
		r.blamef(file, "this file cannot be read")
		return nil
	case f.used[u.prefix+prefix]:
		return nil
	case len(r.units) >= maxUnits:
		r.blind = true
		r.blamef(file, "over the bound, %d files", maxUnits)
		return nil
	}
	return r.use(f, &unit{file: f.index, path: path, prefix: u.prefix + prefix, outer: u, root: f.root})
}

// includeItem takes `yard.yaml` or `{file: yard.yaml, as: east}` apart.
func (r *reader) includeItem(u *unit, item *tree.Node) (file text, prefix string, ok bool) {
	fileNode := item
	if item.Kind == tree.Map {
		rec := r.record(u, includeSection, item, nodeText(item))
		r.require(rec)
		as, _ := get[text](rec, "as")
		file, ok = get[text](rec, "file")
		if as.s != "" {
			prefix = as.s + "/"
		}
		if rec.set("as") && as.s == "" {
			return file, "", false
		}
	} else {
		file, ok = r.scalar(fileNode, &includeSection.keys[0])
		if ok && file.s == "" {
			r.blame(file, problem{message: "no value; a file"})
			ok = false
		}
	}
	if ok && filepath.IsAbs(filepath.FromSlash(file.s)) {
		r.blame(file, problem{message: "a file is named from this one's folder", expected: "a path such as yard.yaml"})
		ok = false
	}
	return file, prefix, ok
}

var includeSection = newSection(section{
	name: "include", noun: "an include",
	doc: "other files of this layout; {file, as} puts `as/` before every name of a module, so that it can be used twice",
	keys: []key{
		{name: "file", kind: textKind, required: true, own: true, doc: "path from this file's folder"},
		{name: "as", kind: nameKind, own: true, doc: "prefix of the module's names: east gives east/Y1"},
	},
})
