package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gapwise/netlist/format"
	"gapwise/netlist/reader"
	"gapwise/netlist/source"

	"gapwise/reports"
	"gapwise/rules/finding"
)

// TestStarters: every starter is clean and silent, but for what no check of this version
// computes; it is in the form that fmt gives; and it speaks of SAFETY.md.
func TestStarters(t *testing.T) {
	entries, err := starterFiles.ReadDir("starters")
	if err != nil || len(entries) != len(starterSizes) {
		t.Errorf("%d starters for %d sizes, %v", len(entries), len(starterSizes), err)
	}
	for _, size := range starterSizes {
		path := filepath.Join("starters", size+".yaml")
		text, err := starter(size)
		if err != nil {
			t.Fatal(err)
		}
		r := readAndCheck(t.Context(), path, checkOptions{})
		if r.unread != nil || len(r.problems) > 0 {
			t.Fatalf("%s: %v, %v", size, r.unread, r.problems)
		}
		v := reports.NewView(path, r.report, finding.Note)
		for _, f := range v.Findings {
			t.Errorf("%s: %s: %s", size, f.Rule, f.Message)
		}
		if n := v.Counts.NotChecked; n > 2 || !v.Complete {
			t.Errorf("%s: %d not checked, complete is %t", size, n, v.Complete)
		}
		if n := len(r.layout.Questions); n > 0 {
			t.Errorf("%s: %d questions", size, n)
		}
		after, problems, err := format.Format(&source.File{Name: path, Text: text})
		if err != nil || len(problems) > 0 || string(after) != string(text) {
			t.Errorf("%s is not as fmt writes it: %v, %v", size, problems, err)
		}
		if !strings.Contains(string(text), "SAFETY.md") {
			t.Errorf("%s does not speak of SAFETY.md", size)
		}
		if !strings.HasPrefix(string(text), "# yaml-language-server: $schema=gapwise.schema.json\n") {
			t.Errorf("%s does not begin with the line that editors read", size)
		}
	}
}

// TestStarterSections: the starters together show the sections that a newcomer meets.
func TestStarterSections(t *testing.T) {
	var all strings.Builder
	for _, size := range starterSizes {
		text, err := starter(size)
		if err != nil {
			t.Fatal(err)
		}
		all.Write(text)
	}
	var missing []string
	for _, k := range reader.FileShape().Keys {
		if !strings.Contains(all.String(), "\n"+k.Name+":") {
			missing = append(missing, k.Name)
		}
	}
	for _, name := range []string{"tracks", "turnouts", "gaps", "feeders", "supplies", "boosters", "breakers", "reversers", "detectors", "buses", "blocks", "districts", "trains", "practice"} {
		if slices.Contains(missing, name) {
			t.Errorf("no starter has %s", name)
		}
	}
}

// TestNewLeavesFilesAlone: what is there stays, and what cannot be written is told.
func TestNewLeavesFilesAlone(t *testing.T) {
	path := filepath.Join(t.TempDir(), "layout.yaml")
	if status, _, _ := run("new", path); status != exitOK {
		t.Fatalf("status %d", status)
	}
	if err := os.WriteFile(path, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if status, out, err := run("new", path); status != exitNotUnderstood || out != "" || !strings.Contains(err, "is there already") {
		t.Errorf("status %d, %q, %q", status, out, err)
	}
	if text, err := os.ReadFile(path); err != nil || string(text) != "mine" {
		t.Errorf("%q, %v", text, err)
	}
}
