package reports

import (
	"flag"
	"os"
	"strings"
	"testing"

	"gapwise/rules/finding"
)

var update = flag.Bool("update", false, "write the golden files anew; read the difference as code")

// TestGolden compares the whole text about the Tin Harbour demo.
func TestGolden(t *testing.T) {
	for _, tt := range []struct {
		golden, layout string
		least          finding.Severity
		width          int
	}{
		{"as-found.txt", "testdata/tin-harbour/as-found.yaml", finding.Note, 80},
		{"as-found-60.txt", "testdata/tin-harbour/as-found.yaml", finding.Fault, 60},
		{"mistakes.txt", "reports/testdata/mistakes.yaml", finding.Note, 80},
	} {
		t.Run(tt.golden, func(t *testing.T) {
			var b strings.Builder
			if err := (Text{Out: &b, Width: tt.width}).Check(viewOf(t, tt.layout, tt.least), false); err != nil {
				t.Fatal(err)
			}
			golden(t, "testdata/"+tt.golden, b.String())
		})
	}
}

func golden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("differs from %s (refresh with -update and read the difference):\n%s", path, got)
	}
}
