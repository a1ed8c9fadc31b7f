package rules_test

import (
	"path/filepath"
	"testing"

	"gapwise/rules"
	"gapwise/rules/finding"
)

// TestUndeclaredSeverity: a note, and a caution for who lists the practice.
func TestUndeclaredSeverity(t *testing.T) {
	for file, want := range map[string]finding.Severity{
		"raises-between-two-blocks.yaml": finding.Note,
		"raises-practice.yaml":           finding.Caution,
	} {
		fs := checkFile(t, filepath.Join(layoutFolder, "block-undeclared", file), rules.Options{}).Findings
		for _, f := range fs {
			if f.Severity != want {
				t.Errorf("%s: %s, want %s", file, f.Severity, want)
			}
		}
		if len(fs) == 0 {
			t.Errorf("%s: no finding", file)
		}
	}
}
