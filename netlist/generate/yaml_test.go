package generate_test

import (
	"bytes"
	"context"
	"fmt"
	"reflect"
	"testing"

	"gapwise/netlist/generate"
	"gapwise/netlist/layout"
	"gapwise/netlist/reader"
	"gapwise/netlist/source"
)

func read(t *testing.T, text []byte) *layout.Layout {
	t.Helper()
	l, problems, err := reader.Read(context.Background(), func(string) ([]byte, error) { return text, nil }, "generated.yaml", reader.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range problems {
		if i < 5 {
			t.Errorf("%s: %s", l.Files.Position(problems[i].Pos), problems[i].Message)
		}
	}
	if len(problems) > 0 {
		t.Fatalf("%d problems", len(problems))
	}
	return l
}

// TestReadBack writes layouts, reads them, and compares everything but the places in
// the file, which only the second one has.
func TestReadBack(t *testing.T) {
	for _, size := range []int{1000, 3000} {
		for seed := range uint64(5) {
			made := generate.Layout(size, seed)
			text := generate.YAML(made)
			back := read(t, text)
			if where := difference("layout", reflect.ValueOf(*made), reflect.ValueOf(*back)); where != "" {
				t.Fatalf("%d conductors, seed %d: made and read back differ at %s", size, seed, where)
			}
			if again := generate.YAML(back); !bytes.Equal(text, again) {
				t.Fatalf("%d conductors, seed %d: written again, the layout reads differently", size, seed)
			}
		}
	}
}

var (
	posType   = reflect.TypeFor[source.Pos]()
	filesType = reflect.TypeFor[source.Files]()
)

// difference names the first field in which two values differ, "" if none does. Places
// in files are not compared, and an empty slice is no slice.
func difference(path string, a, b reflect.Value) string {
	switch {
	case a.Type() == posType, a.Type() == filesType:
		return ""
	case a.Kind() == reflect.Struct:
		for i := range a.NumField() {
			if d := difference(path+"."+a.Type().Field(i).Name, a.Field(i), b.Field(i)); d != "" {
				return d
			}
		}
		return ""
	case a.Kind() == reflect.Slice:
		if a.Len() != b.Len() {
			return fmt.Sprintf("%s: %d and %d entries", path, a.Len(), b.Len())
		}
		for i := range a.Len() {
			if d := difference(fmt.Sprintf("%s[%d]", path, i), a.Index(i), b.Index(i)); d != "" {
				return d
			}
		}
		return ""
	case a.Kind() == reflect.Array:
		for i := range a.Len() {
			if d := difference(fmt.Sprintf("%s[%d]", path, i), a.Index(i), b.Index(i)); d != "" {
				return d
			}
		}
		return ""
	case !a.Equal(b):
		return fmt.Sprintf("%s: %v and %v", path, a, b)
	default:
		return ""
	}
}

// TestDifferenceSees checks the comparison itself on two layouts with one change each.
func TestDifferenceSees(t *testing.T) {
	a, b := generate.Layout(1000, 1), generate.Layout(1000, 1)
	b.Feeders[3].From[layout.B].At.Hi += 0.01
	if got := difference("layout", reflect.ValueOf(*a), reflect.ValueOf(*b)); got == "" {
		t.Error("a moved tap was not seen")
	}
	b = generate.Layout(1000, 1)
	b.Pieces[0].Ends[1].Joint.End++
	if got := difference("layout", reflect.ValueOf(*a), reflect.ValueOf(*b)); got == "" {
		t.Error("another joint was not seen")
	}
}
