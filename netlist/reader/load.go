package reader

import (
	"fmt"
	"path/filepath"

	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

// maxUnits is how many files, each use counted, one layout may have.
const maxUnits = 400

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
	if about := onlyTabs(problems); len(about) > 0 && tornByTabs(data) {
		problems = about
		r.tornFiles[f.index] = true
		r.blind = true
	}
	r.problems = append(r.problems, problems...)
	f.root = root
	for _, p := range problems {
		f.lost = append(f.lost, firstWord(file.Line(p.Pos.Line)))
	}
	r.findTorn(root, problems)
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
	for _, w := range f.lost {
		r.loseWord(u, w)
	}
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
	if lostHere(u.root) {
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
