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
at a place you name. Comments say which conductor is which. It checks arithmetic,
not physics: the simulator solves the same circuit, it does not know your layout.`,
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

// exportPoints are the places of the shorts: the named one, or of every source that where a short draws least.
func exportPoints(c *rule.Case, named []layout.Place) ([]power.Point, error) {
	if len(named) > 0 {
		pt, ok := c.Power.PointOf(named[0])
		if !ok {
			return nil, fmt.Errorf("no source of known volts has a leg in each rail at %s", named[0].Text)
		}
		return []power.Point{pt}, nil
	}
	var out []power.Point
	for _, h := range c.Power.Heads {
		if !h.Known() {
			continue
		}
		var weakest *power.Point
		for _, q := range h.Weakest {
			if q != nil && (weakest == nil || q.Short.Lo < weakest.Short.Lo) {
				weakest = q
			}
		}
		if weakest != nil {
			out = append(out, *weakest)
		}
	}
	if len(out) == 0 {
		return nil, errors.New("no source of known volts feeds anything here")
	}
	return out, nil
}

// exportPoint writes a source's netlists, and says which.
func (p *program) exportPoint(c *rule.Case, pt *power.Point, o exportOptions) error {
	for _, x := range []*power.Solved{pt.Network(), pt.Head.Strong} {
		word := "weak"
		if x.Corner == network.Strong {
			word = "strong"
		}
		if o.corner != "both" && o.corner != word {
			continue
		}
		name := filepath.Join(o.out, fileName(c.C.Sources[pt.Head.Source].Name)+"-"+word+".cir")
		if err := writeSpice(name, &reports.Spice{Case: c, Net: x, Point: *pt, Transient: o.transient}); err != nil {
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

// fileName makes a source's name one of a file: letters, digits and dashes.
func fileName(name string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '_':
			return r
		default:
			return '-'
		}
	}, name)
}
