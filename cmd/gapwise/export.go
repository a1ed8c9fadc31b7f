package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"gapwise/netlist/layout"
	"gapwise/netlist/network"

	"gapwise/districts/power"
	"gapwise/reports"
	"gapwise/rules/rule"
)

// exportOptions are the flags of export as typed.
type exportOptions struct {
	file, out, corner, at string
	transient             bool
}

func (p *program) exportCommand() *cobra.Command {
	o := exportOptions{corner: "both"}
	c := &cobra.Command{
		Use:   "export --spice FILE --out DIR",
		Short: "write the networks of resistors for a circuit simulator",
		Long: `export writes, for every booster, cab or supply with track, one netlist a corner: both
legs, the source between them, and a short at the place where it draws least, or
at a place you name. Every other breaker, reverser or fuse below gets a file of its
own, with the short where it draws least behind that one. Comments say which
conductor is which. It checks arithmetic, not physics: the simulator solves the
same circuit, it does not know your layout.`,
		Example: "  gapwise export --spice layout.yaml --out nets\n  gapwise export --spice layout.yaml --out nets --at \"M1 @ 4 ft\" --transient",
		Args:    cobra.NoArgs,
		RunE:    func(c *cobra.Command, _ []string) error { return p.export(c.Context(), o) },
	}
	f := c.Flags()
	f.StringVar(&o.file, "spice", "", "layout `FILE` to write netlists of, in SPICE syntax")
	f.StringVar(&o.out, "out", "", "`DIR` to write them into")
	f.StringVar(&o.corner, "corner", o.corner, "`CORNER`: weak, strong or both")
	f.StringVar(&o.at, "at", "", "`PLACE` of the short, such as \"M1 @ 4 ft\"; else the weakest one")
	f.BoolVar(&o.transient, "transient", false, "inductances and a square wave, instead of an operating point")
	f.SortFlags = false
	completeFlag(c, "corner", oneOf("weak", "strong", "both"))
	return c
}

func (p *program) export(ctx context.Context, o exportOptions) error {
	switch {
	case o.file == "":
		return errors.New("export takes a layout file: gapwise export --spice FILE --out DIR")
	case o.out == "":
		return errors.New("export takes a folder to write into: --out DIR")
	case o.corner != "weak" && o.corner != "strong" && o.corner != "both":
		return noSuch("corner", o.corner, []string{"weak", "strong", "both"})
	}
	done := p.progress("computing " + o.file)
	var places []string
	if o.at != "" {
		places = []string{o.at}
	}
	r, err := inTime(ctx, func() traced { return readAndTrace(ctx, o.file, places) })
	done()
	switch {
	case err != nil:
		return err
	case r.unread != nil:
		return errors.New(unreadable(o.file, r.unread))
	case r.unfound != nil:
		return r.unfound
	case r.c == nil:
		if err := r.layout.Files.Render(p.err, r.problems); err != nil {
			return err
		}
		return end(exitNotUnderstood)
	}
	points, err := exportPoints(r.c, r.places)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(o.out, 0o755); err != nil {
		return err
	}
	for i := range points {
		if err := p.exportPoint(r.c, &points[i], o); err != nil {
			return err
		}
	}
	return nil
}

// exported is a short to write netlists of, and the name of their files without corner and ending.
type exported struct {
	power.Point
	file string
}

// exportPoints are the shorts: at the named place, or behind every guard of every source where one draws least. The weakest of
// a source has the source's name, the others have their guard's too.
func exportPoints(c *rule.Case, named []layout.Place) ([]exported, error) {
	names := netlistNames{}
	if len(named) > 0 {
		pt, ok := c.Power.PointOf(named[0])
		if !ok {
			return nil, fmt.Errorf("no source of known volts has a leg in each rail at %s", named[0].Text)
		}
		return []exported{{pt, names.of(c.C.Sources[pt.Head.Source].Name)}}, nil
	}
	var out []exported
	for _, h := range c.Power.Heads {
		if !h.Known() {
			continue
		}
		weakest := -1
		for g, q := range h.Weakest {
			if q != nil && (weakest < 0 || q.Short.Lo < h.Weakest[weakest].Short.Lo) {
				weakest = g
			}
		}
		if weakest < 0 {
			continue
		}
		source := c.C.Sources[h.Source].Name
		out = append(out, exported{*h.Weakest[weakest], names.of(source)})
		for g, q := range h.Weakest {
			switch {
			case q == nil || g == weakest:
			case g == 0:
				out = append(out, exported{*q, names.of(source + " itself")})
			default:
				out = append(out, exported{*q, names.of(source + " " + h.Weak.Guards[g].Name)})
			}
		}
	}
	if len(out) == 0 {
		return nil, errors.New("no source of known volts feeds anything here")
	}
	return out, nil
}

// exportPoint writes a short's netlists, and says which.
func (p *program) exportPoint(c *rule.Case, pt *exported, o exportOptions) error {
	for _, x := range []*power.Solved{pt.Network(), pt.Head.Strong} {
		word := "weak"
		if x.Corner == network.Strong {
			word = "strong"
		}
		s := &reports.Spice{Case: c, Net: x, Point: pt.Point, Transient: o.transient}
		if o.corner != "both" && o.corner != word {
			continue
		}
		name := filepath.Join(o.out, pt.file+"-"+word+".cir")
		if !s.Holds() {
			if _, err := fmt.Fprintf(p.err, "gapwise: no %s: %s is fed in some settings of track work only, which the %s corner leaves out\n", name, c.PointPlace(&pt.Point).Text, word); err != nil {
				return writing(err)
			}
			continue
		}
		if err := writeSpice(name, s); err != nil {
			return err
		}
		if _, err := fmt.Fprintln(p.out, name); err != nil {
			return writing(err)
		}
	}
	return nil
}

func writeSpice(name string, s *reports.Spice) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	if err := s.Write(f); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

// longestName bounds a file's name, in bytes, so that corner and ending fit on every file system.
const longestName = 100

// netlistNames are the names given so far, in small letters: some file systems take large ones for the same.
type netlistNames map[string]bool

// of makes a file's name of something's: letters, digits and dashes, and no name twice.
func (n netlistNames) of(name string) string {
	name = strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '_':
			return r
		default:
			return '-'
		}
	}, name)
	name = name[:min(longestName, len(name))]
	out := name
	for i := 2; n[strings.ToLower(out)]; i++ {
		out = fmt.Sprintf("%s-%d", name, i)
	}
	n[strings.ToLower(out)] = true
	return out
}
