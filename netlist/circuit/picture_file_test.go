package circuit_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// picture is one picture of testdata/pictures; README.txt there says what the lines mean.
type picture struct {
	name       string // file, and number of the picture in it
	kind, word string // of `piece`
	keys       []string
	yaml       []string
	always     [][]string
	settings   []pictureSetting // in the order of the file; moments of `passing` among them
	maybes     []maybe
	neverBoth  bool // a comment says that a member is never on two rails at once
}

// pictureSetting is the partition of one setting.
type pictureSetting struct {
	name  string
	lines [][]string
}

// maybe are two members that may be one, in one setting or ("") in all.
type maybe struct {
	setting string
	pair    [2]string
}

// pieceKeys are the keys of a piece that pictures type as the layout language does.
var pieceKeys = []string{"wiring", "jumpers", "throw", "frog-gets", "construction", "first", "tracks", "feed", "A", "split-at", "dead-arc", "a", "b"}

// pictures reads every picture there is.
func pictures(t testing.TB) []picture {
	t.Helper()
	files, err := filepath.Glob("testdata/pictures/*.txt")
	if err != nil {
		t.Fatal(err)
	}
	var all []picture
	for _, file := range files {
		if filepath.Base(file) == "README.txt" {
			continue
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		ps, err := parsePictures(strings.TrimSuffix(filepath.Base(file), ".txt"), string(text))
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		all = append(all, ps...)
	}
	return all
}

// parsePictures reads the pictures of one file.
func parsePictures(name, text string) ([]picture, error) {
	var ps []picture
	neverBoth := false
	for number, line := range strings.Split(text, "\n") {
		if strings.HasPrefix(line, "#") {
			neverBoth = neverBoth || strings.Contains(line, "never both") || strings.Contains(line, "never on both")
			continue
		}
		if strings.TrimSpace(line) == "" {
			continue
		}
		key, value, found := strings.Cut(line, ":")
		if !found {
			return nil, fmt.Errorf("line %d has no key", number+1)
		}
		if strings.TrimSpace(key) == "piece" {
			ps = append(ps, picture{name: fmt.Sprintf("%s#%d", name, len(ps)+1), neverBoth: neverBoth})
		}
		if len(ps) == 0 {
			return nil, fmt.Errorf("line %d stands before any piece", number+1)
		}
		if err := ps[len(ps)-1].take(strings.TrimSpace(key), value); err != nil {
			return nil, fmt.Errorf("line %d: %w", number+1, err)
		}
	}
	if len(ps) == 0 {
		return nil, fmt.Errorf("no picture")
	}
	for i := range ps {
		if err := ps[i].check(); err != nil {
			return nil, fmt.Errorf("%s: %w", ps[i].name, err)
		}
	}
	return ps, nil
}

// take enters one line.
func (p *picture) take(key, value string) error {
	word, setting, _ := strings.Cut(key, " ")
	switch {
	case key == "piece":
		p.kind, p.word, _ = strings.Cut(strings.TrimSpace(value), " ")
	case key == "yaml":
		p.yaml = append(p.yaml, strings.TrimPrefix(value, " "))
	case key == "always":
		p.always = append(p.always, strings.Fields(value))
	case word == "passing" || (word == "set" && setting != ""):
		switch {
		case key == "passing":
			setting = key
		case word == "passing":
			setting = word + ", " + setting
		}
		i := slices.IndexFunc(p.settings, func(s pictureSetting) bool { return s.name == setting })
		if i < 0 {
			i = len(p.settings)
			p.settings = append(p.settings, pictureSetting{name: setting})
		}
		p.settings[i].lines = append(p.settings[i].lines, strings.Fields(value))
	case word == "maybe":
		pair := strings.Fields(value)
		if len(pair) != 2 {
			return fmt.Errorf("maybe joins two members, not %d", len(pair))
		}
		p.maybes = append(p.maybes, maybe{setting, [2]string(pair)})
	case slices.Contains(pieceKeys, key):
		p.keys = append(p.keys, key+": "+strings.TrimSpace(value))
	default:
		return fmt.Errorf("unknown key %q", key)
	}
	return nil
}

// check sees that every partition has the same members, each once, and that maybes name them.
func (p *picture) check() error {
	members := p.members()
	if len(members) == 0 {
		return fmt.Errorf("no members")
	}
	if len(slices.Compact(slices.Clone(members))) < len(members) {
		return fmt.Errorf("always has a member twice: %v", members)
	}
	for _, s := range append(p.settings, pictureSetting{"always", p.always}) {
		if got := slices.Sorted(slices.Values(slices.Concat(s.lines...))); !slices.Equal(got, members) {
			return fmt.Errorf("%s has the members %v, want %v", s.name, got, members)
		}
	}
	for _, m := range p.maybes {
		known := m.setting == "" || slices.ContainsFunc(p.settings, func(s pictureSetting) bool { return s.name == m.setting })
		if !known || !slices.Contains(members, m.pair[0]) || !slices.Contains(members, m.pair[1]) {
			return fmt.Errorf("maybe %s: %v names what is not there", m.setting, m.pair)
		}
	}
	return nil
}

// members are the members of the picture, sorted.
func (p *picture) members() []string {
	return slices.Sorted(slices.Values(slices.Concat(p.always...)))
}

// certain is a partition as drawn.
func (p *picture) certain(lines [][]string) []string { return p.loosest(lines, "always", nil) }

// loosest is a partition as drawn, with the groups that may be one joined.
func (p *picture) loosest(lines [][]string, setting string, maybes []maybe) []string {
	members := p.members()
	index := func(m string) int32 { return int32(slices.Index(members, m)) }
	g := newGroups(len(members))
	for _, line := range lines {
		for _, m := range line {
			g.join(index(line[0]), index(m))
		}
	}
	for _, m := range maybes {
		if m.setting == "" || m.setting == setting {
			g.join(index(m.pair[0]), index(m.pair[1]))
		}
	}
	return partition(members, func(m string) int32 { return g.find(index(m)) })
}

func TestParsePicturesRefuses(t *testing.T) {
	const good = "piece: track\nalways: a b\nalways: c\n"
	if _, err := parsePictures("x", good); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ text, want string }{
		{"# nothing", "no picture"},
		{"always: a", "line 1 stands before any piece"},
		{"piece: track\nalways", "line 2 has no key"},
		{"piece: track\nallways: a", `line 2: unknown key "allways"`},
		{"piece: track", "x#1: no members"},
		{good + "set left: a b", "x#1: left has the members [a b], want [a b c]"},
		{good + "always: b", "x#1: always has a member twice: [a b b c]"},
		{good + "maybe: a b c", "maybe joins two members, not 3"},
		{good + "maybe left: a b", "names what is not there"},
		{good + "maybe: a d", "names what is not there"},
	} {
		t.Run(tt.want, func(t *testing.T) {
			_, err := parsePictures("x", tt.text)
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v", err)
			}
		})
	}
}
