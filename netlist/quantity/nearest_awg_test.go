package quantity

import "testing"

// TestNearestAWG: every size is nearest to itself; metric sizes as IEC 60228 and ASTM B258 tables stand beside each other (1.5 mm² lies
// between 16 AWG, 1.31, and 15 AWG, 1.65; 2.5 between 14, 2.08, and 13, 2.63).
func TestNearestAWG(t *testing.T) {
	for n := ThickestAWG; n <= ThinnestAWG; n++ {
		if got := NearestAWG(AWGArea(n)); got != n {
			t.Errorf("%s is nearest to %s", AWGName(n), AWGName(got))
		}
	}
	for mm2, want := range map[float64]int{0.5: 20, 0.75: 18, 1: 17, 1.5: 15, 2.5: 13, 4: 11, 6: 9, 10: 7, 1e-9: ThinnestAWG, 1e9: ThickestAWG} {
		if got := NearestAWG(mm2 * 1e-6); got != want {
			t.Errorf("%g mm² is nearest to %s, want %s", mm2, AWGName(got), AWGName(want))
		}
	}
}
