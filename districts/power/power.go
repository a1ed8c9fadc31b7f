// Package power computes what the wiring does to volts and amperes: the resistance from
// the source to every point of every rail, the current of a short there, under direct
// current and under the DCC waveform, the drop with trains, the current each wire may come
// to carry, and what the loss of one feeder changes. It decides no severity and writes
// no advice.
package power

import (
	"context"
	"runtime"
	"slices"
	"sync"

	"gapwise/netlist/circuit"
	"gapwise/netlist/conductor"
	"gapwise/netlist/layout"
	"gapwise/netlist/network"

	"gapwise/districts"
)

// Study is a whole layout in volts and amperes, a head a source at the top of a chain.
type Study struct {
	C        *circuit.Circuit
	T        *districts.Trace
	Elements *network.Elements
	Short    conductor.Range // of the short itself, in ohms
	Trains   []Load          // that may move at once, by falling current
	Heads    []*Head         // in order of Circuit.Sources

	builder   *network.Builder
	unsettled map[int32]bool // by block as wired: not judged, because something is wrong there first
}

// Head is a booster, cab or supply with everything that hangs from it.
type Head struct {
	Study  *Study
	Source int32
	Volts  conductor.Range // 0 .. 0 when the layout does not say
	Inside conductor.Range // of the source, in ohms, of the loop
	// InsideSaid tells that the layout gives it; else it is the usual range.
	InsideSaid bool

	Weak, Strong *Solved
	// Settings are further weak networks: what is fed only while track work is set so.
	Settings []*Solved
	groups   [][]districts.Setting
	// SettingsLeft is how many more such networks a bound on their number left out.
	SettingsLeft int
	// Weakest, Drops and Wires are what follows from them: by guard of the weak network the point of track
	// where a short draws least, and the worst drop (nil where it guards no track of its own); and
	// what every wire may come to carry.
	Weakest []*Point
	Drops   []*Drop
	Wires   []Carried
	Gaps    []GapShort
	// Deciding is, by guard, what the DCC waveform does to shorts behind it.
	Deciding []Deciding
	// Open says why nothing was computed, nil when it was: legs that meet, a badly scaled network.
	Open *Open
}

// Known reports whether the source's volts are known and its networks solved.
func (h *Head) Known() bool { return h.Open == nil && h.Volts.Hi > 0 }

// Run computes a traced layout. The results do not depend on how many processors there
// are. The error is ctx's only.
func Run(ctx context.Context, t *districts.Trace) (*Study, error) {
	c, without := mended(t)
	s := &Study{C: c, T: t, Short: shortItself(c.Layout), Trains: trainsAtOnce(c.Layout), unsettled: unsettled(t)}
	s.builder = network.NewBuilder(c, without)
	s.Elements = s.builder.Elements()
	for _, source := range network.HeadsOf(c) {
		s.Heads = append(s.Heads, &Head{Study: s, Source: source})
	}
	if err := s.each(ctx, func(h *Head, scratch *network.Scratch) error { return h.solve(ctx, scratch) }); err != nil {
		return nil, err
	}
	if err := s.settings(ctx); err != nil {
		return nil, err
	}
	return s, s.each(ctx, func(h *Head, _ *network.Scratch) error { return h.study(ctx) })
}

// study asks a solved head what rules want to know.
func (h *Head) study(ctx context.Context) error {
	if !h.Known() {
		return nil
	}
	h.Weakest = h.weakestPoints()
	h.Wires = h.carriedWires()
	h.Gaps = h.gapShorts()
	var err error
	if h.Drops, err = h.worstDrops(); err != nil {
		h.Open = &Open{Why: err.Error(), Conductor: -1}
		return nil
	}
	var open *Open
	if h.Deciding, open = h.deciding(ctx); open != nil && ctx.Err() == nil {
		h.Open = open
	}
	return ctx.Err()
}

// each does something to every head, as many at a time as there are processors.
func (s *Study) each(ctx context.Context, do func(*Head, *network.Scratch) error) error {
	errs := make([]error, len(s.Heads))
	next := make(chan int)
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(s.Heads)) {
		wait.Go(func() {
			scratch := s.builder.NewScratch()
			for i := range next {
				errs[i] = do(s.Heads[i], scratch)
			}
		})
	}
	for i := range s.Heads {
		next <- i
	}
	close(next)
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return ctx.Err()
}

// solve solves one head at both corners. The error is ctx's only.
func (h *Head) solve(ctx context.Context, scratch *network.Scratch) error {
	h.setVolts()
	for _, corner := range [...]network.Corner{network.Weak, network.Strong} {
		d, err := h.Study.builder.Build(ctx, scratch, h.Source, corner, nil)
		if err != nil {
			return err
		}
		x, open := newSolved(ctx, h, d)
		if err := ctx.Err(); err != nil {
			return err
		}
		if open != nil {
			h.Open = open
			return nil
		}
		if corner == network.Weak {
			h.Weak = x
		} else {
			h.Strong = x
		}
	}
	return nil
}

// shortItself is the resistance of a short, in ohms: the owner's, or the usual one.
func shortItself(l *layout.Layout) conductor.Range {
	for i := range l.Limits {
		if x := &l.Limits[i]; x.Name == "short-resistance" && x.Value.Known() && x.Unit == layout.UnitOhm {
			return conductor.Range{Lo: x.Value.Lo, Hi: x.Value.Hi}
		}
	}
	return conductor.ShortItself.Range
}

// HeadOf is the head that a source of the circuit hangs from, nil when there is none.
func (s *Study) HeadOf(source int32) *Head {
	for range s.C.Sources {
		if source < 0 {
			return nil
		}
		if i := slices.IndexFunc(s.Heads, func(h *Head) bool { return h.Source == source }); i >= 0 {
			return s.Heads[i]
		}
		source = s.C.Sources[source].Parent
	}
	return nil
}
