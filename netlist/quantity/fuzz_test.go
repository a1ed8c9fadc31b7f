package quantity

import (
	"strings"
	"testing"
	"unicode/utf8"

	"gapwise/netlist/source"
)

// Whatever the text: no panic, a known value finite, in order and within its bounds, an
// error that marks a part of the text, and parse-print-parse stable.
func FuzzParse(f *testing.F) {
	for _, c := range spelled {
		f.Add(uint8(c.kind), c.text)
	}
	for _, c := range refused {
		f.Add(uint8(c.kind), c.text)
	}
	f.Fuzz(func(t *testing.T, k uint8, text string) {
		kind := Kind(k % uint8(kindEnd))
		w, err := parse(kind, text, source.Pos{})
		if err != nil {
			if err.Offset < 0 || err.Width < 0 || err.Offset+err.Width > utf8.RuneCountInString(text) {
				t.Errorf("%q: marks %d+%d", text, err.Offset, err.Width)
			}
			if err.Message == "" || strings.ContainsAny(err.Message, "\n\r\x1b") || w.Said() {
				t.Errorf("%q: %q, said %v", text, err.Message, w.Said())
			}
			return
		}
		if w.State == Unknown {
			if strings.Trim(text, " \t") != "unknown" {
				t.Errorf("%q is unknown", text)
			}
			return
		}
		b := kind.Bounds()
		inside := func(v float64) bool { return v >= b.Min && v <= b.Max || v == 0 && b.zero != zeroNever }
		if !w.Known() || !finite(w.Lo) || !finite(w.Hi) || w.Lo > w.Hi || !inside(w.Lo) || !inside(w.Hi) {
			t.Fatalf("%q: %v .. %v", text, w.Lo, w.Hi)
		}
		if w.Hi == 0 && b.zero == zeroLow {
			t.Fatalf("%q: all of it 0", text)
		}
		if w.Hi > 999.9 && b.Max == 1000 {
			return // the nearest 1/8 in may be over the kilometre
		}
		printed := Format(kind, w.Value)
		back, err := parse(kind, printed, source.Pos{})
		if err != nil {
			t.Fatalf("%q prints as %q: %s", text, printed, err.Message)
		}
		if again := Format(kind, back.Value); again != printed {
			t.Fatalf("%q prints as %q, then as %q", text, printed, again)
		}
		if !w.HasGauge {
			return
		}
		if back, err = parse(kind, w.String(), source.Pos{}); err != nil || back.Gauge != w.Gauge || !back.HasGauge {
			t.Fatalf("%q: %+v prints as %s", text, w, w)
		}
	})
}
