package reports

import (
	"encoding/json"
	"io"
	"slices"
	"strconv"
	"strings"

	"gapwise/netlist/reader"

	"gapwise/rules"
)

// layoutSchema is as much of a JSON Schema (draft 2020-12) as the layout language needs.
// A closed map has More false; nil fields say nothing.
type layoutSchema struct {
	Dialect     string                   `json:"$schema,omitempty"`
	Title       string                   `json:"title,omitempty"`
	Description string                   `json:"description,omitempty"`
	Ref         string                   `json:"$ref,omitempty"`
	Type        []string                 `json:"type,omitempty"`
	Enum        []any                    `json:"enum,omitempty"`
	Pattern     string                   `json:"pattern,omitempty"`
	WrongText   string                   `json:"patternErrorMessage,omitempty"` // editors show it for the pattern; validators skip it
	Minimum     *float64                 `json:"minimum,omitempty"`
	Maximum     *float64                 `json:"maximum,omitempty"`
	MinItems    int                      `json:"minItems,omitempty"`
	MaxItems    int                      `json:"maxItems,omitempty"`
	Items       *layoutSchema            `json:"items,omitempty"`
	Required    []string                 `json:"required,omitempty"`
	Properties  map[string]*layoutSchema `json:"properties,omitempty"`
	ByPattern   map[string]*layoutSchema `json:"patternProperties,omitempty"`
	More        any                      `json:"additionalProperties,omitempty"` // false or a *layoutSchema
	Names       *layoutSchema            `json:"propertyNames,omitempty"`
	AnyOf       []*layoutSchema          `json:"anyOf,omitempty"`
	OneOf       []*layoutSchema          `json:"oneOf,omitempty"`
	AllOf       []*layoutSchema          `json:"allOf,omitempty"`
	Not         *layoutSchema            `json:"not,omitempty"`
	If          *layoutSchema            `json:"if,omitempty"`
	Then        *layoutSchema            `json:"then,omitempty"`
	Else        *layoutSchema            `json:"else,omitempty"`
	Defs        map[string]*layoutSchema `json:"$defs,omitempty"`
}

// WriteLayoutSchema writes a JSON Schema of layout files, for editors: from the tables
// that the reader decodes by, and the names that the rules know.
func WriteLayoutSchema(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	return e.Encode(schemaOf(reader.Reference(), reader.FileShape(), rules.ReaderOptions()))
}

// schemaMaker keeps what many keys share.
type schemaMaker struct {
	sections map[string]reader.Section
	names    reader.Options
	defs     map[string]*layoutSchema
}

func schemaOf(sections []reader.Section, file reader.Shape, names reader.Options) *layoutSchema {
	m := schemaMaker{sections: map[string]reader.Section{}, names: names, defs: map[string]*layoutSchema{}}
	for _, s := range sections {
		m.sections[s.Name] = s
	}
	root := m.mapping(&file)
	root.Dialect = "https://json-schema.org/draft/2020-12/schema"
	root.Title = "gapwise layout"
	root.Description = "How a model railroad is wired. What a schema cannot see, such as names that do not exist, `gapwise check` tells."
	root.OneOf = []*layoutSchema{{Required: []string{"layout"}}, {Required: []string{"module"}}}
	root.AllOf = defaultDemands(sections, &file)
	root.Defs = m.defs
	return root
}

// shape is the schema of one value.
func (m *schemaMaker) shape(s *reader.Shape) *layoutSchema {
	switch s.Form {
	case reader.OneWord:
		return &layoutSchema{Enum: handedOver(s.Words)}
	case reader.OneText:
		return m.text(s)
	case reader.OneKnown:
		return &layoutSchema{Enum: handedOver(m.known(s.Known))}
	case reader.Entry:
		return m.shared("entry-"+s.Section, func() *layoutSchema { return m.entry(m.sections[s.Section]) })
	case reader.Mapping:
		return m.mapping(s)
	case reader.Listing:
		return &layoutSchema{Type: []string{"array"}, Items: m.shape(&s.Of[0]), MinItems: s.Count, MaxItems: s.Count}
	case reader.OneOrMore:
		one := m.shape(&s.Of[0])
		return &layoutSchema{AnyOf: []*layoutSchema{one, {Type: []string{"array"}, Items: one}}}
	case reader.EitherOf:
		either := &layoutSchema{}
		for i := range s.Of {
			either.AnyOf = append(either.AnyOf, m.shape(&s.Of[i]))
		}
		return either
	}
	return &layoutSchema{}
}

// text is the schema of a text, which has a definition of its own if it has a name.
func (m *schemaMaker) text(s *reader.Shape) *layoutSchema {
	fresh := func() *layoutSchema {
		out := &layoutSchema{Type: append([]string{"string"}, s.Untyped...), Pattern: s.Pattern, WrongText: s.Says}
		if s.Pattern == "" {
			out.WrongText = ""
		}
		if len(s.Except) > 0 {
			out.Not = &layoutSchema{Enum: anys(s.Except)}
		}
		if s.Bounded {
			out.Minimum, out.Maximum = &s.Low, &s.High
		}
		return out
	}
	if s.Name == "" {
		return fresh()
	}
	return m.shared(s.Name, fresh)
}

// shared refers to a definition, which is made the first time.
func (m *schemaMaker) shared(name string, fresh func() *layoutSchema) *layoutSchema {
	if m.defs[name] == nil {
		m.defs[name] = &layoutSchema{} // an entry may hold itself
		m.defs[name] = fresh()
	}
	return &layoutSchema{Ref: "#/$defs/" + name}
}

// mapping is the schema of a map of keys, fixed ones and the owner's own.
func (m *schemaMaker) mapping(s *reader.Shape) *layoutSchema {
	out := &layoutSchema{Type: []string{"object"}, Properties: map[string]*layoutSchema{}, More: false}
	for i := range s.Keys {
		k := &s.Keys[i]
		out.Properties[k.Name] = m.key(k)
		if k.Required {
			out.Required = append(out.Required, k.Name)
		}
	}
	if len(s.Of) == 0 {
		return out
	}
	of := m.shape(&s.Of[0])
	switch {
	case s.Names == "":
		for _, name := range m.known(s.Known) {
			out.Properties[name] = of
		}
	case len(s.Keys) > 0: // which fit the pattern too
		out.Names = &layoutSchema{Pattern: s.Names}
		out.More = of
	default:
		out.ByPattern = map[string]*layoutSchema{s.Names: of}
	}
	if len(s.Except) > 0 {
		if out.Names == nil {
			out.Names = &layoutSchema{}
		}
		out.Names.Not = &layoutSchema{Enum: anys(s.Except)}
	}
	return out
}

// entry is the schema of an entry of a section. Keys that it must say itself are required
// here; what `like` may bring is, unless there is one. What may have a default in the
// file is left to defaultDemands.
func (m *schemaMaker) entry(s reader.Section) *layoutSchema {
	keys := slices.Clone(s.Keys)
	copied := slices.ContainsFunc(keys, func(k reader.Key) bool { return k.Name == "like" })
	var unlessCopied []string
	for i := range keys {
		k := &keys[i]
		switch {
		case !k.Required || k.Own:
		case s.Defaults != "":
			k.Required = false
		case copied:
			unlessCopied = append(unlessCopied, k.Name)
			k.Required = false
		}
	}
	out := m.mapping(&reader.Shape{Keys: keys})
	if len(unlessCopied) > 0 {
		out.AnyOf = []*layoutSchema{{Required: unlessCopied}, {Required: []string{"like"}}}
	}
	return out
}

// key is the schema of a key's value, with what the reference says about the key.
func (m *schemaMaker) key(k *reader.Key) *layoutSchema {
	out := m.shape(&k.Shape)
	out.Description = describe(k)
	return out
}

// describe says what a key means, what it takes, and what leaving it out means.
func describe(k *reader.Key) string {
	var notes []string
	if k.Value != "" && k.Value != "text" {
		notes = append(notes, k.Value)
	}
	if k.Default != "" {
		notes = append(notes, "unsaid: "+k.Default)
	}
	if len(notes) == 0 {
		return k.Doc
	}
	return k.Doc + " (" + strings.Join(notes, "; ") + ")"
}

// known are the names that the rules know.
func (m *schemaMaker) known(k reader.Known) []string {
	switch k {
	case reader.PracticeNames:
		return m.names.PracticeNames
	case reader.LimitNames:
		return m.names.LimitNames
	}
	return slices.DeleteFunc(slices.Clone(m.names.RuleNames), func(name string) bool { return slices.Contains(m.names.NeverAccepted, name) })
}

// oldYes are the words that YAML 1.1 reads as true, oldNo those it reads as false.
var (
	oldYes = []string{"y", "yes", "true", "on"}
	oldNo  = []string{"n", "no", "false", "off"}
)

// handedOver are words with what an editor may make of them: yes may be true, 1 a number.
func handedOver(words []string) []any {
	out := anys(words)
	for _, w := range words {
		var was any
		switch number, err := strconv.ParseFloat(w, 64); {
		case err == nil:
			was = number
		case slices.Contains(oldYes, strings.ToLower(w)):
			was = true
		case slices.Contains(oldNo, strings.ToLower(w)):
			was = false
		default:
			continue
		}
		if !slices.Contains(out, was) {
			out = append(out, was)
		}
	}
	return out
}

func anys(words []string) []any {
	out := make([]any, len(words))
	for i, w := range words {
		out[i] = w
	}
	return out
}
