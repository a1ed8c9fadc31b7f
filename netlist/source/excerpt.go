package source

import (
	"strings"
	"unicode/utf8"

	"github.com/clipperhouse/displaywidth"
)

const (
	maxExcerpt = 92    // cells of an excerpt, so that it fits 100 with its line number
	maxCaret   = 40    // cells of a caret line under a long token
	cutMark    = "..." // stands where an excerpt was cut
)

// excerpt returns one line made safe for a terminal and short enough to fit, and how
// many cells stand before and under the width characters from byte at on.
func excerpt(line []byte, at, width int) (text string, before, under int) {
	end := at + advance(line[at:], width)
	head := lastPart(line[:at])
	mid := keepStart(firstPart(line[at:end]), maxCaret)
	tail := firstPart(line[end:])
	under = max(1, cells(mid))
	if room := maxExcerpt - under; cells(head)+cells(tail) > room {
		tail = keepStart(tail, max(room/2, room-cells(head)))
		head = keepEnd(head, room-cells(tail))
	}
	// A mark at the start joins the blank before the excerpt.
	before = cells(" "+head) - 1
	return strings.TrimRight(head+mid+tail, " "), before, under
}

// maxCharacters is more than an excerpt can show of any part: each base character takes
// a cell and has at most maxMarks marks that take none.
const maxCharacters = (maxMarks + 1) * maxExcerpt

// firstPart makes safe as much of the start of b as can be shown.
func firstPart(b []byte) string { return Safe(string(b[:advance(b, maxCharacters)])) }

// lastPart makes safe as much of the end of b as can be shown.
func lastPart(b []byte) string {
	if cut := len(b) - utf8.UTFMax*maxCharacters; cut > 0 {
		for n := 1; n < utf8.UTFMax && !utf8.RuneStart(b[cut]); n++ {
			cut++
		}
		b = b[cut:]
	}
	return Safe(string(b))
}

func advance(b []byte, characters int) int {
	at := 0
	for ; characters > 0 && at < len(b); characters-- {
		_, n := utf8.DecodeRune(b[at:])
		at += n
	}
	return at
}

func cells(s string) int { return displaywidth.String(s) }

// keepStart cuts the end of s so that it takes at most room cells.
func keepStart(s string, room int) string {
	if cells(s) <= room {
		return s
	}
	return displaywidth.TruncateString(s, max(room, len(cutMark)), cutMark)
}

// keepEnd cuts the start of s so that it takes at most room cells.
func keepEnd(s string, room int) string {
	if cells(s) <= room {
		return s
	}
	excess := cells(s) - room + len(cutMark)
	g := displaywidth.StringGraphemes(s)
	for at := 0; g.Next(); {
		at += len(g.Value())
		excess -= g.Width()
		if excess <= 0 {
			return cutMark + strings.Repeat(" ", -excess) + s[at:]
		}
	}
	return cutMark
}
