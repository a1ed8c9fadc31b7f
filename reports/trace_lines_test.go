package reports

import "testing"

func TestClosedBy(t *testing.T) {
	for _, c := range []struct {
		gaps, pits []string
		want       string
	}{
		{nil, nil, "no gap closes it in"},
		{[]string{"M1 @ 3 ft", "M1 @ 9 ft"}, nil, "gaps at M1 @ 3 ft, M1 @ 9 ft"},
		{nil, []string{"TT"}, "ends at the pit of TT"},
		{[]string{"M1 @ 3 ft"}, []string{"TT"}, "gaps at M1 @ 3 ft, and the pit of TT"},
	} {
		if got := closedBy(c.gaps, c.pits); got != c.want {
			t.Errorf("%q, %q: %q, want %q", c.gaps, c.pits, got, c.want)
		}
	}
}
