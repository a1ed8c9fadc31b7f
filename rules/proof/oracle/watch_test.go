package oracle

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
)

// watchedText lists what is seen on tracks, in feet.
func watchedText(ws []Watched) []string {
	var out []string
	for _, w := range ws {
		s := fmt.Sprintf("%s %.3g..%.3g", w.Place, w.From/foot, w.To/foot)
		for _, d := range slices.Sorted(maps.Keys(w.Seen)) {
			s += " " + d + " " + w.Seen[d]
		}
		if w.Dead {
			s += " dead"
		}
		out = append(out, s)
	}
	slices.Sort(out)
	return out
}

func TestWatch(t *testing.T) {
	const a1, a2, plain = "{from: main @ 9 ft, A-from: d1 @ 2 ft}", "{from: main @ 9 ft, A-from: d2 @ 2 ft}", "main @ 9 ft"
	line := func(gaps, at3, at15 string) string {
		return shelf + gaps + "feeders: {line: {A: left, 3 ft: " + at3 + ", 15 ft: " + at15 + "}}\n"
	}
	tests := []struct {
		name, text string
		want       []string
	}{
		{"no detector", line("", plain, plain), []string{"line 0..20"}},
		{"one detector", line("", a1, a1), []string{"line 0..20 d1 all"}},
		{"a wire past the detector", line("", a1, plain), []string{"line 0..20 d1 part"}},
		{"two detectors on one rail", line("", a1, a2), []string{"line 0..20 d1 part d2 part"}},
		{"two detectors parted", line("gaps: {line: [{at: 10 ft, rails: left}]}\n", a1, a2), []string{"line 0..10 d1 all", "line 10..20 d2 all"}},
		// The other rail is watched by nobody, wherever it is cut; a rail with no leg carries nothing.
		{"cut in the other rail", line("gaps: {line: [{at: 10 ft, rails: right}]}\n", a1, a1), []string{"line 0..10 d1 all", "line 10..20 d1 all"}},
		{"dead beyond a gap", shelf + "gaps: {line: [10 ft]}\nfeeders: {line: {A: left, 3 ft: " + a1 + "}}", []string{"line 0..10 d1 all", "line 10..20 dead"}},
		{"gaps apart in the two rails", line("gaps: {line: [{at: 10 ft, rails: left}, {at: 12 ft, rails: right}]}\n", a1, a2), []string{"line 0..10 d1 all", "line 10..12 d2 all", "line 12..20 d2 all"}},
		{"over a joint nobody knows", line("joints: {line: [{at: 10 ft, kind: unknown}]}\n", a1, a2), []string{"line 0..10 d1 unsure d2 unsure", "line 10..20 d1 unsure d2 unsure"}},
		{"detectors in series", shelf + "detectors: {d3: {from: d1 @ 1 ft, leg: A}}\nbuses: {d3: {from: detector d3, legs: A}}\nfeeders: {line: {A: left, 3 ft: {from: main @ 9 ft, A-from: d3 @ 1 ft}}}", []string{"line 0..20 d1 all d3 all"}},
		{"a detector above and one below", shelf + "detectors: {d3: {from: d1 @ 1 ft, leg: A}}\nbuses: {d3: {from: detector d3, legs: A}}\nfeeders: {line: {A: left, 3 ft: {from: main @ 9 ft, A-from: d3 @ 1 ft}, 15 ft: " + a1 + "}}", []string{"line 0..20 d1 all d3 part"}},
		// All current of a reversing section comes through both legs of its reverser, whichever way it lies.
		{"a detector before a reverser", shelf + "detectors: {before: {from: main @ 1 ft, leg: A}}\nbuses: {b: {from: detector before, length: 3 ft}, r: {from: reverser r, length: 3 ft}}\nreversers: {r: {from: b @ 1 ft, switching: automatic}}\nfeeders: {line: {A: left, 3 ft: r @ 1 ft}}", []string{"line 0..20 before all"}},
		// The rail beyond the switched inner rail has its leg by the blade, past the spur's own detector, and only when set so.
		{
			"by setting", fork + "turnouts: {T1: {hand: left, wiring: selective}}\ngaps: {spur: [{at: 1 ft, rails: left}]}\nfeeders: {lead: {A: left, 3 ft: main @ 3 ft}, spur: {A: left, 3 ft: " + a1 + "}}",
			[]string{"lead 0..6", "main 0..6", "main 0..6 dead", "spur 0..1", "spur 1..6 d1 all"},
		},
		{"a switch", shelf + "in-line: {k: {from: d1 @ 1 ft, kind: switch, leg: A}}\nbuses: {s: {from: in-line k, legs: A}}\nfeeders: {line: {A: left, 3 ft: {from: main @ 9 ft, A-from: s @ 1 ft}}}", []string{"line 0..20 d1 all", "line 0..20 dead"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			ws, err := reading(t, merged(t, base, tt.text)).Watch()
			if err != nil {
				t.Fatal(err)
			}
			got := slices.DeleteFunc(watchedText(ws), func(s string) bool { return strings.HasPrefix(s, "T1") })
			if !slices.Equal(got, tt.want) {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

// Tracks are covered from end to end in every setting: settings told add up to all there are.
func TestWatchCoversAllRail(t *testing.T) {
	tried := 0
	for f, l := range catalogued(t) {
		if len(l.pieces) > 3 {
			continue
		}
		ws, err := l.Watch()
		if err != nil {
			t.Errorf("%s: %v", f, err)
			continue
		}
		settings := map[string]int{}
		for _, w := range ws {
			if l.trackNamed(w.Place) >= 0 {
				settings[fmt.Sprintf("%s %.4f", w.Place, w.From)] += w.Settings
			}
		}
		all := slices.Collect(maps.Values(settings))
		if len(all) > 0 && slices.Min(all) != slices.Max(all) {
			t.Errorf("%s: %v", f, settings)
		}
		tried++
	}
	if tried < 50 {
		t.Errorf("only %d layouts", tried)
	}
}
