package circuit_test

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/reader"
	"gapwise/netlist/source"
)

const (
	ft = 0.3048 // metres
	in = ft / 12
)

// head begins every layout of these tests.
const head = "gapwise: 1\nlayout: Test\n"

// power is a booster with one bus, ring, 40 ft long.
const power = `supplies: {wall: {volts: 18 V}}
boosters: {one: {supply: wall, volts: 15 V}}
buses:
  ring: {from: booster one, wire: 14 AWG, length: 40 ft}
`

// read reads a layout of some files, the first of them layout.yaml.
func read(files map[string]string) (*layout.Layout, []source.Problem, error) {
	return readFrom(func(name string) ([]byte, error) {
		text, found := files[name]
		if !found {
			return nil, errors.New("no such file")
		}
		return []byte(text), nil
	})
}

func readFrom(open func(name string) ([]byte, error)) (*layout.Layout, []source.Problem, error) {
	return reader.Read(context.Background(), open, "layout.yaml", reader.Options{})
}

// fataler is what both testing and rapid have.
type fataler interface {
	Helper()
	Fatalf(format string, args ...any)
}

// build reads a layout that must have no problems and builds it as its practice says.
func build(t fataler, text string) *circuit.Circuit {
	t.Helper()
	return buildFiles(t, map[string]string{"layout.yaml": text})
}

// buildFiles is build for a layout of several files.
func buildFiles(t fataler, files map[string]string) *circuit.Circuit {
	t.Helper()
	l, problems, err := read(files)
	if err != nil {
		t.Fatalf("%v", err)
	}
	if len(problems) > 0 {
		var b strings.Builder
		if err := l.Files.Render(&b, problems); err != nil {
			t.Fatalf("%v", err)
		}
		t.Fatalf("%s\nin\n%s", b.String(), files["layout.yaml"])
	}
	c, err := circuit.Build(context.Background(), l, circuit.OptionsFor(l))
	if err != nil {
		t.Fatalf("%v", err)
	}
	return c
}

// piece finds a piece by name.
func piece(t fataler, c *circuit.Circuit, name string) layout.PieceID {
	t.Helper()
	i := slices.IndexFunc(c.Layout.Pieces, func(p layout.Piece) bool { return p.Name == name })
	if i < 0 {
		t.Fatalf("no piece %s", name)
	}
	return layout.PieceID(i)
}

// endNode is a rail at an end of a piece: "M1 start left".
func endNode(t fataler, c *circuit.Circuit, where string) int32 {
	t.Helper()
	words := strings.Fields(where)
	p := piece(t, c, words[0])
	rail := slices.Index([]string{"left", "right"}, words[2])
	for e, end := range c.Layout.Pieces[p].Ends {
		if end.Name == words[1] {
			return c.Spots[c.EndSpot[p][e]].Node[rail]
		}
	}
	t.Fatalf("no end %s", where)
	return -1
}

// device finds a device by name.
func device(t fataler, c *circuit.Circuit, name string) int32 {
	t.Helper()
	i := slices.IndexFunc(c.Devices, func(d circuit.Device) bool { return d.Name == name })
	if i < 0 {
		t.Fatalf("no device %s", name)
	}
	return int32(i)
}

// together tells how two rails are joined in every setting: "yes", "perhaps" or "no".
func together(t fataler, c *circuit.Circuit, x, y string) string {
	t.Helper()
	a, b := endNode(t, c, x), endNode(t, c, y)
	sure, loose := joined(c, surely), joined(c, perhaps)
	switch {
	case sure.find(a) == sure.find(b):
		return "yes"
	case loose.find(a) == loose.find(b):
		return "perhaps"
	default:
		return "no"
	}
}

// check compares two texts line by line.
func check(t *testing.T, got, want string) {
	t.Helper()
	got, want = strings.TrimSpace(got), strings.TrimSpace(want)
	if got == want {
		return
	}
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range max(len(g), len(w)) {
		switch {
		case i >= len(g):
			t.Errorf("line %d is missing: %s", i+1, w[i])
		case i >= len(w):
			t.Errorf("line %d is too much: %s", i+1, g[i])
		case g[i] != w[i]:
			t.Errorf("line %d\n got: %s\nwant: %s", i+1, g[i], w[i])
		}
	}
}

// sortedLines sorts the lines of a text.
func sortedLines(text string) string {
	lines := strings.Split(strings.TrimSpace(text), "\n")
	slices.Sort(lines)
	return strings.Join(lines, "\n")
}
