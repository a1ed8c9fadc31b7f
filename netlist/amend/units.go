package amend

import (
	"path/filepath"
	"slices"
	"strings"

	"gapwise/netlist/tree"
)

// unit is one use of a file: prefix is what stands before the names in it.
type unit struct {
	file   int32
	prefix string
}

// findUnits follows the includes of the root file as the reader does.
func (b *build) findUnits() []unit {
	byPath := map[string]int32{}
	for i, f := range b.w.lay.Files {
		byPath[filepath.Clean(f.Name)] = int32(i)
	}
	var units []unit
	var use func(unit)
	use = func(u unit) {
		if slices.Contains(units, u) || len(units) >= maxUnits {
			return
		}
		units = append(units, u)
		d := b.doc(u.file)
		if d == nil {
			return
		}
		for _, item := range d.root.Get("include").List() {
			name, as := item, ""
			if item.Kind == tree.Map {
				name = item.Get("file")
				if n := item.Get("as"); n != nil {
					as = n.Text + "/"
				}
			}
			if name == nil {
				continue
			}
			path := filepath.Join(filepath.Dir(b.files[u.file].source.Name), filepath.FromSlash(name.Text))
			if i, ok := byPath[filepath.Clean(path)]; ok {
				use(unit{i, u.prefix + as})
			}
		}
	}
	if len(b.files) > 0 {
		use(unit{})
	}
	return units
}

// maxUnits is how many uses of files the reader takes.
const maxUnits = 400

// uses are the prefixes under which a file stands.
func (b *build) uses(file int32) []string {
	var prefixes []string
	for _, u := range b.units {
		if u.file == file {
			prefixes = append(prefixes, u.prefix)
		}
	}
	return prefixes
}

// spot is an entry in a file's text: the section's map with the entry's key, or of a list
// the entry itself.
type spot struct {
	file    int32
	section *tree.Field
	field   *tree.Field // nil of a list
	entry   *tree.Node
	key     string // the name as it stands in the file
}

// find looks for an entry by its name in the layout.
func (b *build) find(e entryName) (spot, bool) {
	for _, u := range b.units {
		key, ok := strings.CutPrefix(e.name, u.prefix)
		d := b.doc(u.file)
		if !ok || d == nil {
			continue
		}
		section := d.root.Field(e.section)
		if section == nil {
			continue
		}
		if f := section.Value.Field(key); f != nil && sections[e.section] == named {
			return spot{u.file, section, f, f.Value, key}, true
		}
		if sections[e.section] != listed {
			continue
		}
		for _, item := range section.Value.List() {
			if n := item.Get("name"); n != nil && n.Text == key {
				return spot{u.file, section, nil, item, key}, true
			}
		}
	}
	return spot{}, false
}
