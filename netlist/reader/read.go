// Package reader turns layout files into a layout.Layout: it loads includes, decodes
// every entry by tables that also document the language, resolves names, copies,
// defaults, joints, places and rows, and reports every mistake at its place, once.
package reader

import (
	"context"
	"io"
	"os"

	"gapwise/netlist/layout"
	"gapwise/netlist/source"
)

// Options are what a reader must be told because it is known only further up.
type Options struct {
	RuleNames     []string // findings that exist; nil leaves `accept` unchecked
	NeverAccepted []string // of these, what no reason excuses
	PracticeNames []string // rules of thumb that exist; nil leaves `practice` unchecked
	LimitNames    []string // limits that exist; nil leaves `limits` unchecked
}

// Read reads the layout file name and what it includes; open gives a file's bytes. The
// error is only for a root file that cannot be read or a cancelled ctx; mistakes in the
// layout are problems, and the layout is then partial. Layout.Files is always filled
// as far as files were read, so that problems can be rendered.
func Read(ctx context.Context, open func(name string) ([]byte, error), name string, o Options) (*layout.Layout, []source.Problem, error) {
	r := newReader(ctx, open, o)
	if err := r.load(name); err != nil {
		return r.lay, r.settled(), err
	}
	for _, phase := range []func(){
		r.decode, r.link, r.buildPieces, r.joinEnds, r.standBodies, r.closeEnds,
		r.buildDevices, r.buildBuses, r.traceSources, r.buildRails, r.orderPlaces, r.buildUse, r.tellUnknown,
	} {
		if err := ctx.Err(); err != nil {
			return r.lay, r.settled(), err
		}
		phase()
	}
	return r.lay, r.settled(), nil
}

// ReadFile reads a layout from the file system.
func ReadFile(ctx context.Context, path string, o Options) (*layout.Layout, []source.Problem, error) {
	return Read(ctx, readBounded, path, o)
}

// maxRead is one byte more than a layout file may have: enough to see that it has more.
const maxRead = 8<<20 + 1

// readBounded reads a file, or a pipe, up to maxRead bytes.
func readBounded(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, maxRead))
}
