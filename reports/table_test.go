package reports

import (
	"errors"
	"strings"
	"testing"

	"github.com/olekukonko/tablewriter/pkg/twwidth"
)

func table(t *testing.T, width int, header []string, rows [][][]string) string {
	t.Helper()
	var b strings.Builder
	if err := writeTable(&b, width, header, rows); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestTable(t *testing.T) {
	got := table(t, 30, []string{"block_a", "fed by"}, [][][]string{
		{{"B1"}, {"booster front, breaker yard"}},
		{{"B2", "no gap to B1"}, {"-"}},
	})
	want := `block_a       fed by
----------------------------
B1            booster front,
              breaker yard
B2            -
no gap to B1
`
	if got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

func TestTableFits(t *testing.T) {
	long := strings.Repeat("a long cell ", 20)
	for _, width := range []int{30, 40, 80, 100} {
		for line := range strings.Lines(table(t, width, []string{"one", "two", "three"}, [][][]string{{{long}, {"x"}, {long}}})) {
			if n := cells(strings.TrimRight(line, "\n")); n > width {
				t.Errorf("%q takes %d cells of %d", line, n, width)
			}
			if strings.TrimRight(line, "\n") != strings.TrimRight(line, " \n") {
				t.Errorf("%q ends in blanks", line)
			}
		}
	}
}

// TestTableIsSafe: the library passes escape codes in cells on, so none may get there.
func TestTableIsSafe(t *testing.T) {
	got := table(t, 80, []string{"name"}, [][][]string{{{"\x1b[31mred\x1b[0m\nand\ttwo \u202elines"}}})
	if !strings.Contains(got, `\x1b[31mred\x1b[0m\nand\ttwo \u202elines`) {
		t.Errorf("got %q", got)
	}
}

// TestTableWideCharacters: columns line up the same, whatever the library has gathered from
// the locale about the width of letters such as é.
func TestTableWideCharacters(t *testing.T) {
	twwidth.SetEastAsian(true)
	got := table(t, 80, []string{"name", "x"}, [][][]string{{{"鉄道"}, {"1"}}, {{"é½"}, {"2"}}})
	want := "name  x\n-------\n鉄道  1\né½    2\n"
	if got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

type fullDisk struct{}

var errFull = errors.New("no room")

func (fullDisk) Write([]byte) (int, error) { return 0, errFull }

func TestTableSaysWhenItCannotWrite(t *testing.T) {
	if err := writeTable(fullDisk{}, 80, []string{"a"}, nil); !errors.Is(err, errFull) {
		t.Errorf("error is %v, want %v", err, errFull)
	}
}
