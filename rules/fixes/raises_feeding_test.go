package fixes_test

import (
	"path/filepath"
	"testing"

	"gapwise/rules/catalogue"
	"gapwise/rules/fixes"
)

// rulesOfFeeding are the rules about feeding, detection, blocks, gaps, movement, power and protection.
var rulesOfFeeding = []string{
	"rail-dead", "rail-one-leg-only", "feeder-missing-at-turnout-side", "feeder-missing-at-expansion-gap", "rail-length-without-feeder", "feeder-spacing",
	"feeder-too-long", "feeder-too-thin", "only-one-feeder",
	"detector-bypassed", "detector-on-wrong-leg", "rail-shared-by-detectors", "detector-differs-from-meant", "detector-sees-more-than-its-block", "detector-sees-nothing",
	"false-occupancy", "wheelset-not-seen", "detector-drop-uneven",
	"block-differs-from-meant", "block-undeclared", "block-shorter-than-train", "sidings-not-insulated", "turnout-outside-main-block", "helix-not-apart",
	"gap-unfilled", "gap-in-loose-track", "gap-beyond-fouling-point", "gap-short-of-fouling-point",
	"expansion-gap-missing", "expansion-gap-off-centre", "expansion-gap-parts-districts", "gap-may-close", "track-end-conducts", "lift-out-approach-live",
	"short-too-weak-to-trip", "short-too-weak-under-dcc", "wire-hot-before-trip", "wire-energy-let-through", "bus-drop", "feeder-drop", "rail-drop", "bus-ringing",
	"source-exceeds-limited-power", "breaker-not-before-booster", "district-overloaded", "breaker-trips-at-inrush", "supply-undersized", "booster-volts-out-of-range",
	"reverser-trips-late", "acceptance-stale", "household-mains",
}

// notMendedAlone are the findings of these rules that no single mend takes away, by rule, layout and place, and why.
var notMendedAlone = map[string]string{
	"rail-dead/raises-ladder-no-setting-feeds.yaml: Y2 @ 0 in (0 mm)":         "three tracks behind blades need a feeder each; one brings the rest to light",
	"detector-differs-from-meant/raises-another-detector.yaml: block b2":      "detector a2 is meant for no block, and sees nothing once its feeders pass a3",
	"detector-sees-nothing/raises-nothing-hangs.yaml: detector east":          "no block is meant to have it, and no fix takes a device out",
	"block-shorter-than-train/raises-a-note.yaml: block middle":               "the gaps are where the blocks are meant to part: what is meant has to change first",
	"block-shorter-than-train/raises-main.yaml: block middle":                 "as before",
	"block-shorter-than-train/raises-legs-do-not-add-up.yaml: block junction": "as before",
	"turnout-outside-main-block/raises-in-yard-block.yaml: T1":                "only what is meant differs from the rule of thumb",
	"breaker-trips-at-inrush/raises-lit-coaches.yaml: booster one":            "more than the booster is rated for: its track has to be divided, a plan of its own",
	"breaker-trips-at-inrush/raises-lit-coaches.yaml: breaker west":           "as before",
	"breaker-trips-at-inrush/raises-lit-coaches.yaml: breaker east":           "as before",
}

// TestFeedingMends tries the mends of every layout that raises one of these rules: each finding of the rule has one that takes it away
// and does no harm, but for those listed.
func TestFeedingMends(t *testing.T) {
	seen := map[string]bool{}
	for _, id := range rulesOfFeeding {
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
				_, listed := notMendedAlone[name]
				seen[name] = true
				switch {
				case id == "household-mains":
					if len(f.Mends) > 0 {
						t.Errorf("%s: mains are for a licensed electrician, and it has mends", name)
					}
				case listed && f.FixChecked:
					t.Errorf("%s is listed, and is mended: %s", name, f.Fix)
				case !listed && !f.FixChecked:
					t.Errorf("%s: none of %d mends does: %s", name, len(f.Mends), f.Fix)
				}
			}
		}
	}
	for name := range notMendedAlone {
		if !seen[name] {
			t.Errorf("%s is listed, and no layout raises it", name)
		}
	}
}
