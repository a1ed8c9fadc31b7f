package rule

import "gapwise/netlist/quantity"

// sizesAWG and sizesMetric, in mm², are what shops keep, thin first. Common practice, no source.
var (
	sizesAWG    = []int{24, 22, 20, 18, 16, 14, 12, 10, 8}
	sizesMetric = []float64{0.25, 0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10}
)

// ShopSizes are the sizes of wire that shops keep, thin first.
func ShopSizes(metric bool) []quantity.Wire {
	var out []quantity.Wire
	if metric {
		for _, a := range sizesMetric {
			out = append(out, quantity.Wire{Value: quantity.Exact(a * 1e-6)})
		}
		return out
	}
	for _, n := range sizesAWG {
		out = append(out, quantity.Wire{Value: quantity.Exact(quantity.AWGArea(n)), Gauge: n, HasGauge: true})
	}
	return out
}
