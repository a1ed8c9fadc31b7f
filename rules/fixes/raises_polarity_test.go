package fixes_test

import (
	"path/filepath"
	"testing"

	"gapwise/rules/catalogue"
	"gapwise/rules/fixes"
)

// rulesOfPolarity are the rules about polarity, reversing loops, districts, sources and track work.
var rulesOfPolarity = []string{
	"leg-to-leg-short", "feeder-crossed", "plug-fits-both-ways", "gap-polarity-mismatch",
	"frog-shorts-when-set", "contacts-short-in-passing", "leg-back-fed", "crossing-frogs-conflict", "frog-dead", "turntable-crosses-polarity", "turntable-bridge-dead",
	"loop-ungapped", "loop-gap-one-rail", "loop-gap-missing-end", "reverser-missing",
	"reversing-section-short", "reversing-sections-touch", "reversing-gap-weakly-fed",
	"gap-missing-between-districts", "gap-one-rail", "gap-staggered",
	"boosters-in-parallel", "boosters-out-of-phase", "boosters-differ-in-volts", "boosters-without-common-reference", "command-stations-meet", "breakers-open-different-legs", "bus-closed-ring",
	"changeover-ties-sources", "changeover-leg-stays", "cab-meets-dcc", "programming-track-joined", "source-feeds-nothing",
}

// notMendedPolarity are the findings of these rules that no single mend takes away, by rule, layout and place, and why.
var notMendedPolarity = map[string]string{
	"loop-ungapped/raises-beside-a-crossed-feeder.yaml: loop":                                                                          "no train says its length, so no section can be proposed",
	"gap-missing-between-districts/raises-bond-into-loop.yaml: the bond from loop @ 13 ft 3 in (4.04 m) to loop @ 13 ft 9 in (4.19 m)": "once the short is gone, what the train draws is asked for, and the file does not say it",
	"gap-missing-between-districts/raises-cab-not-cut-off.yaml: line @ 9 ft .. 12 ft (2.74 m to 3.66 m)":                               "cut off, the cab still meets the booster at the gap, which is a caution of its own",
	"boosters-without-common-reference/raises-one-forbids.yaml: booster two":                                                           "the makers have to say whether the two go together at all",
	"cab-meets-dcc/raises-always.yaml: spur @ 0 in (0 mm)":                                                                             "it takes a changeover and a section without any source between the two: a plan of its own",
	"cab-meets-dcc/raises-by-changeover.yaml: far @ 0 in (0 mm)":                                                                       "as before",
	"programming-track-joined/raises-gap-without-changeover.yaml: bench @ 0 in (0 mm)":                                                 "a changeover between two boosters leaves their phase to be tested with a meter, which is told as not checked",
	"programming-track-joined/raises-no-gap.yaml: bench":                                                                               "the file has no output for programming to hang it from",
	"programming-track-joined/raises-on-the-main.yaml: bench":                                                                          "as before",
	"source-feeds-nothing/raises-nothing-hung-yet.yaml: breaker west":                                                                  "nothing is there yet to be hung from it",
}

// TestPolarityMends tries the mends of every layout that raises one of these rules: each finding of the rule has one that takes it away
// and does no harm, but for those listed.
func TestPolarityMends(t *testing.T) {
	seen := map[string]bool{}
	for _, id := range rulesOfPolarity {
		if catalogue.ByID(id) == nil {
			t.Errorf("no rule %s", id)
		}
		files, err := filepath.Glob(filepath.Join("..", "catalogue", "testdata", id, "raises-*.yaml"))
		if err != nil || len(files) == 0 {
			t.Errorf("%s: no layouts: %v", id, err)
		}
		for _, file := range files {
			r := checked(t, file)
			if all, err := fixes.Each(t.Context(), r); err != nil || !all {
				t.Fatal(all, err)
			}
			for i := range r.Findings {
				f := &r.Findings[i]
				if f.Rule != id {
					continue
				}
				name := id + "/" + filepath.Base(file) + ": " + f.Place.Text
				_, listed := notMendedPolarity[name]
				seen[name] = true
				switch {
				case listed && f.FixChecked:
					t.Errorf("%s is listed, and is mended: %s", name, f.Fix)
				case !listed && !f.FixChecked:
					t.Errorf("%s: none of %d mends does: %s", name, len(f.Mends), f.Fix)
				}
			}
		}
	}
	for name := range notMendedPolarity {
		if !seen[name] {
			t.Errorf("%s is listed, and no layout raises it", name)
		}
	}
}
