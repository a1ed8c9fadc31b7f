package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"gapwise/netlist/source"

	"gapwise/reports"
	"gapwise/rules/catalogue"
	"gapwise/rules/gauge"
)

func (p *program) explainCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "explain [RULE|numbers]",
		Short: "say what a rule looks for and what to do, list the rules, or tell how the numbers are made",
		Args:  atMostOne("explain takes at most one rule: gapwise explain RULE"),

		ValidArgsFunction: firstOf(append(ruleNames(), numbersPage)),
		RunE: func(_ *cobra.Command, args []string) error {
			text := reports.Text{Out: p.out, Width: textWidth(p.out), Colour: wantsColour(p.out)}
			if len(args) == 0 {
				return writing(text.Rules())
			}
			if args[0] == numbersPage {
				return writing(text.Numbers())
			}
			r := catalogue.ByID(args[0])
			if l, is := gauge.LimitByName(args[0]); r == nil && is {
				return writing(text.GaugeLimit(l))
			}
			if r == nil {
				return noSuchRule(args[0])
			}
			return writing(text.Rule(r))
		},
	}
}

// numbersPage is what explain takes besides rules: how the numbers are made.
const numbersPage = "numbers"

// noSuchRule refuses a rule's name; where none is near it says where all are listed.
func noSuchRule(id string) error {
	var names []string
	for _, r := range catalogue.All() {
		names = append(names, r.ID)
	}
	if source.Nearest(id, names) == "" {
		return fmt.Errorf("no such rule: %s; see gapwise explain", id)
	}
	return noSuch("rule", id, names)
}
