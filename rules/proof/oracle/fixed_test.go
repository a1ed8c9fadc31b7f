package oracle

import (
	"slices"
	"strings"
	"testing"
)

func TestFixed(t *testing.T) {
	sound := "feeders: {line: {A: left, 3 ft: main @ 3 ft, 9 ft: main @ 9 ft, 15 ft: main @ 15 ft}}"
	crossed := strings.Replace(sound, "15 ft: main @ 15 ft", "15 ft: {from: main @ 15 ft, A: right}", 1)
	tests := []struct {
		name, before, after string
		gone, stay, added   []string
	}{
		{"nothing", sound, sound, nil, nil, nil},
		{"a feeder turned back", crossed, sound, []string{"short line @ 4.57 m"}, nil, nil},
		{"a feeder crossed", sound, crossed, nil, nil, []string{"short line @ 4.57 m"}},
		{"another matter", crossed, crossed + "\nbonds: [{from: line @ 1 ft, to: line @ 2 ft, rails: both}]", nil, []string{"short line @ 4.57 m"}, nil},
		// The gap parts the rail, but wheels join it.
		{"a gap instead of a feeder", crossed, crossed + "\ngaps: {line: [12 ft]}", []string{"short line @ 4.57 m"}, nil, []string{"wheel line @ 3.66 m"}},
		// With the feeder at 9 ft crossed too, and one more there, those at 3 ft are the fewer: the same legs meet by the same rail.
		{"another wire to blame", crossed, strings.Replace(crossed, "9 ft: main @ 9 ft", "9 ft: {from: main @ 9 ft, A: right}", 1), nil, []string{"short line @ 0.91 m"}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			read := func(text string) *Layout { return reading(t, merged(t, base, shelf+text)) }
			d, err := Fixed(read(tt.before), read(tt.after), 0)
			if err != nil {
				t.Fatal(err)
			}
			for _, c := range []struct {
				what string
				got  []Hazard
				want []string
			}{{"gone", d.Gone, tt.gone}, {"stay", d.Stay, tt.stay}, {"new", d.New, tt.added}} {
				if !slices.Equal(kinds(c.got), c.want) {
					t.Errorf("%s: %q, want %q", c.what, c.got, c.want)
				}
			}
		})
	}
}

// A layout holds nothing new against itself, and what is gone one way is new the other way.
func TestFixedBothWays(t *testing.T) {
	a := reading(t, merged(t, base, shelf+"feeders: {line: {A: left, 3 ft: main @ 3 ft, 15 ft: second @ 5 ft}}"))
	b := reading(t, merged(t, base, shelf+"gaps: {line: [10 ft]}\nfeeders: {line: {A: left, 3 ft: main @ 3 ft}}"))
	for _, two := range [][2]*Layout{{a, a}, {b, b}, {a, b}, {b, a}} {
		x, err1 := Fixed(two[0], two[1], 0)
		y, err2 := Fixed(two[1], two[0], 0)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if !slices.Equal(x.Gone, y.New) || !slices.Equal(x.New, y.Gone) || two[0] == two[1] && len(x.Gone)+len(x.New) > 0 {
			t.Errorf("%+v and %+v", x, y)
		}
	}
}
