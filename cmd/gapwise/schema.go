package main

import (
	"errors"

	"github.com/spf13/cobra"

	"gapwise/reports"
)

func (p *program) schemaCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "schema",
		Short: "print a JSON Schema of layout files, for an editor that completes keys",
		Long: `schema prints a JSON Schema (draft 2020-12) of the layout language. An editor that
knows such schemas completes keys and words, shows what each key means, and marks
what is misspelt, has no unit or is missing, as you type:

  gapwise schema > gapwise.schema.json

and, as the first line of the layout beside it:

  # yaml-language-server: $schema=gapwise.schema.json

A schema sees one file and its form only: whether names exist, measures fit and
the wiring is sound, gapwise check tells.`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return errors.New("schema takes no file: gapwise schema > gapwise.schema.json")
			}
			return nil
		},
		RunE:              func(*cobra.Command, []string) error { return writing(reports.WriteLayoutSchema(p.out)) },
		ValidArgsFunction: cobra.NoFileCompletions,
	}
}
