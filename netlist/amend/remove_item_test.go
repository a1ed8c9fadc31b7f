package amend

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/reader"
)

// TestRemoveItem takes entries out of lists, written in each way.
func TestRemoveItem(t *testing.T) {
	for _, c := range []struct {
		name, was, is string
		gone          []int32
	}{
		{
			"on lines", "bonds:\n  - {from: M1 @ 1 ft, to: M2 @ 1 ft, rails: both}  # one\n  - {from: M1 @ 2 ft, to: M2 @ 2 ft, rails: both}  # two\n",
			"bonds:\n  - {from: M1 @ 2 ft, to: M2 @ 2 ft, rails: both}  # two\n",
			[]int32{0},
		},
		{
			"in brackets", "bonds: [{from: M1 @ 1 ft, to: M2 @ 1 ft, rails: both}, {from: M1 @ 2 ft, to: M2 @ 2 ft, rails: both}, {from: M1 @ 3 ft, to: M2 @ 3 ft, rails: both}]\n",
			"bonds: [{from: M1 @ 2 ft, to: M2 @ 2 ft, rails: both}]\n",
			[]int32{2, 0, 2},
		},
		{"the last", "bonds:\n  - {from: M1 @ 1 ft, to: M2 @ 1 ft, rails: both}\nlabel: here\n", "label: here\n", []int32{0}},
		{"all", "bonds: [{from: M1 @ 1 ft, to: M2 @ 1 ft, rails: both}, {from: M1 @ 2 ft, to: M2 @ 2 ft, rails: both}]\nlabel: here\n", "label: here\n", []int32{1, 0}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := New(readText(t, head+c.was), reader.Options{})
			for _, i := range c.gone {
				w.RemoveItem("bonds", i)
			}
			if got := strings.TrimPrefix(text(t, w), head); got != c.is {
				t.Errorf("got\n%s\nwant\n%s", got, c.is)
			}
		})
	}
	w := New(readText(t, head), reader.Options{})
	w.RemoveItem("bonds", 0)
	w.RemoveItem("feeders", 0)
	var refused *RefusedError
	if _, err := w.Texts(); !errors.As(err, &refused) || len(refused.Refusals) != 2 {
		t.Error(err)
	}
}

// TestCopies lists what changes with an entry.
func TestCopies(t *testing.T) {
	w := New(readText(t, head+"breakers:\n  a1: {from: booster front, trips-at: 3 A, trip-time: 10 ms}\n  b1: {like: a1, from: booster front}\n  c1: {like: b1, from: booster front, trip-time: 5 ms}\n  d1: {like: b1, from: booster front, trips-at: 2 A}\n  e1: {like: d1, from: booster front}\n"), reader.Options{})
	if got := w.Copies("breakers", "a1", "trips-at"); !slices.Equal(got, []string{"b1", "c1"}) {
		t.Error(got)
	}
	if got := w.Copies("breakers", "a1", "from"); len(got) > 0 {
		t.Error(got)
	}
	if got := w.Copies("breakers", "e1", "trips-at"); len(got) > 0 {
		t.Error(got)
	}
}
