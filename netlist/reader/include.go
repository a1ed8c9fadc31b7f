package reader

import (
	"errors"
	"io/fs"
	"path/filepath"

	"gapwise/netlist/tree"
)

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
		r.refuseOthers(rec)
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
