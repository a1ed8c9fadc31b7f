package catalogue

import "testing"

func TestTwoFigures(t *testing.T) {
	for _, c := range []struct {
		v    float64
		want string
	}{{0.3, "0.3 A"}, {4.53, "4.5 A"}, {7.5, "7.5 A"}, {99.6, "100 A"}, {141, "140 A"}, {1996, "2 kA"}, {2340, "2.3 kA"}, {0.0123, "0.012 A"}} {
		if got := twoFigures(c.v, "A"); got != c.want {
			t.Errorf("%g: %s, want %s", c.v, got, c.want)
		}
	}
}
