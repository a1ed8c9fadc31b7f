// Package split divides a layout's track into booster or breaker districts: which gaps to use, which cuts to make, which
// feeders to move, and what a check says of the layout then. The search itself is package partition's; here the
// track becomes its problem, and its answer becomes work to do.
package split
