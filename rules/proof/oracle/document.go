package oracle

import (
	"fmt"
	"path"
	"slices"

	"gopkg.in/yaml.v3"
)

// entry is one named entry of a section, or one item of a list.
type entry struct {
	name string
	file int
	node *yaml.Node
}

// document is the pooled text of a layout and what it includes.
type document struct {
	sections map[string][]entry // by section, in reading order
	defaults []map[string]*yaml.Node
	practice []string
	seen     []string
	open     func(string) ([]byte, error)
}

var listSections = []string{"never-together", "common-rail", "bonds", "joins"}

func (d *document) read(name string) error {
	if slices.Contains(d.seen, name) {
		return nil
	}
	d.seen = append(d.seen, name)
	file := len(d.seen) - 1
	d.defaults = append(d.defaults, map[string]*yaml.Node{})
	text, err := d.open(name)
	if err != nil {
		return err
	}
	var root yaml.Node
	if err := yaml.Unmarshal(text, &root); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	if len(root.Content) != 1 || root.Content[0].Kind != yaml.MappingNode {
		return fmt.Errorf("%s: no layout", name)
	}
	if err := plain(&root); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	for _, top := range pairsOf(root.Content[0]) {
		switch {
		case top.key == "include":
			for _, item := range items(top.value) {
				if field(item, "as") != nil {
					return fmt.Errorf("%s: an include under another name is not modelled", name)
				}
				inc := item.Value
				if f := field(item, "file"); f != nil {
					inc = f.Value
				}
				if err := d.read(path.Join(path.Dir(name), inc)); err != nil {
					return err
				}
			}
		case top.key == "defaults":
			for _, p := range pairsOf(top.value) {
				d.defaults[file][p.key] = p.value
			}
		case top.key == "practice":
			d.practice = append(d.practice, words(top.value)...)
		case slices.Contains(listSections, top.key):
			list := items(top.value)
			if top.key == "joins" && len(list) == 2 && list[0].Kind == yaml.ScalarNode {
				list = []*yaml.Node{top.value}
			}
			for _, item := range list {
				d.sections[top.key] = append(d.sections[top.key], entry{"", file, item})
			}
		case top.value.Kind == yaml.MappingNode:
			for _, p := range pairsOf(top.value) {
				d.sections[top.key] = append(d.sections[top.key], entry{p.key, file, p.value})
			}
		}
	}
	return nil
}

// plain refuses what the language refuses and what would hide text from us.
func plain(n *yaml.Node) error {
	if n.Kind == yaml.AliasNode || n.Anchor != "" {
		return fmt.Errorf("line %d: an alias", n.Line)
	}
	if n.Kind == yaml.MappingNode {
		seen := map[string]bool{}
		for i := 0; i < len(n.Content); i += 2 {
			if seen[n.Content[i].Value] {
				return fmt.Errorf("line %d: %s again", n.Content[i].Line, n.Content[i].Value)
			}
			seen[n.Content[i].Value] = true
		}
	}
	for _, c := range n.Content {
		if err := plain(c); err != nil {
			return err
		}
	}
	return nil
}

type keyed struct {
	key   string
	value *yaml.Node
}

func pairsOf(n *yaml.Node) []keyed {
	if n == nil || n.Kind != yaml.MappingNode {
		return nil
	}
	var out []keyed
	for i := 0; i+1 < len(n.Content); i += 2 {
		out = append(out, keyed{n.Content[i].Value, n.Content[i+1]})
	}
	return out
}

func field(n *yaml.Node, key string) *yaml.Node {
	for _, p := range pairsOf(n) {
		if p.key == key {
			return p.value
		}
	}
	return nil
}

// items are the members of a list; a list of one may lack its brackets.
func items(n *yaml.Node) []*yaml.Node {
	switch {
	case n == nil:
		return nil
	case n.Kind == yaml.SequenceNode:
		return n.Content
	}
	return []*yaml.Node{n}
}

func words(n *yaml.Node) []string {
	var out []string
	for _, item := range items(n) {
		out = append(out, item.Value)
	}
	return out
}

// fields are the keys of an entry: its own and copied ones, and its file's defaults.
type fields struct {
	own, fallback map[string]*yaml.Node
}

func (f fields) node(key string) *yaml.Node {
	if n, ok := f.own[key]; ok {
		return n
	}
	return f.fallback[key]
}

// text is a key's scalar, "" when unsaid.
func (f fields) text(key string) string {
	if n := f.node(key); n != nil {
		return n.Value
	}
	return ""
}

// mapFields is an unnamed entry's keys before those of group and defaults.
func (d *document) mapFields(kind string, file int, maps ...*yaml.Node) fields {
	f := fields{map[string]*yaml.Node{}, map[string]*yaml.Node{}}
	for _, m := range maps {
		for _, p := range pairsOf(m) {
			if _, ok := f.own[p.key]; !ok {
				f.own[p.key] = p.value
			}
		}
	}
	for _, p := range pairsOf(d.defaults[file][kind]) {
		f.fallback[p.key] = p.value
	}
	return f
}

var notCopied = []string{"from", "at", "to", "via", "label", "like"}

// fields follows copies: own keys, then those of what is copied, then defaults.
func (d *document) fields(section, kind string, e entry) (fields, error) {
	f := d.mapFields(kind, e.file, e.node)
	visited := []string{e.name}
	for at := e; ; {
		like := field(at.node, "like")
		if like == nil {
			return f, nil
		}
		if slices.Contains(visited, like.Value) {
			return f, fmt.Errorf("%s copies itself", e.name)
		}
		visited = append(visited, like.Value)
		next, ok := d.find(section, like.Value)
		if !ok {
			return f, fmt.Errorf("%s: no %s to copy", e.name, like.Value)
		}
		for _, p := range pairsOf(next.node) {
			if _, own := f.own[p.key]; !own && !slices.Contains(notCopied, p.key) {
				f.own[p.key] = p.value
			}
		}
		at = next
	}
}

func (d *document) find(section, name string) (entry, bool) {
	for _, e := range d.sections[section] {
		if e.name == name {
			return e, true
		}
	}
	return entry{}, false
}
