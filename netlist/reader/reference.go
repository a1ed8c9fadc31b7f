package reader

// Section documents one section of a layout file: the keys of its entries.
type Section struct {
	Name     string // the top-level key
	Doc      string
	Keys     []Key
	Defaults string // its key under `defaults`; "" for none
}

// Key documents one key: what it takes, whether it must be there, and what leaving it
// out means ("" for unknown).
type Key struct {
	Name     string
	Value    string   // "length", "yes, no or unknown", or the words it takes
	Words    []string // the words, where it takes one of them
	Required bool
	Default  string
	Doc      string
	Shape    Shape
	Own      bool // neither copied by `like` nor a default
	Lent     bool // a file that includes a module may have its default
}

// Reference lists every section in the order of the language's description. It is made
// from the tables that decode the files.
func Reference() []Section {
	ordered := []*section{
		topSection, includeSection,
		trackSection, turnoutSection, wiringSection, threeWaySection, crossingSection, slipSection, turntableSection, transferTableSection,
		neverTogetherSection, gapSection, jointSection, commonRailSection, bondSection, feederSection,
		supplySection, boosterSection, commonSection, cabSection, breakerSection, reverserSection, detectorSection, inLineSection,
		changeoverSection, positionSection, plugSection, busSection, terminatorSection, loadSection,
		blockSection, districtSection, trainSection, operationsSection, stockSection, stockWireSection, acceptSection,
	}
	sections := make([]Section, len(ordered))
	for i, s := range ordered {
		sections[i] = Section{Name: s.name, Doc: s.doc, Keys: s.references(), Defaults: s.defaults}
	}
	return sections
}

// shape is what may stand under k.
func (k *key) shape() Shape {
	if k.kind.shape == nil {
		return Shape{}
	}
	return k.kind.shape(k)
}

func (s *section) references() []Key {
	keys := make([]Key, len(s.keys))
	for i := range s.keys {
		keys[i] = s.keys[i].reference()
	}
	return keys
}

func (k *key) reference() Key {
	out := Key{
		Name: k.name, Value: k.kind.value, Required: k.required, Default: k.def, Doc: k.doc,
		Shape: k.shape(), Own: k.own, Lent: k.lent,
	}
	for _, w := range k.words {
		if w != "" {
			out.Words = append(out.Words, w)
		}
	}
	if k.kind.value == wordKind.value {
		out.Value = orList(k.words)
	}
	return out
}
