package conductor

import "math"

// Range is what a number may be, from Lo to Hi, both included. Its unit is its owner's.
type Range struct{ Lo, Hi float64 }

// Exact is a range of one number.
func Exact(v float64) Range { return Range{v, v} }

// Plus is the range of the sum of two numbers that do not depend on each other.
func (r Range) Plus(s Range) Range { return Range{r.Lo + s.Lo, r.Hi + s.Hi} }

// Times is the range of a number times an exact factor.
func (r Range) Times(factor float64) Range {
	if factor < 0 {
		return Range{r.Hi * factor, r.Lo * factor}
	}
	return Range{r.Lo * factor, r.Hi * factor}
}

// Mid is the middle of the range.
func (r Range) Mid() float64 { return r.Lo + (r.Hi-r.Lo)/2 }

// Contains reports whether v lies in the range.
func (r Range) Contains(v float64) bool { return r.Lo <= v && v <= r.Hi }

// by is the range of the product of two numbers that do not depend on each other.
func (r Range) by(s Range) Range {
	a, b, c, d := r.Lo*s.Lo, r.Lo*s.Hi, r.Hi*s.Lo, r.Hi*s.Hi
	return Range{min(a, b, c, d), max(a, b, c, d)}
}

// with is the least range that contains both.
func (r Range) with(s Range) Range { return Range{math.Min(r.Lo, s.Lo), math.Max(r.Hi, s.Hi)} }
