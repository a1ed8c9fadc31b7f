package gauge_test

import (
	"context"
	"path/filepath"
	"testing"

	"gapwise/netlist/amend"
	"gapwise/netlist/reader"

	"gapwise/rules"
	"gapwise/rules/gauge"
)

// TestWrittenAsChosen: the text that is written, read again, is the layout that was chosen in memory, wire by wire, and chooses the
// same again.
func TestWrittenAsChosen(t *testing.T) {
	ctx := context.Background()
	// one file, one with rows, modules used twice, metric sizes
	names := []string{"tin-harbour/sound", "quillow-meet/sound", "tarn-fold/sound"}
	if testing.Short() {
		names = names[:1]
	}
	for _, name := range names {
		file := filepath.Join("../../testdata", name+".yaml")
		l, problems, err := reader.ReadFile(ctx, file, rules.ReaderOptions())
		if err != nil || len(problems) > 0 {
			t.Fatal(file, err, problems)
		}
		r, err := rules.Check(ctx, l, rules.Options{})
		if err != nil {
			t.Fatal(err)
		}
		c, err := gauge.Choose(ctx, r, gauge.Ask{WireDrop: 2 * gauge.DefaultWireDrop, Work: 300})
		if err != nil {
			t.Fatal(err)
		}
		w := amend.New(l, rules.ReaderOptions())
		c.Amend(w)
		got, problems, err := w.Reread(ctx)
		if err != nil || len(problems) > 0 {
			t.Errorf("%s: %v %v", file, err, problems)
			continue
		}
		want := c.Chosen()
		changed := 0
		for i := range want.Buses {
			if want.Buses[i].Wire.Lo != l.Buses[i].Wire.Lo {
				changed++
			}
			if g := got.Buses[i].Wire; g.Lo != want.Buses[i].Wire.Lo || g.Hi != want.Buses[i].Wire.Hi {
				t.Errorf("%s: bus %s is of %s, chosen %s", file, want.Buses[i].Name, g, want.Buses[i].Wire)
			}
		}
		if len(got.Feeders) != len(want.Feeders) {
			t.Errorf("%s: %d feeders, were %d", file, len(got.Feeders), len(want.Feeders))
			continue
		}
		for i := range want.Feeders {
			if g := got.Feeders[i].Wire; g.Lo != want.Feeders[i].Wire.Lo || g.Hi != want.Feeders[i].Wire.Hi {
				t.Errorf("%s: the feeder at %s is of %s, chosen %s", file, want.Feeders[i].Place.Text, g, want.Feeders[i].Wire)
			}
		}
		if changed == 0 {
			t.Errorf("%s: no bus was changed", file)
		}
	}
}
