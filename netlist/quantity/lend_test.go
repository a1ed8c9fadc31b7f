package quantity

import "testing"

func TestLendUnit(t *testing.T) {
	for _, c := range []struct{ left, right, want string }{
		{"35", "3 ft", "35 ft"},
		{"2", "34ft", "2ft"},
		{" 2½ ", "3 in.", " 2½ in."},
		{"6-1/2", "9\"", "6-1/2\""},
		{"0", "3 ft", "0"},
		{"2", "3 ft 4 in", "2"},
		{"2 in", "3 ft", "2 in"},
		{"2", "3", "2"},
		{"2", "end", "2"},
		{"2", "3 ft from end", "2"},
		{"2", "3 ft .. 4 ft", "2"},
		{"gap", "3 ft", "gap"},
		{"1/0", "3 ft", "1/0"},
		{"", "", ""},
	} {
		if got := LendUnit(c.left, c.right); got != c.want {
			t.Errorf("%q before %q: %q, want %q", c.left, c.right, got, c.want)
		}
	}
}
