package amend

import (
	"errors"
	"strings"
	"testing"

	"gapwise/netlist/reader"
)

// TestUnset takes keys away, written in each way.
func TestUnset(t *testing.T) {
	for _, c := range []struct{ name, was, is string }{
		{"in braces", "buses: {here: {from: booster front, to: here @ 0 ft}}\n", "buses: {here: {from: booster front}}\n"},
		{"the first", "buses: {here: {to: here @ 0 ft, from: booster front}}  # it\n", "buses: {here: {from: booster front}}  # it\n"},
		{"on lines", "buses:\n  here:\n    from: booster front  # from\n    to: here @ 0 ft  # to\n    label: it\n", "buses:\n  here:\n    from: booster front  # from\n    label: it\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := New(readText(t, head+c.was), reader.Options{})
			w.Unset("buses", "here", "to")
			if got := strings.TrimPrefix(text(t, w), head); got != c.is {
				t.Errorf("got\n%s\nwant\n%s", got, c.is)
			}
		})
	}
	w := New(readText(t, head+"buses: {here: {from: booster front}}\n"), reader.Options{})
	w.Unset("buses", "here", "to")
	w.Unset("buses", "there", "to")
	var refused *RefusedError
	if _, err := w.Texts(); !errors.As(err, &refused) || len(refused.Refusals) != 2 {
		t.Error(err)
	}
}
