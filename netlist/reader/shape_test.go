package reader

import (
	"context"
	"math/rand/v2"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/tree"
)

// everyShape calls visit for every shape of the language, with where it is.
func everyShape(visit func(at string, s *Shape)) {
	var walk func(at string, s *Shape)
	walk = func(at string, s *Shape) {
		visit(at, s)
		for i := range s.Of {
			walk(at, &s.Of[i])
		}
		for i := range s.Keys {
			walk(at+" > "+s.Keys[i].Name, &s.Keys[i].Shape)
		}
	}
	file := FileShape()
	walk("file", &file)
	for _, s := range Reference() {
		for i := range s.Keys {
			walk(s.Name+" > "+s.Keys[i].Name, &s.Keys[i].Shape)
		}
	}
}

// Every key has a shape that says something, every pattern compiles, shapes of one name are
// alike, and every entry is of a section that is documented.
func TestShapes(t *testing.T) {
	named := map[string]Shape{}
	var sections []string
	for _, s := range Reference() {
		sections = append(sections, s.Name)
	}
	everyShape(func(at string, s *Shape) {
		for _, p := range []string{s.Pattern, s.Names} {
			if _, err := regexp.Compile(p); err != nil {
				t.Errorf("%s: %v", at, err)
			}
		}
		switch {
		case s.Form == Unshaped:
			t.Errorf("%s has no shape", at)
		case s.Form == OneWord && len(s.Words) == 0:
			t.Errorf("%s takes no word", at)
		case s.Form == Entry && !slices.Contains(sections, s.Section):
			t.Errorf("%s: no section %s", at, s.Section)
		}
		if was, again := named[s.Name]; again && s.Name != "" && !reflect.DeepEqual(was, *s) {
			t.Errorf("%s: another shape named %s", at, s.Name)
		}
		named[s.Name] = *s
	})
	if len(named) < 20 {
		t.Errorf("only %d named shapes", len(named))
	}
}

// Every section that decode knows is in the file, in its form.
func TestFileShape(t *testing.T) {
	under := map[string]Form{}
	for _, k := range FileShape().Keys {
		under[k.Name] = k.Shape.Form
	}
	for form, list := range map[Form][]*section{Mapping: append(slices.Clone(namedSections), groupSections...), OneOrMore: listSections, Entry: singleSections} {
		for _, s := range list {
			if under[s.name] != form {
				t.Errorf("%s has form %d, want %d", s.name, under[s.name], form)
			}
		}
	}
	if want := len(topSection.keys) + len(sectionsByName); len(under) != want {
		t.Errorf("%d keys, want %d", len(under), want)
	}
}

// takes reports whether a single value fits a shape.
func takes(s *Shape, text string, patterns map[string]*regexp.Regexp) bool {
	switch s.Form {
	case OneWord:
		return slices.Contains(s.Words, text)
	case OneText:
		p := patterns[s.Pattern]
		if p == nil {
			p = regexp.MustCompile(s.Pattern)
			patterns[s.Pattern] = p
		}
		return p.MatchString(text) && !slices.Contains(s.Except, text)
	case OneOrMore, EitherOf:
		return slices.ContainsFunc(s.Of, func(s Shape) bool { return takes(&s, text, patterns) })
	}
	return false
}

// What the decoders make of texts put together at random: all that they take fits the
// shape of the key. Left out are keys whose text is taken apart later, so that their
// decoders take anything.
func TestShapesTakeWhatDecodes(t *testing.T) {
	later := []string{"reference", "end", "feeder-tap", "place-on-piece"}
	tokens := strings.Split("M1 T3 east/Y1 14 0 4 9 1/2 ft in 12' 6\" -3 @ .. start end gap from to points a-c unknown - nothing both left right yes no "+
		"block bus track breaker booster code 83 10 brass Nickel silver twisted apart AWG 20 mm² Ω A V s % deg slip turnout x_1 é", " ")
	tokens = append(tokens, " ", " ", " ", " ", " ")
	random := rand.New(rand.NewPCG(3, 4))
	patterns := map[string]*regexp.Regexp{}
	taken := map[string]int{}
	r := newReader(context.Background(), nil, Options{})
	for _, s := range append(slices.Clone(sectionList()), topSection, wiringSection, positionSection, stockWireSection) {
		for i := range s.keys {
			k := &s.keys[i]
			shape := k.shape()
			name := shape.Name
			if shape.Form == OneOrMore {
				name = shape.Of[0].Name
			}
			if slices.Contains(later, name) || shape.Form == OneKnown || s == topSection && k.name != "scale" && k.name != "layout" {
				continue
			}
			for range 1500 {
				var b strings.Builder
				for range 1 + random.IntN(7) {
					b.WriteString(tokens[random.IntN(len(tokens))])
				}
				text := strings.TrimSpace(b.String())
				r.problems = nil
				if _, ok := k.kind.decode(r, k, &tree.Node{Text: text, Width: 1, Quoted: true}); !ok || len(r.problems) > 0 || laterRefused(&shape, text) {
					continue
				}
				taken[k.kind.value]++
				if !takes(&shape, text, patterns) {
					t.Errorf("%s: %s takes %q, which does not fit", s.name, k.name, text)
				}
			}
		}
	}
	if len(taken) < 12 {
		t.Errorf("only kinds %v took anything", taken)
	}
}

// laterRefused reports a place on something that is no bus where only taps can be, and a
// bus by name alone where a source belongs: these fail as names are looked up.
func laterRefused(s *Shape, text string) bool {
	first, _, _ := strings.Cut(text, " ")
	along := strings.Contains(text, "@")
	switch s.Name {
	case "tap":
		return !along || isKindWord(first) && first != "bus"
	case "source":
		return isKindWord(first) && (along && first != "bus" || !along && !slices.Contains(sourceWords, first))
	}
	return false
}

// sectionList is every section at the left margin.
func sectionList() []*section {
	return slices.Concat(namedSections, listSections, groupSections, singleSections)
}
