package gauge

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"gapwise/rules/rule"
	"gapwise/rules"
)

func TestZ(t *testing.T) {
	for _, seed := range []int{147, 162} {
		rnd := rand.New(rand.NewPCG(uint64(seed), 9))
		text := smallLayout(rnd)
		r := readText(t, text)
		a := Ask{ByPrice: rnd.IntN(2) == 0, Margin: pick(rnd, 0, DefaultMargin), LoseOne: rnd.IntN(4) == 0}
		switch rnd.IntN(3) {
		case 0:
			a.WireDrop = DefaultWireDrop
		case 1:
			a.WireDrop, a.Relative = 0.02+0.08*rnd.Float64(), true
		}
		fmt.Println(text)
		c, err := Choose(t.Context(), r, a)
		if err != nil {
			t.Fatal(err)
		}
		h := &c.Heads[0]
		for _, s := range h.Impossible {
			fmt.Println("imp", s.key(), s.Text)
		}
		show := func(r *rules.Report) {
			for _, f := range r.Findings {
				fmt.Println("  ", f.Severity, f.Rule, f.Message, f.Also)
			}
		}
		for i := range h.Runs {
			fmt.Println(h.Runs[i].Name, rule.WireText(h.Runs[i].Wire()))
		}
		fmt.Println("chosen", h.Cost)
		show(checked(t, c.Chosen()))
		var runs []Run
		var top []int
		for i := range h.Runs {
			runs = append(runs, h.Runs[i].Run)
			top = append(top, len(h.Runs[i].Sizes)-1)
		}
		fmt.Println("top")
		show(checked(t, with(r.Layout, runs, top)))
		for i := range top {
			fmt.Println("brought", c.Brought)
			at := append([]int(nil), top...)
			for j := range at {
				at[j] = h.Runs[j].Size
			}
			at[i] = top[i]
			fmt.Println("thick in", h.Runs[i].Name)
			show(checked(t, with(r.Layout, runs, at)))
		}
	}
}
