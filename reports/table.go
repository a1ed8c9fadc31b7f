package reports

import (
	"bytes"
	"io"
	"strings"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"
)

// columnGap is how many blanks part two columns, leastColumn the narrowest a column gets.
const (
	columnGap   = 2
	leastColumn = 6
)

// writeTable writes rows under a header in at most width cells, if the columns can be made
// that narrow. Cells are made safe for a terminal and wrapped; a cell may have several
// paragraphs. It is the only place that knows the table library.
func writeTable(w io.Writer, width int, header []string, rows [][][]string) error {
	widths := columnWidths(width, header, rows)
	var b bytes.Buffer
	table := tablewriter.NewTable(&b,
		tablewriter.WithRenderer(renderer.NewBlueprint(plainLook)),
		tablewriter.WithHeaderAutoFormat(tw.Off),
		tablewriter.WithHeaderAlignment(tw.AlignLeft),
		tablewriter.WithRowAlignment(tw.AlignLeft),
		tablewriter.WithHeaderAutoWrap(tw.WrapNone),
		tablewriter.WithRowAutoWrap(tw.WrapNone),
		tablewriter.WithHeaderPaddingPerColumn(paddings(len(header))),
		tablewriter.WithRowPaddingPerColumn(paddings(len(header))),
		tablewriter.WithEastAsian(tw.Off),
	)
	table.Header(wrapCells(header, widths))
	for _, row := range rows {
		joined := make([]string, len(row))
		for i, paragraphs := range row {
			joined[i] = wrapCell(paragraphs, widths[i])
		}
		if err := table.Append(joined); err != nil {
			return err
		}
	}
	if err := table.Render(); err != nil {
		return err
	}
	for line := range strings.Lines(b.String()) {
		if _, err := io.WriteString(w, strings.TrimRight(line, " \n")+"\n"); err != nil {
			return err
		}
	}
	return nil
}

// plainLook is a table without lines but one under its header.
var plainLook = tw.Rendition{
	Borders: tw.BorderNone,
	Symbols: tw.NewSymbolCustom("plain").WithRow("-").WithColumn("").WithCenter("-").WithHeaderMid("-"),
	Settings: tw.Settings{
		Separators: tw.Separators{ShowHeader: tw.On, BetweenColumns: tw.Off, BetweenRows: tw.Off},
		Lines:      tw.Lines{ShowHeaderLine: tw.On, ShowTop: tw.Off, ShowBottom: tw.Off},
	},
}

// paddings parts each column from the next; the last needs nothing behind it.
func paddings(columns int) []tw.Padding {
	out := make([]tw.Padding, columns)
	for i := range out {
		out[i] = tw.Padding{Right: strings.Repeat(" ", columnGap), Overwrite: true}
	}
	out[columns-1].Right = ""
	return out
}

func wrapCells(texts []string, widths []int) []string {
	out := make([]string, len(texts))
	for i, text := range texts {
		out[i] = wrapCell([]string{text}, widths[i])
	}
	return out
}

func wrapCell(paragraphs []string, width int) string {
	var lines []string
	for _, p := range paragraphs {
		lines = append(lines, wrap(p, 0, width)...)
	}
	return strings.Join(lines, "\n")
}

// columnWidths gives every column what its longest cell takes and then narrows the widest
// until the table fits.
func columnWidths(width int, header []string, rows [][][]string) []int {
	widths := make([]int, len(header))
	total := columnGap * (len(widths) - 1)
	for i := range widths {
		widths[i] = columnWidth(i, 1<<20, header, rows)
		total += widths[i]
	}
	for total > width {
		widest := 0
		for i := range widths {
			if widths[i] > widths[widest] {
				widest = i
			}
		}
		if widths[widest] <= leastColumn {
			break
		}
		narrower := columnWidth(widest, widths[widest]-1, header, rows)
		total -= widths[widest] - narrower
		widths[widest] = narrower
	}
	return widths
}

// columnWidth is what a column takes when its cells are wrapped to at most a width.
func columnWidth(column, width int, header []string, rows [][][]string) int {
	widest := 0
	measure := func(text string) {
		for _, line := range wrap(text, 0, width) {
			widest = max(widest, cells(line))
		}
	}
	measure(header[column])
	for _, row := range rows {
		for _, p := range row[column] {
			measure(p)
		}
	}
	return widest
}
