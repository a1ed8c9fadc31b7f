package quantity

import "testing"

// The three states are told apart, and only a known value has a middle.
func TestStates(t *testing.T) {
	for _, c := range []struct {
		value       Value
		known, said bool
		mid         float64
	}{
		{Value{}, false, false, 0},
		{Value{State: Unknown}, false, true, 0},
		{Exact(3), true, true, 3},
		{Value{Lo: 1, Hi: 4, State: Known}, true, true, 2.5},
	} {
		if c.value.Known() != c.known || c.value.Said() != c.said || c.value.Mid() != c.mid {
			t.Errorf("%+v: known %v, said %v, middle %v", c.value, c.value.Known(), c.value.Said(), c.value.Mid())
		}
	}
}
