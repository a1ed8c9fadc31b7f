package gauge

import (
	"slices"
	"strings"

	"gapwise/netlist/amend"
	"gapwise/netlist/layout"
)

// AllPriced reports whether a layout lists stock for buses and feeders, and a price for each size of it.
func AllPriced(l *layout.Layout) bool {
	for _, stock := range [...][]layout.StockWire{l.Stock.Bus, l.Stock.Feeder} {
		if len(stock) == 0 {
			return false
		}
		for i := range stock {
			if !stock[i].Priced() {
				return false
			}
		}
	}
	return true
}

// AnyPriced reports whether any size in stock has a price.
func AnyPriced(l *layout.Layout) bool {
	priced := func(s layout.StockWire) bool { return s.Priced() }
	return slices.ContainsFunc(l.Stock.Bus, priced) || slices.ContainsFunc(l.Stock.Feeder, priced)
}

// PriceNotes say what about prices a reader should know: sizes without one, and that prices are of single wire.
func (c *Choice) PriceNotes() []string {
	priced, unpriced := 0, []string{}
	for _, stock := range [...][]layout.StockWire{c.Layout.Stock.Bus, c.Layout.Stock.Feeder} {
		for i := range stock {
			if stock[i].Priced() {
				priced++
			} else if w := stock[i].Wire.String(); !slices.Contains(unpriced, w) {
				unpriced = append(unpriced, w)
			}
		}
	}
	var out []string
	switch {
	case c.Ask.ByPrice && len(unpriced) > 0:
		out = append(out, "without a price in `stock`, and so not among the sizes: "+strings.Join(unpriced, ", "))
	case !c.Ask.ByPrice && priced > 0 && len(unpriced) > 0:
		out = append(out, "by copper, not by price: `stock` has no price for "+strings.Join(unpriced, ", "))
	}
	if c.Ask.ByPrice {
		out = append(out, "prices are of single wire: a pair takes twice its length")
	}
	return out
}

// Amend puts the sizes chosen into changes to the layout's text, as far as they differ from what is there.
func (c *Choice) Amend(w *amend.Writer) {
	for i := range c.Heads {
		h := &c.Heads[i]
		for j := range h.Runs {
			r := &h.Runs[j]
			if r.Size < 0 {
				continue
			}
			wire := r.Wire()
			key := amend.Key{Name: "wire", Value: wire.String()}
			if b := &c.Layout.Buses[r.Bus]; r.IsBus() && (b.Wire.Lo != wire.Lo || b.Wire.Hi != wire.Hi) {
				w.Set("buses", b.Name, key)
			}
			for _, f := range r.Feeders {
				if x := c.Layout.Feeders[f].Wire; x.Lo != wire.Lo || x.Hi != wire.Hi {
					w.SetFeeder(f, key)
				}
			}
		}
	}
}
