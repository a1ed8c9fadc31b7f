package format

import (
	"testing"

	"gapwise/netlist/reader"
)

// parts are what the reference describes beside the sections of a file.
var parts = map[string]bool{"the file itself": true, "include": true, "wiring": true, "position": true, "wire": true}

// TestTables: every section of the language has a shape and a place, and no word of the
// reference that the formatter goes by has changed.
func TestTables(t *testing.T) {
	sections := reader.Reference()
	values := map[string]bool{takesWhere: true, takesLimit: true}
	for _, s := range sections {
		if shape := shapes[s.Name]; (shape == notASection) != parts[s.Name] {
			t.Errorf("%s has shape %d", s.Name, shape)
		}
		if _, placed := sectionRank[s.Name]; !parts[s.Name] && !placed {
			t.Errorf("%s has no place", s.Name)
		}
		for _, k := range s.Keys {
			values[k.Value] = true
		}
	}
	for _, k := range sections[0].Keys {
		if _, placed := sectionRank[k.Name]; !placed {
			t.Errorf("%s has no place", k.Name)
		}
	}
	for value := range kinds {
		if !values[value] {
			t.Errorf("the reference has no value called %q", value)
		}
	}
	for _, value := range []string{
		"place", "places", "tap", "source", "stretches", "stretches, or {place on the bus: stretches}", "{name: source, nothing or {from, legs}}",
		"twisted, or a length and `apart`", "preset, or wiring in full",
	} {
		if !values[value] {
			t.Errorf("the reference has no value called %q", value)
		}
	}
	if len(defaultTables) != 6 {
		t.Errorf("%d kinds of defaults, want 6", len(defaultTables))
	}
}
