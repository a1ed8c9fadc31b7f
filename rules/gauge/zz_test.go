package gauge

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

func TestZ(t *testing.T) {
	for _, seed := range []int{329} {
		r := rand.New(rand.NewPCG(uint64(seed), 9))
		text := smallLayout(r)
		report := readText(t, text)
		a := askOf(r)
		fmt.Println(text, a)
		all := everyChoice(t, demandsOf(t, report, &a), 50)
		for _, x := range all {
			fmt.Println(x.choice, x.breaks)
		}
		d, x := demandsOf(t, report, &a), &Head{}
		f, err := d.search(t.Context(), x, math.Inf(1))
		fmt.Println(f, err, keysOf(x.Impossible), d.need, d.most, d.allow, d.hot)
		fmt.Println(len(x.Impossible))
	}
}
