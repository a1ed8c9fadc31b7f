package main

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"gapwise/netlist/source"
)

// starterFiles are layouts to begin from, with comments that teach the language.
//
//go:embed starters
var starterFiles embed.FS

// starterSizes are the starters there are, the usual one first.
var starterSizes = []string{"small", "club"}

func (p *program) newCommand() *cobra.Command {
	var size string
	c := &cobra.Command{
		Use:   "new [FILE]",
		Short: "write a layout file to begin from, with comments that explain it",
		Long: `new writes a layout file that reads and checks clean, with a comment at every
section that says what it is for and what to measure. Change it, a few lines at
a time, into what you have.

  small  an oval with a siding: one booster, four feeders, gaps and blocks
  club   two boosters, breakers, a return loop with a reverser, a yard, detection
         and a list of practices

Without FILE it is printed. A file that is there already is left alone.`,
		Example: "  gapwise new layout.yaml\n  gapwise new --size club layout.yaml",
		Args:    atMostOne("new takes at most one file: gapwise new FILE"),
		RunE: func(_ *cobra.Command, args []string) error {
			text, err := starter(size)
			switch {
			case err != nil:
				return err
			case len(args) == 0:
				_, err = p.out.Write(text)
				return writing(err)
			}
			return p.writeNew(args[0], text)
		},
		ValidArgsFunction: layoutFiles,
	}
	c.Flags().StringVar(&size, "size", starterSizes[0], "`SIZE` of the layout to begin from: small or club")
	completeFlag(c, "size", oneOf(starterSizes...))
	return c
}

// starter is the layout of a size.
func starter(size string) ([]byte, error) {
	text, err := starterFiles.ReadFile("starters/" + size + ".yaml")
	if err != nil {
		return nil, noSuch("size", size, starterSizes)
	}
	return text, nil
}

// writeNew writes a file that must not be there yet, whole or not at all.
func (p *program) writeNew(name string, text []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	switch {
	case errors.Is(err, fs.ErrExist):
		return fmt.Errorf("%s is there already, and new overwrites nothing", name)
	case err != nil:
		return fmt.Errorf("cannot write %s: %w", name, pathless(err))
	}
	_, err = f.Write(text)
	if err = errors.Join(err, f.Close()); err != nil {
		return fmt.Errorf("cannot write %s: %w", name, errors.Join(pathless(err), os.Remove(name)))
	}
	fmt.Fprintln(p.err, "gapwise: wrote "+source.Safe(name)+"; next: gapwise check "+source.Safe(name))
	return nil
}
