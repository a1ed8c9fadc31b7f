package catalogue

import (
	"fmt"

	"gapwise/netlist/layout"

	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var blockShorterThanTrain = rule.Rule{
	ID:       "block-shorter-than-train",
	Severity: finding.Caution,
	Practice: "main-block-holds-train",
	Title:    "a main-line block is shorter than the longest train that comes there",
	Doc: rule.Doc{
		What:    "A block whose use is main, measured as wired along its longest way through, does not hold the longest train. Interlockings, sidings, yards, industry and staging are exempt; a longer block is fine.",
		Why:     "A train then stands in two blocks wherever it waits, and the block behind it never clears.",
		Fix:     "Move a gap so that the block holds the train, or join it to its neighbour.",
		Example: "blocks:\n  B1: {covers: M1 @ 2 .. 8 ft, use: main}   # 6 ft, for a train of 10 ft",
	},
	Sources: []string{rule.CommonPractice},
}

func init() { blockShorterThanTrain.Check = checkBlockShorterThanTrain }

func checkBlockShorterThanTrain(c *rule.Case) {
	for b := range c.L.Blocks {
		block := &c.L.Blocks[b]
		if block.Use != layout.UseMain || c.DiffersFromMeant(int32(b)) {
			continue
		}
		zone := c.T.ZoneOf(int32(b))
		if zone < 0 {
			continue
		}
		name, train, ok := c.LongestTrainIn(int32(b))
		if !ok {
			c.LeaveOpen("whether "+c.BlockName(int32(b))+" holds the longest train", "no train that comes there has a length", block.Pos)
			continue
		}
		through, open := c.T.LongestThrough(zone)
		if open {
			continue // a way round it has no end: it holds any train
		}
		if through >= train {
			continue
		}
		c.Report(finding.Finding{
			Severity: c.PracticeSeverity(),
			Pos:      block.Pos,
			Place:    finding.Place{Text: c.BlockName(int32(b))},
			Message:  fmt.Sprintf("%s is %s long as wired, shorter than the longest train that comes there", c.BlockName(int32(b)), rule.Length("", through).Text),
			Why:      "a waiting train stands in two blocks at once",
			Numbers:  []finding.Number{{Name: c.BlockName(int32(b)), Text: rule.Length("", through).Text, SI: through, Unit: "m", Limit: "at least " + rule.Length("", train).Text + " (train " + name + ")", Source: rule.CommonPractice}},
			Fix:      "move a gap so that the block holds the train, or join it to its neighbour",
			Mends:    longerMends(c, zone, train-through),
		})
	}
}
