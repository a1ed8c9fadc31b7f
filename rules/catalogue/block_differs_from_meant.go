package catalogue

import (
	"fmt"

	"gapwise/netlist/layout"
	"gapwise/netlist/source"

	"gapwise/districts"
	"gapwise/rules/finding"
	"gapwise/rules/rule"
)

var blockDiffersFromMeant = rule.Rule{
	ID:       "block-differs-from-meant",
	Severity: finding.Caution,
	Title:    "a block as wired is not the block as meant",
	Doc: rule.Doc{
		What:    "The insulated gaps make blocks; where they end is compared with `blocks`. A gap stands where nothing is meant to part, or none stands where two blocks are meant to. Less than 6 in on the wrong side does not count. The source of its feeders is compared with `districts` too.",
		Why:     "Detection shows a train in the wrong block, or part of the block is fed and seen with its neighbour.",
		Fix:     "Move or cut the gap, or write down the block as it is.",
		Example: "gaps:\n  M1: [4 ft, 13 ft]\nblocks:\n  B1: {covers: M1 @ 8 in .. 13 ft}",
	},
	Sources: []string{"yours: `blocks` and `districts`; the 6 in allowed: " + rule.CommonPractice},
}

func init() { blockDiffersFromMeant.Check = checkBlockDiffersFromMeant }

func checkBlockDiffersFromMeant(c *rule.Case) {
	for i := range c.T.Differences {
		d := &c.T.Differences[i]
		if d.Missing && d.Track >= 0 && c.TiedAt(d.Track) {
			continue // the missing gap is named as such
		}
		f := finding.Finding{Severity: finding.Caution, Why: "detection and power show the train in the wrong block there"}
		switch {
		case d.Missing && d.Gap >= 0:
			misplaced(c, d, &f)
		case d.Missing:
			f.Pos, f.Place = boundPos(c, d)
			f.Message = fmt.Sprintf("%s and %s are meant to part at %s, but no insulated gap is there", c.BlockName(d.Blocks[0]), c.BlockName(d.Blocks[1]), f.Place.Text)
			f.Fix = "cut both rails there, or write down one block"
		default:
			f.Pos, f.Place = c.WayPos(d.Gap), c.WayPlace(d.Gap)
			f.Message = fmt.Sprintf("the gap at %s cuts %s in two, where nothing is meant to part", f.Place.Text, c.BlockName(d.Blocks[0]))
			f.Fix = "bond both rails across this gap, or write down two blocks"
		}
		f.Numbers = append(f.Numbers, wiredLengths(c, d)...)
		f.Mends = differMends(c, d)
		c.Report(f)
	}
	for _, x := range c.T.OtherSources() {
		if !c.DiffersFromMeant(x.Block) {
			c.Report(otherSource(c, &x))
		}
	}
}

// otherSource tells of a block that hangs, as a whole, from another district's source.
func otherSource(c *rule.Case, x *districts.OtherFeed) finding.Finding {
	block := &c.L.Blocks[x.Block]
	return finding.Finding{
		Severity: finding.Caution,
		Pos:      block.Pos,
		Place:    finding.Place{Text: c.BlockName(x.Block)},
		Message:  fmt.Sprintf("%s is meant to hang from %s, and its feeders come from %s (%s)", c.BlockName(x.Block), c.SourceName(x.Meant), c.SourceName(x.Found), feedersText(c, x.Feeders)),
		Why:      "what is meant to protect this block does not, and a short in it stops another district",
		Fix:      fmt.Sprintf("hang its feeders from a bus of %s, or write the block down under the district it hangs from", c.SourceName(x.Meant)),
		Mends:    sourceMends(c, x.Feeders, x.Meant),
	}
}

// misplaced tells of a gap that stands elsewhere than the bound it should be.
func misplaced(c *rule.Case, d *districts.Difference, f *finding.Finding) {
	f.Pos, f.Place = c.WayPos(d.Gap), c.WayPlace(d.Gap)
	bound := c.TrackPlace(d.Track, d.At)
	away := c.C.Spots[c.C.Ways[d.Gap].A].At - d.At
	if away < 0 {
		away = -away
	}
	f.Message = fmt.Sprintf("the gap at %s is %s away from %s, where %s and %s are meant to part", f.Place.Text, rule.Length("", away).Text, bound.Text, c.BlockName(d.Blocks[0]), c.BlockName(d.Blocks[1]))
	f.Fix = fmt.Sprintf("cut both rails at %s and bond the rails across the gap at %s, or write down the blocks as they are", bound.Text, f.Place.Text)
	f.Numbers = append(f.Numbers, rule.Length("gap to meant bound", away))
}

// boundPos is where a bound as meant is typed.
func boundPos(c *rule.Case, d *districts.Difference) (source.Pos, finding.Place) {
	pos := c.L.Blocks[d.Blocks[0]].Pos
	if d.Track < 0 {
		return pos, finding.Place{Text: c.BlockName(d.Blocks[0])}
	}
	for _, b := range d.Blocks {
		for _, s := range c.L.Blocks[b].Covers {
			if s.Piece >= 0 && c.L.Pieces[s.Piece].Kind == layout.TrackPiece && c.L.Pieces[s.Piece].Index == d.Track && s.Pos.IsValid() {
				return s.Pos, c.TrackPlace(d.Track, d.At)
			}
		}
	}
	return pos, c.TrackPlace(d.Track, d.At)
}

// wiredLengths says how long the blocks concerned are as wired, and the longest train.
func wiredLengths(c *rule.Case, d *districts.Difference) []finding.Number {
	var out []finding.Number
	for _, b := range d.Blocks {
		zone := c.T.ZoneOf(b)
		if zone < 0 || (len(out) > 0 && d.Blocks[0] == d.Blocks[1]) {
			continue
		}
		n := rule.Length(c.BlockName(b)+" as wired", c.T.Zones.List[zone].Length)
		if name, m, ok := c.LongestTrainIn(b); ok && m > n.SI && c.L.Blocks[b].Use == layout.UseMain {
			n.Limit, n.Source = "at least "+rule.Length("", m).Text+" (train "+name+")", rule.CommonPractice
		}
		out = append(out, n)
	}
	return out
}
