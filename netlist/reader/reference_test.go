package reader

import (
	"slices"
	"testing"
)

// Every section that a file may have is documented, every key has a sentence, and no
// default names a key's value that it does not take.
func TestReference(t *testing.T) {
	documented := map[string]bool{}
	for _, s := range Reference() {
		if documented[s.Name] {
			t.Errorf("section %s twice", s.Name)
		}
		documented[s.Name] = true
		if s.Doc == "" || len(s.Keys) == 0 {
			t.Errorf("section %s: no sentence or no keys", s.Name)
		}
		seen := map[string]bool{}
		for _, k := range s.Keys {
			if seen[k.Name] || k.Name == "" {
				t.Errorf("%s: key %q twice or without a name", s.Name, k.Name)
			}
			seen[k.Name] = true
			if k.Doc == "" || k.Value == "" {
				t.Errorf("%s: %s has no sentence or no value", s.Name, k.Name)
			}
			if k.Required && k.Default != "" {
				t.Errorf("%s: %s is required and has a default", s.Name, k.Name)
			}
			if len(k.Words) > 0 && k.Default != "" && !slices.Contains(k.Words, k.Default) {
				t.Errorf("%s: %s has no word %s", s.Name, k.Name, k.Default)
			}
		}
	}
	for name := range sectionsByName {
		if !documented[name] {
			t.Errorf("section %s is not documented", name)
		}
	}
}

// language.md section 4 marks these keys as required.
func TestReferenceRequired(t *testing.T) {
	for _, c := range []struct{ section, keys string }{
		{"tracks", "length"},
		{"turnouts", "hand wiring"},
		{"three-ways", "construction wiring"},
		{"crossings", "wiring"},
		{"turntables", "bridge tracks feed from A"},
		{"transfer-tables", "bridge a b from A"},
		{"gaps", "at rails kind"},
		{"joints", "at kind"},
		{"common-rail", "rail of"},
		{"bonds", "from to rails"},
		{"supplies", "volts"},
		{"boosters", "supply volts"},
		{"cabs", "volts"},
		{"breakers", "from"},
		{"reversers", "from switching"},
		{"detectors", "from leg"},
		{"in-line", "from kind leg"},
		{"changeovers", "positions"},
		{"plugs", "from legs"},
		{"buses", "from wire length"},
		{"terminators", "at"},
		{"loads", "at"},
		{"districts", "from blocks"},
		{"accept", "finding at because"},
		{"commons", "joins"},
		{"trains", ""},
	} {
		got := ""
		for _, s := range Reference() {
			if s.Name != c.section {
				continue
			}
			for _, k := range s.Keys {
				if k.Required {
					got += " " + k.Name
				}
			}
		}
		if want := c.keys; got != "" && got[1:] != want || got == "" && want != "" {
			t.Errorf("%s: required%s, want %s", c.section, got, want)
		}
	}
}
