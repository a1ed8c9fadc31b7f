package reports

import (
	"fmt"
	"slices"
	"strings"

	"gapwise/netlist/circuit"

	"gapwise/districts"
	"gapwise/rules/rule"
)

// wheelVerdicts and closingVerdicts are the names of effects in JSON, by what meets.
var (
	wheelVerdicts = map[districts.GapMeeting]string{
		districts.MeetsUnseen: "passes-detector", districts.MeetsDistrict: "joins-districts", districts.MeetsBooster: "joins-boosters",
		districts.MeetsReverser: "reverser-acts", districts.MeetsByHand: "reverser-by-hand", districts.MeetsUnknown: "joins-unknown-phase",
		districts.MeetsShort: "dead-short",
	}
	closingVerdicts = map[districts.GapMeeting]string{
		districts.MeetsDead: "feeds-dead-rail", districts.MeetsUnseen: "unseen-train", districts.MeetsDistrict: "ties-districts",
		districts.MeetsBooster: "ties-boosters", districts.MeetsReverser: "closes-reversing-loop", districts.MeetsByHand: "closes-reversing-loop",
		districts.MeetsUnknown: "ties-unknown-phase", districts.MeetsShort: "dead-short",
	}
)

// newEffect makes an effect; with is how its settings are put behind its text.
func newEffect(c *rule.Case, j *districts.GapJoin, verdict, text, with string) GapEffect {
	e := GapEffect{Verdict: verdict, Between: []string{}, Settings: some(c.Settings(j.Settings)), Standing: j.Standing, Frog: j.Frog, Text: text}
	x, y := meetingNames(c, j)
	e.Between = []string{x}
	if x != y && j.Meets != districts.MeetsDead {
		e.Between = append(e.Between, y)
	}
	if len(e.Settings) > 0 {
		e.Text += fmt.Sprintf(with, strings.Join(e.Settings, ", "))
	}
	return e
}

// meetingNames names the two sources that meet, or the two detectors.
func meetingNames(c *rule.Case, j *districts.GapJoin) (x, y string) {
	if j.Meets == districts.MeetsUnseen {
		return c.DetectorName(j.Classes[0]), c.DetectorName(j.Classes[1])
	}
	return c.SourceName(j.Classes[0]), c.SourceName(j.Classes[1])
}

// closingEffect says what comes of the rails creeping together.
func closingEffect(c *rule.Case, j *districts.GapJoin) GapEffect {
	x, y := meetingNames(c, j)
	var text string
	switch j.Meets {
	case districts.MeetsDead:
		text = "feeds a dead rail from " + x
	case districts.MeetsUnseen:
		text = "unseen train: " + pastWatcher(c, j)
	case districts.MeetsDistrict:
		text = "ties " + x + " to " + y
	case districts.MeetsBooster:
		text = "ties " + x + " to " + y + ", which are in phase"
	case districts.MeetsReverser, districts.MeetsByHand:
		text = "closes the reversing loop: ties " + x + " to " + y
	case districts.MeetsUnknown:
		text = "ties " + x + " to " + y + ", which nothing keeps in phase"
	default:
		text = shortText(x, y)
		if j.Frog {
			text += ", under wheels on a frog"
		}
	}
	return newEffect(c, j, closingVerdicts[j.Meets], text, " (with %s)")
}

// wheelEffect says what a wheel that bridges the gap does.
func wheelEffect(c *rule.Case, j *districts.GapJoin) GapEffect {
	x, y := meetingNames(c, j)
	var text string
	switch j.Meets {
	case districts.MeetsUnseen:
		text = pastWatcher(c, j) + " for a moment"
	case districts.MeetsDistrict:
		text = "joins " + x + " and " + y + " for a moment"
	case districts.MeetsBooster:
		text = "joins " + x + " and " + y + " for a moment, in phase"
	case districts.MeetsReverser:
		text = reversingSource(c, j) + " may have to change over"
	case districts.MeetsByHand:
		text = "dead short unless " + reversingSource(c, j) + " is thrown right"
	case districts.MeetsUnknown:
		text = "joins " + x + " and " + y + ", which nothing keeps in phase"
	default:
		text = shortText(x, y)
		if j.Standing {
			text = "short"
		}
	}
	with := " (with %s)"
	if j.Standing {
		text += " if wheels stand here"
		with = " with %s"
	}
	return newEffect(c, j, wheelVerdicts[j.Meets], text, with)
}

func shortText(x, y string) string {
	if x == y {
		return "dead short: both legs of " + x
	}
	return "dead short: opposite legs of " + x + " and " + y
}

// pastWatcher says how current gets round a detector.
func pastWatcher(c *rule.Case, j *districts.GapJoin) string {
	x, y := max(j.Classes[0], j.Classes[1]), min(j.Classes[0], j.Classes[1])
	if y < 0 {
		return "current goes past " + c.DetectorName(x)
	}
	return "current divides between " + c.DetectorName(y) + " and " + c.DetectorName(x)
}

// reversingSource names the one of two sources that turns its phase.
func reversingSource(c *rule.Case, j *districts.GapJoin) string {
	for _, s := range j.Classes {
		if r := reverserAbove(c, s); r >= 0 {
			return c.SourceName(r)
		}
	}
	return c.SourceName(j.Classes[0])
}

// reverserAbove is what turns the phase that a source hangs on, a reverser, a booster that
// reverses itself or a changeover; -1 for none.
func reverserAbove(c *rule.Case, s int32) int32 {
	for range c.C.Sources {
		if s < 0 {
			return -1
		}
		if x := &c.C.Sources[s]; x.Free {
			if x.Kind == circuit.ReverserSource || x.Kind == circuit.BoosterSource || x.Kind == circuit.ChangeoverSource {
				return s
			}
			return -1
		}
		s = c.C.Sources[s].Parent
	}
	return -1
}

// newGapParts says what a gap keeps apart.
func newGapParts(c *rule.Case, f *districts.GapFact) GapParts {
	p := GapParts{Districts: noLists(), Blocks: noLists(), Detectors: noLists()}
	if f.Way < 0 {
		p.Text = "nothing: no rail meets it"
		return p
	}
	var texts []string
	a, b := &f.Sides[0], &f.Sides[1]
	if !slices.Equal(a.Sources, b.Sources) {
		for i, side := range [2]*districts.GapSide{a, b} {
			for _, s := range side.Sources {
				p.Districts[i] = append(p.Districts[i], c.SourceName(s))
			}
		}
		p.Reversing = partedReverser(c, a.Sources, b.Sources)
		near, far := orWord(p.Districts[0], "dead rail"), orWord(p.Districts[1], "dead rail")
		if p.Reversing != "" {
			texts = append(texts, "a reversing section:")
		}
		texts = append(texts, near+" from "+far)
	}
	if f.Parted && (len(a.Blocks) > 0 || len(b.Blocks) > 0) {
		for i, side := range [2]*districts.GapSide{a, b} {
			for _, k := range side.Blocks {
				p.Blocks[i] = append(p.Blocks[i], c.L.Blocks[k].Name)
			}
		}
		if slices.Equal(a.Blocks, b.Blocks) {
			texts = append(texts, blockWords(p.Blocks[0])+" in two")
		} else {
			texts = append(texts, blockWords(p.Blocks[0])+" from "+blockWords(p.Blocks[1]))
		}
	}
	if x, y := watchers(a), watchers(b); !slices.Equal(x, y) {
		for i, list := range [2][]int32{x, y} {
			for _, d := range list {
				p.Detectors[i] = append(p.Detectors[i], c.L.Detectors[d].Name)
			}
		}
		texts = append(texts, watcherWords(p.Detectors[0])+" from "+watcherWords(p.Detectors[1]))
	}
	p.Text = strings.Join(texts, ", ")
	p.Text = strings.ReplaceAll(p.Text, "section:,", "section:")
	if p.Text == "" {
		p.Text = partedLegs(c, f)
	}
	return p
}

// partedLegs says what a gap keeps apart inside one district and one block.
func partedLegs(c *rule.Case, f *districts.GapFact) string {
	if gravest(f) != districts.MeetsShort {
		return "nothing: one district, one block"
	}
	j := &f.Joins[0]
	if len(j.Settings) == 0 {
		return "the two legs of " + c.SourceName(j.Classes[0])
	}
	return "rail switched by " + c.C.Devices[j.Settings[0].Device].Name + " from fixed rail"
}

func noLists() [2][]string { return [2][]string{{}, {}} }

// partedReverser names the reverser whose section lies on one side of a gap and not on the other.
func partedReverser(c *rule.Case, a, b []int32) string {
	if len(a) == 0 || len(b) == 0 {
		return ""
	}
	for _, side := range [2][2][]int32{{a, b}, {b, a}} {
		for _, s := range side[0] {
			r := reverserAbove(c, s)
			if r >= 0 && !slices.ContainsFunc(side[1], func(o int32) bool { return reverserAbove(c, o) == r }) {
				return c.SourceName(r)
			}
		}
	}
	return ""
}

// watchers are the detectors of a side, without the current that passes none.
func watchers(s *districts.GapSide) []int32 {
	return slices.DeleteFunc(slices.Clone(s.Detectors), func(d int32) bool { return d < 0 })
}

func blockWords(names []string) string {
	if len(names) == 0 {
		return "track of no block"
	}
	return "block " + strings.Join(names, ", ")
}

func watcherWords(names []string) string {
	if len(names) == 0 {
		return "no detector"
	}
	return "detector " + strings.Join(names, ", ")
}

// gapAdvice says what to do about a gap's filling.
func gapAdvice(g *Gap) string {
	switch filled(g) {
	case 0:
		return "not filled: glue a piece of 0.040 in (1 mm) styrene into it"
	case 1:
		return "the layout does not say whether it is filled: look, and fill it if not"
	case 2:
		return "filled with " + g.Fill
	default:
		if g.Joint == cutWord {
			return "an expansion gap has to stay open: see on hot, dry and on cold, damp days that it does"
		}
		return "an expansion gap whose rails are joined anyhow"
	}
}
