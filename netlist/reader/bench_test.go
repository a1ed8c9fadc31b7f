package reader

import (
	"context"
	"fmt"
	"strings"
	"testing"
)

// large is a sound layout of about n entries: tracks in a chain with turnouts on them,
// gaps, feeders and blocks.
func large(n int) string {
	var b strings.Builder
	b.WriteString(header + common + power)
	each := n / 6
	b.WriteString("tracks:\n")
	for i := range each {
		from, to := fmt.Sprintf("m%d end", i-1), fmt.Sprintf("m%d start", i+1)
		if i == 0 {
			from = "end"
		}
		if i == each-1 {
			to = "end"
		}
		fmt.Fprintf(&b, "  m%d: {from: %s, to: %s, length: 12 ft}\n  s%d: {from: t%d curved, to: end, length: 3 ft}\n", i, from, to, i, i)
	}
	b.WriteString("turnouts:\n")
	for i := range each {
		fmt.Fprintf(&b, "  t%d: {hand: left, at: m%d @ 4 ft, via: points to straight}\n", i, i)
	}
	b.WriteString("gaps:\n")
	for i := range each {
		fmt.Fprintf(&b, "  m%d: [1 ft, 9 ft]\n", i)
	}
	b.WriteString("feeders:\n")
	for i := range each {
		fmt.Fprintf(&b, "  m%d: {2 ft: ring @ 3 ft, 8 ft: ring @ 8 ft 6 in}\n", i)
	}
	b.WriteString("blocks:\n")
	for i := range each {
		fmt.Fprintf(&b, "  b%d: {covers: [m%d @ gap .. gap, s%d]}\n", i, i, i)
	}
	return b.String()
}

func BenchmarkRead(b *testing.B) {
	for _, n := range []int{200, 2000, 20000} {
		text := []byte(large(n))
		b.Run(fmt.Sprintf("entries=%d", n), func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			for b.Loop() {
				l, problems, err := Read(context.Background(), func(string) ([]byte, error) { return text, nil }, "layout.yaml", Options{})
				if err != nil || len(problems) > 0 {
					b.Fatal(err, report(l, problems))
				}
			}
		})
	}
}

// One file with every entry on one track: nothing may look at all pairs.
func BenchmarkReadOneTrack(b *testing.B) {
	var s strings.Builder
	s.WriteString(header + common + power + "tracks:\n  M1: {from: end, to: end, length: 1 km}\nblocks:\n")
	const n = 8000
	for i := range n {
		fmt.Fprintf(&s, "  b%d: {covers: M1 @ %d cm .. gap}\n", i, 10*i+1)
	}
	s.WriteString("gaps:\n  M1:\n")
	for i := range n {
		fmt.Fprintf(&s, "  - %d cm\n", 10*i+5)
	}
	text := []byte(s.String())
	for b.Loop() {
		l, problems, err := Read(context.Background(), func(string) ([]byte, error) { return text, nil }, "layout.yaml", Options{})
		if err != nil || len(problems) > 0 {
			b.Fatal(err, report(l, problems))
		}
	}
}
