package reports

import "gapwise/netlist/reader"

// defaultDemands asks for the keys that an entry may leave to the file's `defaults`:
// each, for every entry of its section, where the defaults do not have it.
func defaultDemands(sections []reader.Section, file *reader.Shape) []*layoutSchema {
	var demands []*layoutSchema
	for _, s := range sections {
		if s.Defaults == "" {
			continue
		}
		for _, k := range s.Keys {
			if k.Required && !k.Own {
				demands = append(demands, &layoutSchema{
					If:   unlessDefault(s.Defaults, k),
					Then: inKey(s.Name, demanded(shapeUnder(file, s.Name), k.Name)),
				})
			}
		}
	}
	return demands
}

// unlessDefault holds for files whose defaults do not have the key. A module may leave
// some to the file that includes it.
func unlessDefault(kind string, k reader.Key) *layoutSchema {
	has := inKey("defaults", inKey(kind, &layoutSchema{Required: []string{k.Name}}))
	has.Required = []string{"defaults"}
	has.Properties["defaults"].Required = []string{kind}
	out := &layoutSchema{Not: has}
	if k.Lent {
		out.Required = []string{"layout"}
	}
	return out
}

func inKey(name string, s *layoutSchema) *layoutSchema {
	return &layoutSchema{Properties: map[string]*layoutSchema{name: s}}
}

func shapeUnder(file *reader.Shape, name string) *reader.Shape {
	for i := range file.Keys {
		if file.Keys[i].Name == name {
			return &file.Keys[i].Shape
		}
	}
	return &reader.Shape{}
}

// demanded asks for a key in every entry of a section of this shape: in the entry, by
// `like`, or beside it in its group.
func demanded(s *reader.Shape, key string) *layoutSchema {
	switch s.Form {
	case reader.Mapping:
		out := &layoutSchema{More: demanded(&s.Of[0], key), Properties: map[string]*layoutSchema{}}
		beside := false
		for _, k := range s.Keys {
			out.Properties[k.Name] = &layoutSchema{}
			beside = beside || k.Name == key
		}
		if beside {
			return &layoutSchema{AnyOf: []*layoutSchema{{Required: []string{key}}, out}}
		}
		return out
	case reader.OneOrMore:
		one := demanded(&s.Of[0], key)
		return &layoutSchema{If: &layoutSchema{Type: []string{"array"}}, Then: &layoutSchema{Items: one}, Else: one}
	default: // an entry, or in its stead a bare place, which says nothing more
		return &layoutSchema{Type: []string{"object"}, AnyOf: []*layoutSchema{{Required: []string{key}}, {Required: []string{"like"}}}}
	}
}
