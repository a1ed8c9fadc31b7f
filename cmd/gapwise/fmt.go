package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"gapwise/netlist/format"
	"gapwise/netlist/reader"
	"gapwise/netlist/source"

	"gapwise/rules"
)

// fmtOptions are the flags of fmt.
type fmtOptions struct{ write, check bool }

func (p *program) fmtCommand() *cobra.Command {
	var o fmtOptions
	c := &cobra.Command{
		Use:   "fmt FILE...",
		Short: "lay a layout file out in the usual form",
		Long: `fmt brings a layout file into the form that the examples have: keys in the
order of the language reference, one blank behind colons and commas, a blank
between number and unit, values in columns, one empty line between sections.
What the file says stays, and so do your comments, your words and the order of
your lists.

Sections are moved into the order of the reference only where every comment
at the left margin stands directly above a section, which it then goes with.
Columns inside braces are kept up where you made some, by more than one blank
behind a comma. Words in quotes stay as they are.

  gapwise fmt FILE          print it
  gapwise fmt -w FILE...    rewrite the files, and name those that changed
  gapwise fmt --check FILE...
                            name those that would change, and end with status 1

A file with mistakes is left alone: they are printed, and the status is 2. A
file that makes sense only inside another is named together with that one.`,
		Args:              func(_ *cobra.Command, args []string) error { return o.validate(args) },
		RunE:              func(c *cobra.Command, args []string) error { return p.fmt(c.Context(), o, args) },
		ValidArgsFunction: layoutFiles,
	}
	c.Flags().BoolVarP(&o.write, "write", "w", false, "rewrite the files instead of printing")
	c.Flags().BoolVar(&o.check, "check", false, "only name the files that would change: status 1 if any would")
	c.Flags().SortFlags = false
	return c
}

// validate refuses what does not fit together.
func (o *fmtOptions) validate(args []string) error {
	switch {
	case len(args) == 0:
		return errors.New("fmt takes at least one layout file: gapwise fmt FILE")
	case o.write && o.check:
		return errors.New("--write and --check do not go together")
	case len(args) > 1 && !o.write && !o.check:
		return errors.New("fmt prints one file; for several there are --write and --check")
	}
	return nil
}

// fmt formats every file by itself: one that cannot be formatted keeps none of the others
// from it.
func (p *program) fmt(ctx context.Context, o fmtOptions, files []string) error {
	done := p.progress("reading " + files[0])
	all, err := inTime(ctx, func() []formatting { return formatFiles(ctx, files) })
	done()
	if err != nil {
		return err
	}
	refused, changed := false, false
	for i, file := range files {
		f := &all[i]
		if f.err == nil && len(f.problems) == 0 && o.write && f.changes() {
			if err := replaceFile(file, f.after); err != nil {
				f.err = fmt.Errorf("cannot write %s: %w", file, pathless(err))
			}
		}
		switch {
		case f.err != nil:
			fmt.Fprintln(p.err, "gapwise: "+source.Safe(f.err.Error()))
			refused = true
			continue
		case len(f.problems) > 0:
			if err := f.files.Render(p.err, f.problems); err != nil {
				return err
			}
			refused = true
			continue
		case !o.write && !o.check:
			_, err = p.out.Write(f.after)
		case f.changes():
			changed = true
			_, err = fmt.Fprintln(p.out, source.Safe(file))
		}
		if err != nil {
			return writing(err)
		}
	}
	switch {
	case refused:
		return end(exitNotUnderstood)
	case changed && o.check:
		return end(exitFaults) // 1, as a check that found something
	}
	return nil
}

// formatting is what became of one file: not read or not written, with mistakes, or formatted.
type formatting struct {
	before, after []byte
	err           error
	files         source.Files // that the problems are in
	problems      []source.Problem
}

func (f *formatting) changes() bool { return !bytes.Equal(f.before, f.after) }

// formatFiles reads and formats files. Mistakes in one that another of them includes, and
// that has none as a part of that, are none.
func formatFiles(ctx context.Context, files []string) []formatting {
	all := make([]formatting, len(files))
	sound := map[string]bool{} // files of layouts without mistakes
	for i, file := range files {
		f := &all[i]
		l, problems, err := reader.ReadFile(ctx, file, rules.ReaderOptions())
		f.files, f.problems = l.Files, problems
		if err != nil {
			f.err = errors.New(unreadable(file, err))
			continue
		}
		for _, part := range l.Files {
			clean := filepath.Clean(part.Name)
			sound[clean] = sound[clean] || len(problems) == 0
		}
	}
	for i, file := range files {
		f := &all[i]
		if f.err != nil || len(f.problems) > 0 && !sound[filepath.Clean(file)] {
			continue
		}
		f.before = f.files[0].Text
		f.after, f.problems, f.err = format.Format(f.files[0])
	}
	return all
}
