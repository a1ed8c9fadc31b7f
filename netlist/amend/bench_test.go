package amend

import (
	"testing"

	"gapwise/netlist/generate"
	"gapwise/netlist/reader"
)

// BenchmarkTexts gives every bus and feeder of a large layout another wire.
func BenchmarkTexts(b *testing.B) {
	text := string(generate.YAML(generate.Layout(20000, 1)))
	l := readText(b, text)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		w := New(l, reader.Options{})
		w.Mark = "chosen"
		for i := range l.Buses {
			w.Set("buses", l.Buses[i].Name, Key{"wire", "10 AWG"})
		}
		for i := range l.Feeders {
			w.SetFeeder(int32(i), Key{"wire", "17 AWG"})
		}
		if _, err := w.Texts(); err != nil {
			b.Fatal(err)
		}
	}
}
