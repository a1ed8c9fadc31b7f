// Package amend writes changes into the text of a layout as its owner typed it: keys of
// entries, feeders and rows get new values, entries come and go, and every line that no
// change names stays byte for byte. It is the only writer of layout files.
//
// Changes are collected by a Writer and made together. Text that is written into a file is
// what an owner could have typed there; whether the layout then makes sense is told by
// Reread.
package amend

import (
	"context"
	"io/fs"
	"path/filepath"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"
	"gapwise/netlist/source"
)

// Writer collects changes to the files of one layout that was read without problems.
type Writer struct {
	// Mark, if not empty, is put as a comment behind each changed or added line that has none.
	Mark string

	lay  *layout.Layout
	opts reader.Options

	sets    []setChange
	items   []itemChange
	feeders []feederChange
	stands  []standChange
	removes []entryName
	gone    []itemName
	unsets  []setChange
	adds    []addChange
	placed  []placedChange
}

// Key is one key of an entry and its value as the language has it: {"wire", "12 AWG"}.
type Key struct{ Name, Value string }

// entryName is an entry as the layout calls it: by its section and its name with the
// prefixes of modules.
type entryName struct{ section, name string }

type setChange struct {
	entry entryName
	keys  []Key
}

// itemChange is for an entry of a list, by its index in the layout's slice.
type itemChange struct {
	section string
	index   int32
	keys    []Key
}

// feederChange gives one feeder, or its row, keys, or with moves another place.
type feederChange struct {
	feeder int32
	row    bool
	keys   []Key
	moves  bool
	where  string
}

// standChange is for a gap or a joint, by its index in the layout's slice.
type standChange struct {
	section string
	index   int32
	keys    []Key
	goes    bool
}

// addChange is a new entry of a section of the root file; of a list it has no name.
type addChange struct {
	section, name, value string
	list                 bool
}

type placedChange struct{ section, piece, where, value string }

// New is a writer without changes. o is what the layout was read with.
func New(l *layout.Layout, o reader.Options) *Writer {
	return &Writer{lay: l, opts: o}
}

// Set gives keys of a named entry their values. The value of a key that the entry itself
// has is replaced; any other key is added, and so comes before `like` and defaults. Of two
// values for one key the last counts.
func (w *Writer) Set(section, name string, keys ...Key) {
	w.sets = append(w.sets, setChange{entryName{section, name}, keys})
}

// SetFeeder gives keys of one feeder, an index into Layout.Feeders, their values. A member
// of a row is taken out of it unless all members are set alike: the row is then written as
// single places, each of which means what it meant.
func (w *Writer) SetFeeder(feeder int32, keys ...Key) {
	w.feeders = append(w.feeders, feederChange{feeder: feeder, keys: keys})
}

// SetRow does so for all feeders of a row, of which feeder is any. Of a feeder that is in no
// row it is SetFeeder.
func (w *Writer) SetRow(feeder int32, keys ...Key) {
	w.feeders = append(w.feeders, feederChange{feeder: feeder, row: true, keys: keys})
}

// MoveFeeder has a feeder, an index into Layout.Feeders, stand elsewhere on its piece, such
// as at `1.25 ft` or `3 in from end`; nothing else of it changes. Of two places the last
// counts. A member of a row is taken out of it.
func (w *Writer) MoveFeeder(feeder int32, where string) {
	w.feeders = append(w.feeders, feederChange{feeder: feeder, moves: true, where: where})
}

// SetGap gives keys of one gap, an index into Layout.Gaps, their values, as its own piece
// has them: a place by itself becomes an entry. A member of a row is taken out of it unless
// all members are set alike. Of two values for one key the last counts.
func (w *Writer) SetGap(gap int32, keys ...Key) {
	w.stands = append(w.stands, standChange{section: "gaps", index: gap, keys: keys})
}

// MoveGap has a gap stand elsewhere on its piece.
func (w *Writer) MoveGap(gap int32, where string) { w.SetGap(gap, Key{"at", where}) }

// CloseGap takes a gap out, its list with its last place, and the section with its last list.
func (w *Writer) CloseGap(gap int32) {
	w.stands = append(w.stands, standChange{section: "gaps", index: gap, goes: true})
}

// SetJoint gives keys of one rail joint, an index into Layout.Joints, their values, as SetGap
// does for gaps.
func (w *Writer) SetJoint(joint int32, keys ...Key) {
	w.stands = append(w.stands, standChange{section: "joints", index: joint, keys: keys})
}

// SetItem gives keys of an entry of a section that is a list their values, by its index in
// the layout's slice of that section: bonds, commons, terminators, loads, common-rail,
// never-together or accept.
func (w *Writer) SetItem(section string, index int32, keys ...Key) {
	w.items = append(w.items, itemChange{section, index, keys})
}

// Add puts a new entry at the end of a section of the root file, which is made where it is
// missing. An entry that stands there already just so is left.
func (w *Writer) Add(section, name, value string) {
	w.adds = append(w.adds, addChange{section: section, name: name, value: value})
}

// AddList puts a new entry at the end of a section of the root file that is a list.
func (w *Writer) AddList(section, value string) {
	w.adds = append(w.adds, addChange{section: section, value: value, list: true})
}

// AddPlaced puts an entry under a piece in `gaps`, `joints` or `feeders`, at a place such as
// `1.25 ft` or `3 in from end`, or an end of track work such as `straight`. Of a gap the value
// may be "": both rails, insulated. It goes into the file that has such entries for the piece,
// the piece's own before others, else into the piece's own, a module's too when that stands once;
// else into the root. Names are given as the layout has them. What words beside the places of a
// group of feeders say already is left out of a new one.
func (w *Writer) AddPlaced(section, piece, where, value string) {
	w.placed = append(w.placed, placedChange{section, piece, where, value})
}

// Remove takes the lines of an entry of a named section out, and the section with its last
// entry.
func (w *Writer) Remove(section, name string) {
	w.removes = append(w.removes, entryName{section, name})
}

// Texts are the texts of all files with the changes made, by the indexes of Layout.Files. The
// error is a *RefusedError that lists every change that could not be made; there are no
// texts then.
func (w *Writer) Texts() ([][]byte, error) {
	b := newBuild(w)
	b.setEntries()
	b.setFeeders()
	b.setStands()
	b.flush()
	b.remove()
	b.flush()
	b.removeItems()
	b.unset()
	b.flush()
	b.add()
	b.flush()
	b.mark()
	b.flush()
	b.check()
	if len(b.refused) > 0 {
		return nil, &RefusedError{Refusals: b.refused}
	}
	texts := make([][]byte, len(b.files))
	for i := range b.files {
		texts[i] = b.files[i].source.Text
	}
	return texts, nil
}

// Reread reads the layout again as if the new texts stood in its files. Nothing is written.
func (w *Writer) Reread(ctx context.Context) (*layout.Layout, []source.Problem, error) {
	texts, err := w.Texts()
	if err != nil {
		return nil, nil, err
	}
	if len(texts) == 0 {
		return nil, nil, &RefusedError{Refusals: []Refusal{{Change: "the layout", Why: "it has no file"}}}
	}
	byPath := map[string][]byte{}
	for i, f := range w.lay.Files {
		byPath[filepath.Clean(f.Name)] = texts[i]
	}
	open := func(name string) ([]byte, error) {
		text, ok := byPath[filepath.Clean(name)]
		if !ok {
			return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
		}
		return text, nil
	}
	return reader.Read(ctx, open, w.lay.Files[0].Name, w.opts)
}
