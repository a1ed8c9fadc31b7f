package fixes_test

import (
	"bytes"
	"context"
	"path/filepath"
	"testing"

	"gapwise/netlist/reader"

	"gapwise/rules"
	"gapwise/rules/finding"
	"gapwise/rules/fixes"
)

// checked is the check of a layout file that is read without problems.
func checked(t *testing.T, file string) *rules.Report {
	t.Helper()
	l, problems, err := reader.ReadFile(t.Context(), file, rules.ReaderOptions())
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range problems {
		t.Fatalf("%s: %d: %s", file, p.Pos.Line, p.Message)
	}
	r, err := rules.Check(t.Context(), l, rules.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestTinHarbourMendsItself makes all fixes of the demo layouts as found: each finding has one of its own that was tried, all together
// leave nothing above a note, and the saved copy, read anew, says so too. Lines that no fix names are as they were; the others are marked.
func TestTinHarbourMendsItself(t *testing.T) {
	for _, name := range []string{"as-found.yaml", "upper.yaml"} {
		t.Run(name, func(t *testing.T) {
			file := filepath.Join("..", "..", "testdata", "tin-harbour", name)
			r := checked(t, file)
			if all, err := fixes.Each(t.Context(), r); err != nil || !all {
				t.Fatal(all, err)
			}
			for i := range r.Findings {
				if f := &r.Findings[i]; f.Severity > finding.Note && !f.FixChecked {
					t.Errorf("no fix by itself: %s at %s: %s", f.Rule, f.Place.Text, f.Fix)
				}
			}
			p, err := fixes.Compose(t.Context(), r)
			if err != nil {
				t.Fatal(err)
			}
			for _, l := range p.Left {
				t.Errorf("stays: %s at %s: %s", l.Finding.Rule, l.Finding.Place.Text, l.Why)
			}
			for i, s := range p.Steps {
				t.Logf("%d. %s (%v) %+v", i+1, s.Text, s.Mended, s.Work)
			}
			out := filepath.Join(t.TempDir(), "out")
			files, err := p.Save(out, false)
			if err != nil {
				t.Fatal(err)
			}
			again := checked(t, files[0])
			if again.Count(finding.Fault)+again.Count(finding.Caution) > 0 {
				t.Errorf("the saved copy has %d faults and %d cautions", again.Count(finding.Fault), again.Count(finding.Caution))
			}
			for i, f := range again.Layout.Files {
				was := lines(r.Layout.Files[i].Text)
				for _, line := range bytes.Split(f.Text, []byte("\n")) {
					if !was[string(line)] && !bytes.Contains(line, []byte("# fixed: ")) && !bytes.Contains(line, []byte("#")) {
						t.Errorf("changed and not marked: %s", line)
					}
				}
			}
		})
	}
}

func lines(text []byte) map[string]bool {
	out := map[string]bool{}
	for _, line := range bytes.Split(text, []byte("\n")) {
		out[string(line)] = true
	}
	return out
}

// TestComposeStops ends with the context's error.
func TestComposeStops(t *testing.T) {
	r := checked(t, filepath.Join("..", "..", "testdata", "tin-harbour", "as-found.yaml"))
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := fixes.Compose(ctx, r); err == nil {
		t.Error("no error")
	}
	if _, err := fixes.Each(ctx, r); err == nil {
		t.Error("no error")
	}
}
