// Package edit changes a text by byte spans. It is how a layout file is written: what no edit
// names stays as its owner typed it.
package edit

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
)

// Edit puts Text in place of text[From:To], in bytes. With From equal to To it inserts.
type Edit struct {
	From, To int
	Text     string
}

// SpanError refuses edits that do not fit the text or each other.
type SpanError struct {
	Edit    Edit
	Against *Edit // the edit it overlaps; nil where it lies outside the text
}

func (e *SpanError) Error() string {
	if e.Against == nil {
		return fmt.Sprintf("an edit of bytes %d to %d lies outside the text", e.Edit.From, e.Edit.To)
	}
	return fmt.Sprintf("an edit of bytes %d to %d overlaps one of %d to %d", e.Edit.From, e.Edit.To, e.Against.From, e.Against.To)
}

// Apply returns text with all edits made; text itself stays. The edits come in any order.
// Insertions at one byte stand in the order given, before what replaces the text from there.
// Overlaps and spans outside the text give a *SpanError, and then nothing is changed.
func Apply(text []byte, edits []Edit) ([]byte, error) {
	sorted := slices.Clone(edits)
	slices.SortStableFunc(sorted, func(a, b Edit) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To))
	})
	var out bytes.Buffer
	at := 0
	for i := range sorted {
		e := sorted[i]
		switch {
		case e.From < 0 || e.To < e.From || e.To > len(text):
			return nil, &SpanError{Edit: e}
		case e.From < at:
			return nil, &SpanError{Edit: e, Against: &sorted[i-1]}
		}
		out.Write(text[at:e.From])
		out.WriteString(e.Text)
		at = e.To
	}
	out.Write(text[at:])
	return out.Bytes(), nil
}
