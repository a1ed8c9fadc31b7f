package districts_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gapwise/districts"
	"gapwise/netlist/circuit"
	"gapwise/netlist/layout"

	"github.com/rogpeppe/go-internal/txtar"
)

var update = flag.Bool("update", false, "write what is found into testdata/layouts; read the difference as code")

// TestLayouts traces every layout in testdata/layouts and compares everything found with what
// is written there. The comment at the head of a file says what is right and why; each was
// worked out by hand.
func TestLayouts(t *testing.T) {
	files, err := filepath.Glob("testdata/layouts/*.txtar")
	if err != nil || len(files) < 20 {
		t.Fatalf("%d layouts found, error %v", len(files), err)
	}
	for _, name := range files {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			a, err := txtar.ParseFile(name)
			if err != nil {
				t.Fatal(err)
			}
			if len(a.Files) != 2 || a.Files[0].Name != "layout.yaml" || a.Files[1].Name != "found" {
				t.Fatal("a test is layout.yaml and what is found in it")
			}
			got := found(trace(t, string(a.Files[0].Data)))
			if *update {
				a.Files[1].Data = []byte(got)
				if err := os.WriteFile(name, txtar.Format(a), 0o666); err != nil {
					t.Fatal(err)
				}
				return
			}
			if want := string(a.Files[1].Data); got != want {
				t.Errorf("%sfound:\n%s\nwant:\n%s", a.Comment, got, want)
			}
		})
	}
}

// printer writes everything a trace found, a line each.
type printer struct {
	tr *districts.Trace
	l  *layout.Layout
	b  strings.Builder
}

func found(tr *districts.Trace) string {
	p := &printer{tr: tr, l: tr.C.Layout}
	p.track()
	p.zones()
	p.ties()
	p.polarity()
	p.shorts()
	p.rest()
	return p.b.String()
}

func (p *printer) line(format string, args ...any) { fmt.Fprintf(&p.b, format+"\n", args...) }

func (p *printer) source(s int32) string {
	if s < 0 {
		return "nothing"
	}
	return strings.TrimPrefix(p.tr.C.Sources[s].Name, "booster ")
}

func (p *printer) feeder(f int32) string { return p.l.Feeders[f].Place.Text }

func (p *printer) detector(d int32) string {
	if d < 0 {
		return "no detector"
	}
	return p.l.Detectors[d].Name
}

func (p *printer) device(d int32, at int16) string {
	return p.tr.C.Devices[d].Name + " " + p.tr.C.Devices[d].Positions[at]
}

// spot is a place in words.
func (p *printer) spot(s int32) string {
	x := &p.tr.C.Spots[s]
	piece := &p.l.Pieces[x.Piece]
	switch {
	case piece.Kind == layout.TrackPiece:
		return piece.Name + " @ " + inFeet(x.At)
	case x.End < 0:
		return piece.Name + " bridge"
	default:
		return piece.Name + " " + piece.Ends[x.End].Name
	}
}

// way is where a way lies; both its spots where they differ.
func (p *printer) way(w int32) string {
	a, b := p.spot(p.tr.C.Ways[w].A), p.spot(p.tr.C.Ways[w].B)
	if a == b {
		return a
	}
	return a + " to " + b
}

var fedWords = [...]string{districts.Dead: "dead", districts.IfJoints: "by doubtful joints", districts.InSetting: "in a setting", districts.FedAlways: "fed"}

// track prints each track, in stretches that are alike in everything: block as wired,
// phase, rail of leg A, and how each rail is fed.
func (p *printer) track() {
	for t := range p.l.Tracks {
		from, last := "", ""
		to := ""
		flush := func() {
			if last != "" {
				p.line("track %s %s .. %s: %s", p.l.Tracks[t].Name, from, to, last)
			}
		}
		for i := range p.tr.C.Ways {
			w := &p.tr.C.Ways[i]
			if w.Kind != circuit.WayTrack || p.l.Pieces[w.Piece].Index != int32(t) {
				continue
			}
			now := p.stretch(w)
			if start := inFeet(p.tr.C.Spots[w.A].At); now != last || start != to {
				flush()
				from, last = start, now
			}
			to = inFeet(p.tr.C.Spots[w.B].At)
		}
		flush()
	}
}

func (p *printer) stretch(w *circuit.Way) string {
	phase := "no phase"
	section := p.tr.Polarity.Sections.Of[w.A]
	if a, ok := p.tr.Polarity.ARail(w.A); ok {
		phase = fmt.Sprintf("%s, A %s", p.source(p.tr.Polarity.Root[section]), [...]string{"left", "right"}[a])
	}
	n := p.tr.C.Spots[w.A].Node
	state := fedWords[p.tr.Fed[n[0]]]
	if other := fedWords[p.tr.Fed[n[1]]]; other != state {
		state = "left " + state + ", right " + other
	}
	return fmt.Sprintf("zone %d, %s, %s", p.tr.Zones.Of[w.A], phase, state)
}

func (p *printer) zones() {
	for i := range p.tr.Zones.List {
		z := &p.tr.Zones.List[i]
		p.line("zone %d: %s, from %s, feeders %s, detectors %s, meant %s, ends %s", i, inFeet(z.Length),
			names(z.Sources, p.source), names(z.Feeders, p.feeder), names(z.Detectors, p.detector),
			names(z.Meant, func(s districts.Share) string { return p.l.Blocks[s.Block].Name + " " + inFeet(s.Length) }),
			names(z.Bounds, p.way))
	}
}

func (p *printer) ties() {
	for _, list := range [][]districts.Tie{p.tr.Ties, p.tr.DetectorTies} {
		for _, x := range list {
			word, class := "tie", p.source
			if x.Detector {
				word, class = "detector tie", p.detector
			}
			what := "feeder " + p.feederOrNone(x.Feeder)
			if x.Feeder < 0 {
				what = "cut " + p.way(x.Cut) + ", anywhere in " + names(x.Ways, p.way) + ", between feeders " + names(x.Near[:], p.feederOrNone)
			}
			p.line("%s of %s and %s: %s", word, class(x.Classes[0]), class(x.Classes[1]), what)
		}
	}
	for _, x := range p.tr.WireTies {
		bus := "none"
		if x.Bus >= 0 {
			bus = p.l.Buses[x.Bus].Name
		}
		p.line("wire tie of %s and %s, by bus %s", p.source(x.Sources[0]), p.source(x.Sources[1]), bus)
	}
	for _, x := range p.tr.BondTies {
		p.line("bond tie of %s and %s, from %s to %s", p.source(x.Classes[0]), p.source(x.Classes[1]), p.spot(x.Spots[0]), p.spot(x.Spots[1]))
	}
	for _, x := range p.tr.PastDetector {
		p.line("bond past detector, %s and %s, from %s to %s", p.detector(x.Classes[0]), p.detector(x.Classes[1]), p.spot(x.Spots[0]), p.spot(x.Spots[1]))
	}
}

func (p *printer) feederOrNone(f int32) string {
	if f < 0 {
		return "none"
	}
	return p.feeder(f)
}

func (p *printer) polarity() {
	pol := p.tr.Polarity
	p.explanation("wrong", districts.Explanation{Feeders: pol.WrongFeeders, Gaps: pol.WrongGaps, Rails: pol.WrongRails, Signals: pol.WrongSignals})
	for _, x := range pol.Others {
		p.explanation("or wrong", x)
	}
	if !pol.Exact {
		p.line("polarity not searched to the end")
	}
}

func (p *printer) explanation(word string, x districts.Explanation) {
	if len(x.Feeders)+len(x.Gaps)+len(x.Rails)+len(x.Signals) > 0 {
		p.line("%s: feeders %s, gaps %s, rails %s, signals %s", word, names(x.Feeders, p.feeder), names(x.Gaps, p.way), names(x.Rails, p.way), names(x.Signals, p.source))
	}
}

func (p *printer) shorts() {
	for _, x := range p.tr.Conflicts {
		when := "always"
		if len(x.Settings) > 0 {
			when = p.device(x.Settings[0].Device, x.Settings[0].Position)
		}
		cause := names(x.Cause, p.conductor)
		if x.Demand >= 0 {
			cause = "wheels on the " + p.tr.C.Demands[x.Demand].Name
		}
		p.line("short of %s %s and %s %s, %s: %s", p.source(x.From.Source), [...]string{"A", "B"}[x.From.Leg], p.source(x.To.Source), [...]string{"A", "B"}[x.To.Leg], when, cause)
	}
	if len(p.tr.Unproven) > 0 {
		p.line("not tried together: %s", names(p.tr.Unproven, func(d int32) string { return p.tr.C.Devices[d].Name }))
	}
}

func (p *printer) conductor(i int32) string {
	k := &p.tr.C.Conductors[i]
	switch k.Kind {
	case circuit.RailLength:
		return fmt.Sprintf("%s rail of %s %s .. %s", [...]string{"left", "right"}[k.Rail], p.l.Pieces[k.Ref].Name, inFeet(k.From), inFeet(k.To))
	case circuit.JointMetal:
		return "joint of " + p.l.Pieces[k.Ref].Name
	case circuit.PiecePart:
		return "part of " + p.l.Pieces[k.Ref].Name
	case circuit.BridgeFeed:
		return "feed of " + p.l.Pieces[k.Ref].Name
	case circuit.FeederWire:
		return "feeder " + p.feeder(k.Ref)
	case circuit.BondWire:
		return fmt.Sprintf("bond %d", k.Ref)
	case circuit.BusSpan, circuit.WireEnd:
		return "bus " + p.l.Buses[k.Ref].Name
	default:
		return "device leg"
	}
}

func (p *printer) rest() {
	for _, r := range p.tr.DeadRuns {
		p.line("dead run of %s, left %s, right %s: %s; ends %s", inFeet(r.Length), fedWords[r.State[0]], fedWords[r.State[1]], names(r.Ways, p.way), names(r.Bounds, p.way))
	}
	for _, d := range p.tr.Differences {
		at := "a joint"
		if d.Track >= 0 {
			at = p.l.Tracks[d.Track].Name + " @ " + inFeet(d.At)
		}
		if d.Missing {
			p.line("no gap at %s between %s and %s", at, p.l.Blocks[d.Blocks[0]].Name, p.l.Blocks[d.Blocks[1]].Name)
		}
		if d.Gap >= 0 {
			p.line("gap at %s cuts a block in two", p.way(d.Gap))
		}
	}
	for _, r := range p.tr.Reversing {
		through := "no way through"
		if r.Ends[0] >= 0 {
			through = fmt.Sprintf("%s through, from %s to %s", inFeet(r.Through), p.way(r.Ends[0]), p.way(r.Ends[1]))
		}
		p.line("reversing section of %s at %s: %s of track, %s, exits %s, feeders %s", p.source(r.Source), p.spot(r.Section), inFeet(r.Length), through,
			names(r.Exits, p.way), names(slices.Sorted(slices.Values(r.Feeders)), p.feeder))
	}
}
