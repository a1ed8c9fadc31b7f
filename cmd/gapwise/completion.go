package main

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"math"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"gapwise/netlist/layout"
	"gapwise/netlist/reader"

	"gapwise/districts"
	"gapwise/rules"
	"gapwise/rules/catalogue"
)

// completionShells are the shells whose completion gapwise can set up.
var completionShells = []string{"bash", "zsh", "fish", "powershell"}

func (p *program) completionCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "completion SHELL",
		Short: "make the Tab key complete commands, rules, and a layout's places",
		Long: `completion prints a script that teaches your shell to complete what you type
for gapwise with the Tab key: commands and flags, layout files, the names of
rules, and the places and devices of the layout that the line names.

The shells are bash, zsh, fish and powershell. For the window you are in:

  source <(gapwise completion bash)
  source <(gapwise completion zsh)
  gapwise completion fish | source
  gapwise completion powershell | Out-String | Invoke-Expression

Put the line into your shell's start-up file to have it in every window. bash
needs the package bash-completion beside it; zsh needs "autoload -U compinit;
compinit" before it.

A place has blanks in it. Type it without quotes and press Tab: the shell puts
in the marks that it needs.`,
		Args: func(_ *cobra.Command, args []string) error {
			switch {
			case len(args) != 1:
				return fmt.Errorf("completion takes one shell: %s", strings.Join(completionShells, ", "))
			case !slices.Contains(completionShells, args[0]):
				return noSuch("shell", args[0], completionShells)
			}
			return nil
		},
		ValidArgsFunction: firstOf(completionShells),
		RunE: func(c *cobra.Command, args []string) error {
			return writing(writeCompletion(c.Root(), args[0], p.out))
		},
	}
}

func writeCompletion(root *cobra.Command, shell string, out io.Writer) error {
	switch shell {
	case "bash":
		return root.GenBashCompletionV2(out, true)
	case "zsh":
		return root.GenZshCompletion(out)
	case "fish":
		return root.GenFishCompletion(out, true)
	default:
		return root.GenPowerShellCompletionWithDesc(out)
	}
}

// offer is what may stand where the cursor is: of these, the ones that go on from what is
// typed.
func offer(typed string, words []string) ([]string, cobra.ShellCompDirective) {
	var fit []string
	for _, w := range words {
		if strings.HasPrefix(w, typed) {
			fit = append(fit, w)
		}
	}
	return fit, cobra.ShellCompDirectiveNoFileComp
}

// oneOf completes a flag's value by some words.
func oneOf(words ...string) cobra.CompletionFunc {
	return func(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
		return offer(typed, words)
	}
}

// firstOf completes a command's only argument by some words.
func firstOf(words []string) cobra.CompletionFunc {
	return func(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return offer(typed, nil)
		}
		return offer(typed, words)
	}
}

// completeFlag says how a flag's value is completed. It can fail only for a flag that c does
// not have.
func completeFlag(c *cobra.Command, flag string, how cobra.CompletionFunc) {
	_ = c.RegisterFlagCompletionFunc(flag, how)
}

// layoutFiles completes the names of layout files.
func layoutFiles(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
}

// ruleNames are the rules, each with what it finds.
func ruleNames() []string {
	var names []string
	for _, r := range catalogue.All() {
		names = append(names, cobra.CompletionWithDesc(r.ID, r.Title))
	}
	return names
}

// completeRules completes the last of several names with commas between, by those that are not
// among them yet.
func completeRules(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
	before := typed[:strings.LastIndex(typed, ",")+1]
	have := strings.Split(before, ",")
	var names []string
	for _, n := range ruleNames() {
		if id, _, _ := strings.Cut(n, "\t"); !slices.Contains(have, id) {
			names = append(names, before+n)
		}
	}
	return offer(typed, names)
}

// completePlaces completes the words of trace: a file, then as many places in it as the flags
// leave room for.
func completePlaces(c *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	room := 1
	switch {
	case len(args) == 0:
		return layoutFiles(c, args, typed)
	case c.Flags().Changed("without"):
		room = 0
	case c.Flags().Changed("route"):
		room = 2
	}
	if len(args) > room {
		return offer(typed, nil)
	}
	l := readForCompletion(c.Context(), args[0])
	if l == nil {
		return offer(typed, nil)
	}
	places, directive := offer(typed, placesOf(l))
	return places, directive | cobra.ShellCompDirectiveKeepOrder
}

// completeRemovals completes what --without takes: a device, bus or feeder of the file that
// the line names.
func completeRemovals(c *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return offer(typed, nil)
	}
	l := readForCompletion(c.Context(), args[0])
	if l == nil {
		return offer(typed, nil)
	}
	_, names, _ := districts.FindRemoval(l, "")
	return offer(typed, names)
}

// completionPatience is how long someone who pressed Tab waits for a layout to be read.
const completionPatience = 2 * time.Second

// readForCompletion reads a layout to offer what is in it, nil where it cannot be read, has
// mistakes, or takes long.
func readForCompletion(ctx context.Context, file string) *layout.Layout {
	if info, err := os.Stat(file); err != nil || !info.Mode().IsRegular() {
		return nil
	}
	ctx, stop := context.WithTimeout(ctx, completionPatience)
	defer stop()
	l, err := inTime(ctx, func() *layout.Layout {
		l, problems, err := reader.ReadFile(ctx, file, rules.ReaderOptions())
		if err != nil || len(problems) > 0 {
			return nil
		}
		return l
	})
	if err != nil {
		return nil
	}
	return l
}

// offered is a place with where it is: metres along its piece, for the order.
type offered struct {
	piece      layout.PieceID
	at         float64
	text, what string
}

// placesOf are places that trace finds, piece by piece: of a track its start, what stands
// along it and its end, of another piece its name and its ends.
func placesOf(l *layout.Layout) []string {
	var all []offered
	for id := range l.Pieces {
		p, piece := &l.Pieces[id], layout.PieceID(id)
		if p.Kind == layout.TrackPiece {
			all = append(all, offered{piece, math.Inf(-1), p.Name + " @ start", "track"}, offered{piece, math.Inf(1), p.Name + " @ end", "track"})
			continue
		}
		all = append(all, offered{piece, math.Inf(-1), p.Name, "piece"})
		for e := range p.Ends {
			all = append(all, offered{piece, math.Inf(-1), p.Name + " " + p.Ends[e].Name, "end of a piece"})
		}
	}
	stands := func(p *layout.Place, what string) {
		if p.Piece >= 0 {
			all = append(all, offered{p.Piece, p.At.Mid(), p.Text, what})
		}
	}
	for i := range l.Gaps {
		stands(&l.Gaps[i].Place, "gap")
	}
	for i := range l.Feeders {
		stands(&l.Feeders[i].Place, "feeder")
	}
	slices.SortStableFunc(all, func(a, b offered) int { return cmp.Or(cmp.Compare(a.piece, b.piece), cmp.Compare(a.at, b.at)) })
	var places []string
	have := map[string]bool{}
	for _, o := range all {
		if !have[o.text] {
			have[o.text] = true
			places = append(places, cobra.CompletionWithDesc(o.text, o.what))
		}
	}
	return places
}
