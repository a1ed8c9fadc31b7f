package tree

import (
	"bytes"
	"fmt"
	"runtime"
	"testing"

	"gapwise/netlist/source"

	"gopkg.in/yaml.v3"
)

// bigLayout is a layout of about size bytes in the manner of the notebooks.
func bigLayout(size int) []byte {
	var b bytes.Buffer
	b.WriteString("gapwise: 1\nlayout: Long Quay\ntracks:\n")
	for i := 0; b.Len() < size/2; i++ {
		fmt.Fprintf(&b, "  M%d:  {from: T%d straight, to: T%d points, length: %d ft 8½ in, use: main, label: \"along the wall\"}\n", i, i, i+1, 1+i%40)
	}
	b.WriteString("feeders:\n")
	for i := 0; b.Len() < size; i++ {
		fmt.Fprintf(&b, "  M%d:\n    A: right\n    2 in: harbour @ 1 ft\n    6 ft: {from: harbour @ 6 ft, length: 12 in}  # by the bridge\n", i)
	}
	return b.Bytes()
}

// BenchmarkParse compares reading 1 MB with what the library alone takes for it. Own
// work is the scan and the walk; a mended copy without comments makes up for some of it.
func BenchmarkParse(b *testing.B) {
	text := bigLayout(1 << 20)
	var library cost
	b.Run("library", func(b *testing.B) {
		library = perByte(b, len(text), func() {
			var doc yaml.Node
			if err := yaml.Unmarshal(text, &doc); err != nil {
				b.Fatal(err)
			}
		})
	})
	b.Run("scan", func(b *testing.B) {
		perByte(b, len(text), func() { newScanner(0, text).scan() }).against(b, library)
	})
	b.Run("walk", func(b *testing.B) {
		s := newScanner(0, text)
		s.scan()
		doc, err := decode(s.out)
		if err != nil {
			b.Fatal(err)
		}
		perByte(b, len(text), func() { newWalker(s).root(doc) }).against(b, library)
	})
	b.Run("parse", func(b *testing.B) {
		perByte(b, len(text), func() {
			if _, problems := Parse(0, &source.File{Text: text}); len(problems) > 0 {
				b.Fatal(problems[0])
			}
		}).against(b, library)
	})
}

// BenchmarkHostile shows that time stays in proportion to the file: ns/byte of a size
// and of its eightfold.
func BenchmarkHostile(b *testing.B) {
	for _, scrap := range []string{"a: ,", "?", "\na: b", "&x ", "3,8 m, ", "\u00a0'", "a\x00: b: c, "} {
		for _, size := range []int{1 << 18, 1 << 21} {
			b.Run(fmt.Sprintf("%q/%d", scrap, size), func(b *testing.B) {
				text := []byte(fill("k: [", scrap, size))
				perByte(b, size, func() { Parse(0, &source.File{Text: text}) })
			})
		}
	}
}

// cost is that of one byte of a file.
type cost struct{ ns, bytes float64 }

// perByte runs what once an iteration; it reports and returns the cost of one of size
// bytes.
func perByte(b *testing.B, size int, what func()) cost {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	for b.Loop() {
		what()
	}
	runtime.ReadMemStats(&after)
	per := float64(b.N) * float64(size)
	c := cost{float64(b.Elapsed().Nanoseconds()) / per, float64(after.TotalAlloc-before.TotalAlloc) / per}
	b.ReportMetric(c.ns, "ns/byte")
	b.ReportMetric(c.bytes, "allocated/byte")
	return c
}

// against reports c as a multiple of the library's cost, when that was measured.
func (c cost) against(b *testing.B, library cost) {
	if library.ns > 0 {
		b.ReportMetric(c.ns/library.ns, "x-library-ns")
		b.ReportMetric(c.bytes/library.bytes, "x-library-allocated")
	}
}
