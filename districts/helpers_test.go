package districts_test

import (
	"context"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"testing"

	"gapwise/districts"
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"
	"gapwise/netlist/reader"
)

// readText reads a layout typed as text; an error holds its mistakes.
func readText(text string) (*layout.Layout, error) {
	open := func(name string) ([]byte, error) {
		if name != "layout.yaml" {
			return nil, fs.ErrNotExist
		}
		return []byte(text), nil
	}
	l, problems, err := reader.Read(context.Background(), open, "layout.yaml", reader.Options{})
	if err != nil {
		return nil, err
	}
	if len(problems) > 0 {
		var b strings.Builder
		if err := l.Files.Render(&b, problems); err != nil {
			return nil, err
		}
		return nil, fmt.Errorf("%s", b.String())
	}
	return l, nil
}

// traceText reads, builds and traces a layout typed as text.
func traceText(text string) (*districts.Trace, error) {
	l, err := readText(text)
	if err != nil {
		return nil, err
	}
	c, err := circuit.Build(context.Background(), l, circuit.OptionsFor(l))
	if err != nil {
		return nil, err
	}
	return districts.Run(context.Background(), c)
}

// trace is traceText for a layout that must be sound as text.
func trace(t *testing.T, text string) *districts.Trace {
	t.Helper()
	tr, err := traceText(text)
	if err != nil {
		t.Fatal(err)
	}
	return tr
}

// place finds a place that must be there.
func place(t *testing.T, tr *districts.Trace, text string) layout.Place {
	t.Helper()
	p, err := tr.C.Layout.FindPlace(text)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// spotAt is the spot of a place that must be there.
func spotAt(t *testing.T, tr *districts.Trace, text string) int32 {
	t.Helper()
	w, ok := tr.At(place(t, tr, text))
	if !ok {
		t.Fatalf("%s is nowhere", text)
	}
	return w.Spot
}

// inFeet prints metres as feet, to a hundredth.
func inFeet(metres float64) string {
	s := fmt.Sprintf("%.2f", metres/0.3048)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".") + " ft"
}

// names joins the words of some things, "-" for none.
func names[T any](list []T, one func(T) string) string {
	if len(list) == 0 {
		return "-"
	}
	words := make([]string, len(list))
	for i, x := range list {
		words[i] = one(x)
	}
	return strings.Join(words, ", ")
}

// sorted is names in the order of the alphabet.
func sorted[T any](list []T, one func(T) string) string {
	if len(list) == 0 {
		return "-"
	}
	words := make([]string, len(list))
	for i, x := range list {
		words[i] = one(x)
	}
	slices.Sort(words)
	return strings.Join(words, ", ")
}
