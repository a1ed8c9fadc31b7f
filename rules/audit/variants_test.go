package audit

import (
	"context"
	"fmt"
	"testing"

	"gapwise/netlist/layout"

	"gapwise/districts/difference"
	"gapwise/rules/proof"
)

// soundLayouts are the demo layouts and some generated ones, written flat.
func soundLayouts(t *testing.T) []proof.Sound {
	t.Helper()
	out, err := proof.SoundLayouts(context.Background(), "../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	for i := range 4 {
		out = append(out, proof.Generated(9*i))
	}
	return out
}

func read(t *testing.T, text string) *layout.Layout {
	t.Helper()
	l, err := proof.Read(context.Background(), text)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// told is a difference in a line an entry, for messages of tests.
func told(d *difference.Difference) (out string) {
	for _, e := range d.Entries {
		name := func(l *layout.Layout, is []int32) (s string) {
			for _, i := range is {
				s += difference.EntryOf(l, e.Kind, i).Name + fmt.Sprintf("(%d) ", i)
			}
			return s
		}
		out += fmt.Sprintf("%s %s: %s-> %s renamed=%t turned=%t moved=%.3f %v\n", e.Kind, e.Fate, name(d.Before, e.Before), name(d.After, e.After), e.Renamed, e.Turned, e.MovedM, e.Changes)
	}
	return out
}

// only fails unless every entry that differs has one of some fates, and some entry does.
func only(t *testing.T, d *difference.Difference, fates ...difference.Fate) {
	t.Helper()
	if d.Empty() {
		t.Error("nothing differs")
	}
	for _, e := range d.Entries {
		fine := false
		for _, f := range fates {
			fine = fine || e.Fate == f && len(e.Changes) == 0
		}
		if !fine {
			t.Fatalf("differs:\n%s", told(d))
		}
	}
}

// TestVariants: a layout written down in another way differs in nothing else.
func TestVariants(t *testing.T) {
	for n, s := range soundLayouts(t) {
		t.Run(s.Name, func(t *testing.T) {
			before := read(t, s.Text)
			if d := difference.Compare(before, read(t, s.Text)); !d.Empty() {
				t.Fatalf("from itself:\n%s", told(d))
			}
			renamed := read(t, s.Text)
			proof.Renamed(renamed)
			d := difference.Compare(before, renamed)
			only(t, d, difference.Renamed)
			for track := n % 3; track < len(before.Tracks); track += 3 {
				l := read(t, s.Text)
				if proof.Turned(l, track) {
					d := difference.Compare(before, l)
					only(t, d, difference.Turned)
					if len(d.Entries) != 1 {
						t.Fatalf("turned %s:\n%s", before.Tracks[track].Name, told(d))
					}
				}
				l = read(t, s.Text)
				if !proof.Halved(l, track) {
					continue
				}
				halved := l
				d := difference.Compare(before, halved)
				back := difference.Compare(halved, before)
				if len(d.Entries) != 2 || d.Entries[0].Fate != difference.Split || d.Entries[1].Fate != difference.Added || d.Entries[1].Kind != difference.KindJoint {
					t.Fatalf("halved %s:\n%s", before.Tracks[track].Name, told(d))
				}
				if len(back.Entries) != 2 || back.Entries[0].Fate != difference.Joined || back.Entries[1].Fate != difference.Removed {
					t.Fatalf("joined %s:\n%s", before.Tracks[track].Name, told(back))
				}
			}
		})
	}
}
