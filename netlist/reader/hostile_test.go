package reader

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"unicode"
)

// Names that would harm a page or a terminal are refused, and no message carries them
// unescaped. Labels are kept as they are.
func TestHostileNames(t *testing.T) {
	for _, name := range []string{
		`<script>alert(1)</script>`, `"\e[31mred"`, "\"\u202eright to left\"", strings.Repeat("x", 10000),
		"M1\u200b", "été", "../../etc", `"a b"`, "-M1", "$(id)",
	} {
		l, problems := readAll(t, header+"tracks:\n  "+name+": {from: end, to: end, length: 3 ft, label: <b>}\ngaps:\n  "+name+": [1 ft]\n")
		if len(problems) == 0 {
			t.Errorf("%.40q passes as a name", name)
		}
		for _, p := range problems {
			for _, r := range p.Message + p.Expected + p.Nearest {
				if !unicode.IsPrint(r) {
					t.Errorf("%.40q: message %.80q has %q", name, p.Message, r)
				}
			}
		}
		for _, r := range report(l, problems) {
			if r != '\n' && !unicode.IsPrint(r) {
				t.Errorf("%.40q: printed %q", name, r)
			}
		}
	}
	l := sound(t, header+"tracks:\n  M1: {from: end, to: end, length: 3 ft, label: <b>}\n")
	if l.Tracks[0].Label != "<b>" {
		t.Errorf("label %q", l.Tracks[0].Label)
	}
}

// A long chain of copies, a row without end and a file of wrong names do not take long.
func TestHostileSizes(t *testing.T) {
	chain := func(n int) string {
		var b strings.Builder
		b.WriteString(header + "supplies:\n  s0: {volts: 18 V}\n")
		for i := 1; i < n; i++ {
			fmt.Fprintf(&b, "  s%d: {like: s%d}\n", i, i-1)
		}
		return b.String()
	}
	wrong := func(n int) string {
		var b strings.Builder
		b.WriteString(header + "tracks:\n")
		for i := range n {
			fmt.Fprintf(&b, "  track%d: {from: trcak%d start, to: end, length: 3 ft}\n", i, n-i)
		}
		return b.String()
	}
	buses := func(n int) string {
		var b strings.Builder
		b.WriteString(header + power)
		for i := range n {
			from := "ring"
			if i > 0 {
				from = fmt.Sprint("b", i-1)
			}
			fmt.Fprintf(&b, "  b%d: {from: %s @ 1 ft, wire: 14 AWG, length: 3 ft}\n", i, from)
		}
		return b.String()
	}
	rows := header + common + "tracks:\n  M1: {from: end, to: end, length: 1 km}\ngaps:\n  M1:\n" + strings.Repeat("    - {at: 0 .. 1 km, every: 1.01 m}\n", 120)
	for _, c := range []struct {
		name, text, want string
	}{
		{"copies", chain(4000), "over the bound, 20 copies of copies"},
		{"wrong names", wrong(4000), "over 1000 mistakes; the rest is not shown"},
		{"rows", rows, "over the bound, 100000 places in all"},
	} {
		if got := messages(t, c.text); !strings.Contains(got, c.want) {
			t.Errorf("%s: %.200s", c.name, got)
		}
	}
	if l := sound(t, buses(20000)); len(l.Buses) != 20001 {
		t.Errorf("%d buses", len(l.Buses))
	}
	if got := messages(t, chain(60)); strings.Count(got, "over the bound, 20 copies of copies") != 2 {
		t.Errorf("chain: %q", got)
	}
}

func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	l, _, err := Read(ctx, func(string) ([]byte, error) { return []byte(header), nil }, "layout.yaml", Options{})
	if err != context.Canceled || len(l.Files) != 1 {
		t.Errorf("error %v, %d files", err, len(l.Files))
	}
}
