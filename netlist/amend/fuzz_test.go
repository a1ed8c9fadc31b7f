package amend

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gapwise/netlist/reader"
	"gapwise/netlist/source"
	"gapwise/netlist/tree"
)

// Whatever is changed in whatever text: no panic, and no change that was taken on spoils a text
// that was without mistakes.
func FuzzAmend(f *testing.F) {
	files, err := filepath.Glob("../../testdata/*/*sound.yaml")
	if err != nil || len(files) == 0 {
		f.Fatal(files, err)
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text, "buses", "ring", "wire", "12 AWG", uint8(3))
	}
	for _, text := range []string{
		"gapwise: 1\ngaps: {M1: {at: 2 .. 9 ft, every: 1 ft}}\njoints:\n  M1:\n  -\n    at: 1 ft\ntracks: {M1: {from: end, to: end, length: 9 ft}}\nbonds: {from: M1 start, to: M1 end}",
		"gapwise: 1\nfeeders: {M1: {2 .. 9 ft: {every: 1 ft, from: ring @ 1 ft}}}\ntracks: {M1: {from: end, to: end, length: 9 ft}}",
		"{gapwise: 1, buses: {}, gaps: , feeders: {M1: }, loads: []}", "buses:\ngaps:\n  M1:\nloads:\n", "a", "- b", "buses: [", "\ufeff'buses': {\"ring\": {a: , b}}\r\n",
	} {
		f.Add([]byte(text), "gaps", "M1", "1 ft", "{rails: both}", uint8(0))
		f.Add([]byte(text), "bonds", "M1", "rails", "1 ft", uint8(0))
		f.Add([]byte(text), "loads", "", "", "{draws: 1 A}", uint8(1))
		f.Add([]byte(text), "feeders", "M1", "2 .. 9 ft", "x @ 1 ft", uint8(2))
	}
	f.Fuzz(func(t *testing.T, text []byte, section, name, key, value string, feeder uint8) {
		if len(text) > 20000 {
			return
		}
		open := func(name string) ([]byte, error) {
			if name != "layout.yaml" {
				return nil, fs.ErrNotExist
			}
			return text, nil
		}
		l, _, err := reader.Read(context.Background(), open, "layout.yaml", reader.Options{})
		if err != nil {
			t.Fatal(err)
		}
		_, before := tree.Parse(0, &source.File{Text: text})
		for _, change := range []change{
			set(section, name, key, value), setFeeder(int32(feeder), key, value), setRow(int32(feeder), key, value), add(section, name, value),
			addList(section, value), addPlaced(section, name, key, value), remove(section, name),
			setGap(int32(feeder), key, value), moveGap(int32(feeder), value), closeGap(int32(feeder)), setJoint(int32(feeder), key, value),
			moveFeeder(int32(feeder), value), setItem(section, int32(feeder), key, value),
		} {
			w := New(l, reader.Options{})
			w.Mark = key
			change(w)
			var refused *RefusedError
			if _, err := w.Texts(); err != nil && !errors.As(err, &refused) {
				t.Fatal(err)
			}
			if refused != nil && len(before) == 0 && strings.HasPrefix(refused.Refusals[0].Change, "the changes to") {
				t.Error(refused)
			}
		}
	})
}
