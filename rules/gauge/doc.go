// Package gauge chooses wire: for a layout the cheapest sizes of buses and feeders that meet every limit,
// with a proof or a bound; without a layout a table of sizes for one run.
package gauge
