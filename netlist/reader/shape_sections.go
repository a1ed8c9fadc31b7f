package reader

import "slices"

// FileShape is the shape of a layout file: its own keys, then its sections, as decode
// takes them apart.
func FileShape() Shape {
	file := Shape{Form: Mapping, Keys: topSection.references()}
	for _, list := range [][]*section{namedSections, listSections, groupSections, singleSections} {
		for _, s := range list {
			file.Keys = append(file.Keys, Key{Name: s.name, Doc: s.doc, Shape: sectionShape(s)})
		}
	}
	return file
}

// sectionShape is what stands under a section's key.
func sectionShape(s *section) Shape {
	entry := entryOf(s.name)
	switch {
	case slices.Contains(singleSections, s):
		return entry
	case s == neverTogetherSection:
		open := mapOf(anyName, textShape)
		open.Keys = s.references()
		return oneOrMore(open)
	case slices.Contains(listSections, s):
		return oneOrMore(entry)
	case s == feederSection:
		return mapOf(anyName, feederGroupShape(entry))
	case slices.Contains(groupSections, s):
		return mapOf(anyName, oneOrMore(eitherOf(onPieceShape, entry)))
	default:
		named := mapOf(nameShape.Pattern, entry)
		named.Except = nameShape.Except
		return named
	}
}

// feederGroupShape is the feeders of one piece: words that hold for all, and places.
func feederGroupShape(entry Shape) Shape {
	group := mapOf(onPiecePattern, oneOrMore(eitherOf(feederTapShape, entry)))
	for _, k := range feederSection.references() {
		if k.Required = false; slices.Contains(feederGroupWords, k.Name) {
			group.Keys = append(group.Keys, k)
		} else {
			group.Except = append(group.Except, k.Name)
		}
	}
	return group
}

// defaultsShape is one map a kind, of its keys that may have a default.
func defaultsShape(*key) Shape {
	all := Shape{Form: Mapping}
	for _, s := range defaultSections {
		one := Shape{Form: Mapping}
		for _, k := range s.references() {
			if k.Required = false; !k.Own {
				one.Keys = append(one.Keys, k)
			}
		}
		all.Keys = append(all.Keys, Key{Name: s.defaults, Doc: s.doc, Shape: one})
	}
	return all
}
