package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"gapwise/netlist/source"
)

const about = `gapwise reads a file that says how a model railroad is wired for DCC, and says
what is wrong, where, why and what to do, before the booster is switched on.`

const statuses = `Exit status:
  2  a layout or the command line was not understood, or a file was not read
  1  at least one fault (with --strict: or caution) that the layout does not
     accept
  3  a check gave up, or was stopped, before it was complete (with --complete:
     or something was not checked)
  0  otherwise
Where several hold, the first of this list counts.`

// root is the command tree. Every command is in a file of its own.
func (p *program) root() *cobra.Command {
	root := &cobra.Command{
		Use:           "gapwise",
		Short:         "check the wiring of a DCC model railroad before it is switched on",
		Long:          about + "\n\n" + statuses,
		Version:       version(),
		SilenceUsage:  true,
		SilenceErrors: true,
		RunE:          func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.Args = func(_ *cobra.Command, args []string) error {
		if len(args) == 0 {
			return nil
		}
		return noSuchCommand(root, args[0])
	}
	root.SetIn(p.in)
	root.SetOut(p.out)
	root.SetErr(p.err)
	root.SetVersionTemplate("{{.Version}}\n")
	root.SetFlagErrorFunc(flagError)
	root.CompletionOptions.DisableDefaultCmd = true
	root.AddCommand(p.checkCommand(), p.auditCommand(), p.traceCommand(), p.gapsCommand(), p.detectorsCommand(), p.gaugeCommand(), p.splitCommand(), p.exportCommand(), p.explainCommand(), p.fmtCommand(), p.completionCommand(), p.newCommand(), p.schemaCommand())
	root.SetHelpCommand(helpCommand(root))
	return root
}

// helpCommand prints a command's help; unlike the library's own it refuses a wrong name.
func helpCommand(root *cobra.Command) *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: "say more about a command",
		Args:  atMostOne("help takes at most one command: gapwise help COMMAND"),
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return root.Help()
			}
			for _, c := range root.Commands() {
				if c.Name() == args[0] {
					c.InitDefaultHelpFlag() // as --help would
					return c.Help()
				}
			}
			return noSuchCommand(root, args[0])
		},
	}
}

func atMostOne(message string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) > 1 {
			return errors.New(message)
		}
		return nil
	}
}

func noSuchCommand(root *cobra.Command, word string) error {
	var names []string
	for _, c := range root.Commands() {
		names = append(names, c.Name())
	}
	return noSuch("command", word, names)
}

// noSuch refuses a name and gives the nearest one, or, where none is near, all when they
// are few.
func noSuch(noun, word string, names []string) error {
	if near := source.Nearest(word, names); near != "" {
		return fmt.Errorf("no such %s: %s; nearest: %s", noun, word, near)
	}
	if len(names) <= 16 {
		return fmt.Errorf("no such %s: %s; there are: %s", noun, word, strings.Join(names, ", "))
	}
	return fmt.Errorf("no such %s: %s", noun, word)
}

// flagError says what is wrong with a flag in one line.
func flagError(c *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	var value *pflag.InvalidValueError
	switch {
	case errors.As(err, &unknown):
		return noSuchFlag(c, unknown)
	case errors.As(err, &value):
		return fmt.Errorf("--%s does not take %q", value.GetFlag().Name, value.GetValue())
	}
	return err
}

func noSuchFlag(c *cobra.Command, unknown *pflag.NotExistError) error {
	if letters := unknown.GetSpecifiedShortnames(); letters != "" {
		return fmt.Errorf("no such flag: -%s", letters)
	}
	var names []string
	c.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, "--"+f.Name) })
	return noSuch("flag", "--"+unknown.GetSpecifiedName(), names)
}
